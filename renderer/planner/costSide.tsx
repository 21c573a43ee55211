import { memo } from 'react'
import { fromTakes } from '../../main/trade/paceFrom.ts'
import { finishes } from '../../main/trade/product.ts'
import type { QuoteBasis } from '../../main/trade/quote.ts'
import words from '../look/words.module.css'
import { secondPersonText } from '../parts/benchPeople.tsx'
import { FieldLine } from '../parts/form.tsx'
import { countText, dayText, durationText, moneyText, numberText, secondsText } from '../parts/format.ts'
import { MedianBar } from '../parts/medianBar.tsx'
import { Fact, Part, Sheet } from '../parts/page.tsx'
import { type CostView, learnedStep, type PlannerBasis } from './costView.ts'
import css from './planner.module.css'
import { Choosing, Ticking, Typing, useText } from './plannerFields.tsx'

const minutes = (ms: number) => durationText(ms / 60_000)

/** What it takes and costs, always in sight beside the plan. */
export const CostSide = memo(function CostSide(props: {
  readonly cost: CostView | undefined
  readonly studio: PlannerBasis
}) {
  const { cost, studio } = props
  const { basis } = studio
  const isJob = studio.taxRateId !== null
  const step = learnedStep({ rig: useText('rig') }, studio)
  return (
    <aside className={css.side} aria-label="What it takes and costs">
      <Part title="What it takes">
        {cost && cost.spins > 0 ? (
          <Time cost={cost} />
        ) : (
          <p className={css.note}>
            {isJob ? 'The job has no spins yet: add its products under Spins.' : 'Enter how many spins.'}
          </p>
        )}
        <FieldLine>
          {isJob ? null : <Typing name="spins" label="Spins like this" />}
          <Typing
            name="stepSeconds"
            label="Seconds a step"
            unit="s"
            placeholder={numberText(step.stepMs / 1000, 1)}
          />
        </FieldLine>
        <p className={css.note}>{stepText(step)}</p>
        <Choosing
          name="people"
          label="People at the bench"
          wide
          options={[
            { value: '1', label: 'one person' },
            { value: '2', label: 'with a second person' },
          ]}
        />
        {cost && cost.people === 2 && cost.spins > 0 ? (
          <p className={css.note}>
            {secondPersonText(cost.figures.bench.medianMs, cost.figures.work.medianMs)}
          </p>
        ) : null}
      </Part>
      <Part title="What it costs">
        {cost && cost.spins > 0 ? <Money cost={cost} /> : null}
        {isJob ? null : <Wanted basis={basis} sizeClass={cost?.sizeClass} />}
      </Part>
    </aside>
  )
})

function Time({ cost }: { readonly cost: CostView }) {
  const { bench, desk, framesShot } = cost.figures
  return (
    <>
      <div className={css.bar}>
        <p>
          <strong className={css.total}>{minutes(bench.medianMs)}</strong>
          {` at the bench, four times in five under ${minutes(bench.p80Ms)}`}
        </p>
        <MedianBar
          label="Bench time"
          median={bench.medianMs}
          high={bench.p80Ms}
          scaleTo={bench.p80Ms * 1.1}
          say={minutes}
        />
      </div>
      <Sheet figures>
        <Fact label={`Frames for ${countText(cost.spins, 'spin')}`}>{numberText(framesShot, 0)}</Fact>
        <Fact label="Bench, on average">{minutes(bench.meanMs)}</Fact>
        <Fact label="Turning alone">{minutes(framesShot * cost.stepMs)}</Fact>
        <Fact label="Desk">{minutes(desk.totalMs)}</Fact>
      </Sheet>
    </>
  )
}

function stepText({ stepMs, from }: ReturnType<typeof learnedStep>): string {
  return `Left empty, a step takes ${secondsText(stepMs / 1000)}: ${fromTakes(from, (day) => dayText(day))}.`
}

/** What is wanted of each spin, where no job says it. */
function Wanted({
  basis,
  sizeClass,
}: {
  readonly basis: QuoteBasis
  readonly sizeClass: string | undefined
}) {
  const setFrames = useText('set')
  return (
    <>
      <FieldLine>
        <Choosing
          name="finish"
          label="Surface"
          options={finishes.map((value) => ({ value, label: value }))}
        />
        {basis.finishClasses.length > 0 ? (
          <Choosing
            name="finishClass"
            label="Finishing"
            empty="none"
            options={basis.finishClasses.map(({ id, name }) => ({ value: String(id), label: name }))}
          />
        ) : null}
      </FieldLine>
      <Ticking name="loop" label="A loop of the whole turn" />
      <Ticking name="setToo" label={`A set of ${setFrames} frames`} />
      {sizeClass ? <p className={css.note}>{`By its size the product counts as ${sizeClass}.`}</p> : null}
    </>
  )
}

function Money({ cost }: { readonly cost: CostView }) {
  const { figures, currency } = cost
  const money = (minor: number) => moneyText(minor, currency)
  const own = figures.cost
  return (
    <>
      <Sheet figures>
        <Fact label="Price before tax">
          <strong className={css.total}>{money(figures.netMinor)}</strong>
        </Fact>
        <Fact label="With tax">{money(figures.totalMinor)}</Fact>
        {own && own.medianMinor > 0 ? (
          <>
            <Fact label="Cost, median">{money(own.medianMinor)}</Fact>
            <Fact label="Floor: cost at 80 %">{money(own.p80Minor)}</Fact>
            <Fact label="Margin at 80 %">{money(own.marginP80Minor)}</Fact>
          </>
        ) : null}
      </Sheet>
      {own && own.medianMinor > 0 && figures.netMinor < own.p80Minor ? (
        <p className={words.late} role="status">
          {`The price is ${money(own.p80Minor - figures.netMinor)} under the floor.`}
        </p>
      ) : null}
      {own && own.medianMinor === 0 ? (
        <p className={css.note}>No cost is known: the hourly rates under Studio are 0.</p>
      ) : null}
      {figures.notices.length > 0 ? (
        <ul className={css.notices}>
          {figures.notices.map((notice) => (
            <li key={notice}>{notice}</li>
          ))}
        </ul>
      ) : null}
    </>
  )
}
