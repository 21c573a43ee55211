import { memo, useMemo } from 'react'
import { formatDecimal } from '../../main/trade/decimal.ts'
import { Button } from '../parts/button.tsx'
import { FieldLine } from '../parts/form.tsx'
import { countText, durationText, moneyText, numberText } from '../parts/format.ts'
import { Part } from '../parts/page.tsx'
import { Ring } from '../parts/ring.tsx'
import { type Column, Table } from '../parts/table.tsx'
import { degreesText, pxText } from './figures.ts'
import type { Plan } from './plan.ts'
import css from './planner.module.css'
import { Choosing, Typing, usePlannerHand, useText } from './plannerFields.tsx'
import { RigChoice } from './rigChoice.tsx'
import { pxOfDegrees } from './smoothView.ts'
import { Standing } from './standing.tsx'
import { evennessText, type TurnView, tenthUm } from './turnView.ts'

type Choice = TurnView['choices'][number]

const steps = [
  { value: 'mm', label: 'mm' },
  { value: 'divisions', label: 'divisions' },
  { value: 'degrees', label: 'degrees' },
  { value: 'frames', label: 'frames a turn' },
] as const

/** Rim, step and what follows from them: how the turn closes, what closes better, what is shot past it. */
export function TurnPart({ plan, isStanding }: { readonly plan: Plan; readonly isStanding: boolean }) {
  const { turn, cost } = plan
  return (
    <Part title="The turn">
      <div className={css.turn}>
        <div className={css.ring}>
          <Ring
            size={228}
            framesPerTurn={turn.frames}
            tape={turn.drawn}
            overlap={Math.min(turn.overlap, turn.frames)}
            centre={{ figure: String(turn.frames), word: 'frames a turn' }}
            label="The planned turn"
          />
        </div>
        <div className={css.stack}>
          <RimFields />
          <p role="status">{turn.sentence}</p>
          <p className={css.note}>{formsText(turn)}</p>
          <Standing when={isStanding} />
        </div>
      </div>
      <ClosingChoices turn={turn} stepMs={cost?.stepMs ?? 0} />
      <Overlap turn={turn} cost={cost} />
      <Sets sets={plan.sets} smooth={plan.smooth} frames={turn.frames} />
    </Part>
  )
}

const RimFields = memo(function RimFields() {
  const rimBy = useText('rimBy')
  const stepIn = useText('stepIn')
  return (
    <>
      <FieldLine>
        <RigChoice />
      </FieldLine>
      <FieldLine>
        <Choosing
          name="rimBy"
          label="The rim from"
          options={[
            { value: 'reading', label: 'its tape' },
            { value: 'diameter', label: 'a diameter' },
            { value: 'diameter and tape', label: 'both' },
          ]}
        />
        <Typing name="rim" label={rimBy === 'reading' ? 'Rim, as its tape reads' : 'Diameter'} unit="mm" />
        {rimBy === 'diameter and tape' ? (
          <Typing name="tape" label="Thickness of the tape" unit="mm" />
        ) : null}
        <Typing name="division" label="Smallest division" unit="mm" />
      </FieldLine>
      <FieldLine>
        <Choosing name="stepIn" label="The step in" options={steps} />
        <Typing
          name="step"
          label={stepIn === 'frames' ? 'Frames a turn' : 'Step'}
          {...(stepIn === 'frames' ? {} : { unit: unitOfStep(stepIn) })}
        />
        <Typing name="rows" label="Rows" />
      </FieldLine>
    </>
  )
})

function unitOfStep(stepIn: string): string {
  if (stepIn === 'divisions') return 'div.'
  return stepIn === 'degrees' ? '°' : 'mm'
}

/** The step in all its forms, on one line. */
function formsText({ forms, rimUm10 }: TurnView): string {
  return [
    `Rim ${tenthUm(rimUm10)} mm`,
    `step ${tenthUm(forms.stepUm10)} mm`,
    `${formatDecimal(Math.round(forms.divisions * 100), 2)} divisions`,
    degreesText(forms.degrees),
    `${formatDecimal(Math.round(forms.framesPerTurn * 100), 2)} to the turn`,
  ].join(' · ')
}

