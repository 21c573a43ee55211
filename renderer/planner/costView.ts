import { costMinor } from '../../main/trade/cost.ts'
import type { DeliverableKind } from '../../main/trade/price.ts'
import { type Finish, finishes, type SizeClass, sizeClassOf } from '../../main/trade/product.ts'
import { type QuoteBasis, type QuoteFigures, type QuoteSpin, workOutQuote } from '../../main/trade/quote.ts'
import { type Outcome, workedOut } from './reading.ts'
import type { TurnView } from './turnView.ts'
import type { Typed } from './typed.ts'

/** What the planner is told of the studio, and of the job where it plans one. */
export interface PlannerBasis {
  readonly basis: QuoteBasis
  readonly sizeLimitsMm: { readonly smallMaxMm: number; readonly mediumMaxMm: number }
  /** Null where no job is planned: then the spins are those typed. */
  readonly taxRateId: number | null
}

export interface CostView {
  readonly figures: QuoteFigures
  readonly currency: string
  readonly spins: number
  readonly sizeClass: SizeClass
  readonly stepMs: number
  /** What an overlap of a third of a turn adds to that of the plan: turning, in ms, and its cost where rates are known. */
  readonly thirdMs: number
  readonly thirdMinor: number | null
}

/** Time, cost and price of the planned turn: of the job's own spins, or of so many like the product. */
export function costView(
  typed: Typed,
  turn: TurnView,
  product: { readonly sweptMm: number; readonly heightMm: number },
  { basis, sizeLimitsMm, taxRateId }: PlannerBasis,
): Outcome<CostView> {
  const isJob = taxRateId !== null
  return workedOut(
    typed,
    { overlap: 'overlap', frames: 'step', rows: 'rows', taxRateId: 'spins' },
    (reader) => ({
      count: isJob
        ? basis.spins.length
        : reader.whole('spins', 'The number of spins', { least: 1, most: 500 }),
      setFrames: reader.whole('set', 'The size of the set', { least: 1, most: turn.frames, unit: 'frames' }),
      stepMs: stepMsOf(typed, basis.pace.stepMs, (key, what, bounds) => reader.number(key, what, 3, bounds)),
    }),
    ({ count, setFrames, stepMs }) => {
      const sizeClass = sizeClassOf(
        { plan: 'measured', widthMm: null, depthMm: null, ...product },
        sizeLimitsMm.smallMaxMm,
        sizeLimitsMm.mediumMaxMm,
      )
      const spins = isJob ? basis.spins : likeSpins(typed, count, sizeClass, setFrames)
      const figures = workOutQuote(
        { ...basis, spins, pace: { ...basis.pace, stepMs } },
        {
          framesPerTurn: turn.frames,
          overlapFrames: turn.overlap,
          rows: turn.rows,
          discountPpm: 0,
          isRush: false,
          depositPpm: 0,
          taxRateId: taxRateId ?? basis.taxRates[0]?.id ?? 0,
          byHand: null,
          fees: [],
        },
      )
      const thirdMs = Math.round(
        Math.max(0, turn.thirdOfTurn - turn.overlap) * turn.rows * spins.length * stepMs,
      )
      return {
        figures,
        currency: basis.currency,
        spins: spins.length,
        sizeClass,
        stepMs,
        thirdMs,
        thirdMinor: basis.rates && costMinor(thirdMs, 0, basis.rates, 0),
      }
    },
  )
}

/** The time of a step: as typed, else the studio's own with what its takes have taught. */
function stepMsOf(
  typed: Typed,
  learnedMs: number,
  read: (key: 'stepSeconds', what: string, bounds: { least: number; most: number; unit: string }) => number,
): number {
  if (typed.stepSeconds.trim() === '') return learnedMs
  return Math.round(read('stepSeconds', 'The time of a step', { least: 0.5, most: 120, unit: 's' }) * 1000)
}

/** So many spins of one family, the first of them the first of it. */
function likeSpins(
  typed: Typed,
  count: number,
  sizeClass: SizeClass,
  setFrames: number,
): readonly QuoteSpin[] {
  const deliverables: { kind: DeliverableKind; frames: number | null }[] = [
    ...(typed.loop === 'yes' ? [{ kind: 'loop' as const, frames: null }] : []),
    ...(typed.setToo === 'yes' ? [{ kind: 'frame set' as const, frames: setFrames }] : []),
  ]
  return Array.from({ length: count }, (_, index) => ({
    shootId: index + 1,
    products: [{ sizeClass, isSizeKnown: true, finish: finishOf(typed), isFirstOfFamily: index === 0 }],
    ownRows: null,
    finishClassId: Number(typed.finishClass) || null,
    deliverables,
  }))
}

/** The typed finish; one in an address that is none counts as matt. */
export function finishOf(typed: Typed): Finish {
  return finishes.find((finish) => finish === typed.finish) ?? 'matt'
}
