import { formatPercent } from '../../main/trade/money.ts'
import type { BenchPeople } from '../../main/trade/pace.ts'
import { fromTakes, type PaceFrom } from '../../main/trade/paceFrom.ts'
import type { QuoteFigures as Figures } from '../../main/trade/quote.ts'
import words from '../look/words.module.css'
import { secondPersonText } from '../parts/benchPeople.tsx'
import { dayText, durationText, moneyText, numberText, percentText } from '../parts/format.ts'
import { MedianBar } from '../parts/medianBar.tsx'
import { Fact, Part, Sheet } from '../parts/page.tsx'
import { useStudio } from '../shell/studio.ts'
import css from './quotes.module.css'

/** What the quote comes to for the client: the sums that stand on the paper. */
export function ClientSums(props: {
  readonly figures: Pick<Figures, 'netMinor' | 'taxes' | 'totalMinor' | 'depositMinor'>
  readonly depositPpm: number
  readonly currency: string
}) {
  const { figures, currency } = props
  return (
    <Part title="For the client">
      <Sheet figures>
        <Fact label="Before tax">{moneyText(figures.netMinor, currency)}</Fact>
        {figures.taxes.map((tax) => (
          <Fact key={`${tax.category} ${tax.ratePpm} ${tax.name}`} label={taxLabel(tax)}>
            {moneyText(tax.taxMinor, currency)}
          </Fact>
        ))}
        <Fact label="Total">
          <strong className={css.total}>{moneyText(figures.totalMinor, currency)}</strong>
        </Fact>
        {props.depositPpm > 0 ? (
          <Fact label={`Deposit, ${formatPercent(props.depositPpm)}`}>
            {moneyText(figures.depositMinor, currency)}
          </Fact>
        ) : null}
      </Sheet>
    </Part>
  )
}

function taxLabel({ name, category, ratePpm, isNamedPart }: Figures['taxes'][number]): string {
  if (isNamedPart) return `${name} ${formatPercent(ratePpm)}`
  return category === 'S' ? name : `${name} (${category})`
}

/** Hours, cost and margin, as they are worked out now or as they were when the quote was sent. */
export interface OwnFigures {
  readonly people: BenchPeople
  /** The time of people at the bench. */
  readonly workMedianMs: number
  readonly benchMeanMs: number
  readonly benchMedianMs: number
  readonly benchP80Ms: number
  readonly deskMs: number
  readonly stepMs: number
  readonly stepFromTakes: number
  /** What its times rest on; a sent quote keeps only how many takes it was. */
  readonly paceFrom?: PaceFrom
  readonly netMinor: number
  readonly cost: {
    readonly medianMinor: number
    readonly p80Minor: number
    /** What the price pays an hour; a sent quote keeps only its cost. */
    readonly breakEvenMedianMinor?: number | null
    readonly breakEvenP80Minor?: number | null
  } | null
}

const minutes = (ms: number) => durationText(ms / 60_000)

/** The studio's own side of a quote; none of it is ever on the paper. */
export function StudioSide(props: {
  readonly own: OwnFigures
  readonly currency: string
  readonly framesShot?: number
}) {
  const { own, currency } = props
  const { today } = useStudio()
  if (own.benchMeanMs === 0) {
    return (
      <Part title="For the studio alone">
        <p className={css.note}>Time, cost and margin follow from the job’s spins; it has none yet.</p>
      </Part>
    )
  }
  return (
    <Part title="For the studio alone">
      <div className={css.bar}>
        <p>
          {`At the bench ${minutes(own.benchMedianMs)}, four times in five under ${minutes(own.benchP80Ms)}`}
        </p>
        <MedianBar
          label="Bench time"
          median={own.benchMedianMs}
          high={own.benchP80Ms}
          scaleTo={own.benchP80Ms * 1.1}
          say={minutes}
        />
      </div>
      <Sheet figures>
        <Fact label="Bench, on average">{minutes(own.benchMeanMs)}</Fact>
        <Fact label="Desk">{minutes(own.deskMs)}</Fact>
        {props.framesShot === undefined ? null : (
          <Fact label="Frames to shoot">{numberText(props.framesShot)}</Fact>
        )}
        <Fact label="A step">{`${numberText(own.stepMs / 1000)} s`}</Fact>
      </Sheet>
      {own.people === 2 ? (
        <p className={css.note}>{secondPersonText(own.benchMedianMs, own.workMedianMs)}</p>
      ) : null}
      <p className={css.note}>
        {`Times: ${fromTakes(own.paceFrom ?? { takes: own.stepFromTakes, lastDay: null, rigName: null }, (day) => dayText(day, today))}.`}
      </p>
      <Costs own={own} currency={currency} />
    </Part>
  )
}

function Costs({ own, currency }: { readonly own: OwnFigures; readonly currency: string }) {
  if (!own.cost) {
    return (
      <p className={css.note}>
        The studio’s hourly rates are in another currency than this job, so cost and margin are not stated.
      </p>
    )
  }
  const { medianMinor, p80Minor, breakEvenMedianMinor, breakEvenP80Minor } = own.cost
  if (medianMinor === 0) {
    return (
      <p className={css.note}>
        No cost is known: the hourly rates under Studio are 0. Enter them to see the margin.
      </p>
    )
  }
  const isUnder = own.netMinor < p80Minor
  return (
    <>
      <Sheet figures>
        <Fact label="Cost, median">{moneyText(medianMinor, currency)}</Fact>
        <Fact label="Margin on it">{marginText(own.netMinor, medianMinor, currency)}</Fact>
        <Fact label="Floor: cost at 80 %">{moneyText(p80Minor, currency)}</Fact>
        <Fact label="Margin on it">{marginText(own.netMinor, p80Minor, currency)}</Fact>
        {breakEvenMedianMinor == null || breakEvenP80Minor == null ? null : (
          <>
            <Fact label="Breaks even at">{`${moneyText(breakEvenMedianMinor, currency)} an hour`}</Fact>
            <Fact label="At the 80 % time">{`${moneyText(breakEvenP80Minor, currency)} an hour`}</Fact>
          </>
        )}
      </Sheet>
      {isUnder ? (
        <p className={words.late} role="status">
          {`The price is ${moneyText(p80Minor - own.netMinor, currency)} under the floor.`}
        </p>
      ) : null}
    </>
  )
}

function marginText(netMinor: number, costMinor: number, currency: string): string {
  const minor = netMinor - costMinor
  return netMinor > 0
    ? `${moneyText(minor, currency)}, ${percentText(minor / netMinor)}`
    : moneyText(minor, currency)
}