/** Numbers of frames near the wish, the most even first; a press takes one. */
const ClosingChoices = memo(function ClosingChoices({
  turn,
  stepMs,
}: Pick<Plan, 'turn'> & { readonly stepMs: number }) {
  const { patch } = usePlannerHand()
  const isByFrames = useText('stepIn') === 'frames'
  const columns = useMemo<readonly Column<Choice>[]>(
    () => [
      {
        key: 'frames',
        head: 'Frames a turn',
        tight: true,
        cell: (choice) => (
          <Button
            kind="quiet"
            aria-pressed={isByFrames && choice.frames === turn.frames}
            onClick={() => patch({ stepIn: 'frames', step: String(choice.frames) })}
          >
            {`${choice.frames} frames`}
          </Button>
        ),
      },
      { key: 'step', head: 'Step', figure: true, cell: (choice) => `${tenthUm(choice.stepUm10)} mm` },
      { key: 'marks', head: 'Steps on this tape', cell: evennessText },
      {
        key: 'jump',
        head: 'Worst jump',
        figure: true,
        cell: (choice) =>
          choice.jumpPart === 0 ? 'none' : `${numberText(choice.jumpPart * 100, 0)} % of a step`,
      },
      {
        key: 'sets',
        head: 'Even sets',
        cell: (choice) => (choice.evenSets.length === 0 ? 'none' : choice.evenSets.join(' ')),
      },
      {
        key: 'time',
        head: 'Turning a spin',
        figure: true,
        cell: (choice) => durationText(((choice.frames + turn.overlap) * turn.rows * stepMs) / 60_000),
      },
    ],
    [patch, isByFrames, turn, stepMs],
  )
  if (turn.choices.length === 0) {
    return (
      <p className={css.note}>The tape cannot be read as finely as this step. Print a rim strip for it.</p>
    )
  }
  return (
    <div className={css.stack}>
      <h3>Turns that close, the most even first</h3>
      <div className={css.choices}>
        <Table
          caption="Turns that close on this rim"
          columns={columns}
          rows={turn.choices}
          keyOf={(choice) => choice.frames}
          empty={null}
        />
      </div>
      <p className={css.note}>
        A rim strip printed for the turn closes with any number of frames, every step alike: see Prints.
      </p>
    </div>
  )
})

const Overlap = memo(function Overlap({ turn, cost }: Pick<Plan, 'turn' | 'cost'>) {
  const { patch } = usePlannerHand()
  const third = turn.thirdOfTurn
  const isMore = third > turn.overlap
  const price =
    cost && isMore
      ? `, ${durationText(cost.thirdMs / 60_000)} more turning${cost.spins > 1 ? ` for all ${countText(cost.spins, 'spin')}` : ''}${cost.thirdMinor ? ` at a cost of ${moneyText(cost.thirdMinor, cost.currency)}` : ''}`
      : ''
  return (
    <div className={css.stack}>
      <h3>Past the full turn</h3>
      <FieldLine>
        <Typing name="overlap" label="Overlap" unit="frames" />
      </FieldLine>
      <p>
        {`${turn.framesToShoot} frames to shoot: ${turn.rows === 1 ? '' : `${turn.rows} rows of `}${turn.frames} and ${turn.overlap} past the turn. Where the marks close, one to three closing frames cover a slip.`}
      </p>
      {third > 0 ? (
        <p className={css.said}>
          <Button kind="quiet" disabled={!isMore} onClick={() => patch({ overlap: String(third) })}>
            {`Overlap a third of the turn: ${third} frames`}
          </Button>
          <span className={css.note}>{isMore ? `for loops cut freely${price}` : 'is what is planned'}</span>
        </p>
      ) : null}
    </div>
  )
})

const Sets = memo(function Sets({
  sets,
  smooth,
  frames,
}: Pick<Plan, 'sets' | 'smooth'> & { readonly frames: number }) {
  const gaps =
    sets.shortestGap === sets.longestGap
      ? `every ${sets.longestGap} frames, evenly`
      : `every ${sets.shortestGap} or ${sets.longestGap} frames, spread as evenly as they can be`
  const seam = sets.isSeamEven
    ? 'and the seam is like the rest'
    : `but at the seam ${degreesText(sets.seamDeg)}, ${pxText(pxOfDegrees(smooth, sets.seamDeg))} on screen, instead of ${degreesText(sets.nthGapDeg)}, ${pxText(pxOfDegrees(smooth, sets.nthGapDeg))}`
  return (
    <div className={css.stack}>
      <h3>Frame sets out of the turn</h3>
      <p>
        {sets.even.length > 0
          ? `Sets of ${sets.even.join(', ')} come out even.`
          : 'No usual set comes out even.'}
        {sets.uneven.length > 0 ? ` ${sets.uneven.join(', ')} do not.` : ''}
      </p>
      <FieldLine>
        <Typing name="set" label="Frames of the set" />
        <Typing name="nth" label="Or one frame in" />
      </FieldLine>
      <p>{`${sets.size} of ${frames}: ${gaps}.`}</p>
      <p>{`One in ${sets.nth}: ${sets.nthCount} frames, ${degreesText(sets.nthGapDeg)} apart, ${seam}.`}</p>
    </div>
  )
})
