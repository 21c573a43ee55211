import { costMinor } from '../../main/trade/cost.ts'
import type { BenchPeople } from '../../main/trade/pace.ts'
import type { PaceFrom } from '../../main/trade/paceFrom.ts'
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
  readonly rigSteps: readonly {
    readonly rigId: number
    readonly stepFactor: number
    readonly from: PaceFrom
  }[]
  /** Null where no job is planned: then the spins are those typed. */
  readonly taxRateId: number | null
}

export interface CostView {
  readonly figures: QuoteFigures
  readonly currency: string
  readonly spins: number
  readonly sizeClass: SizeClass
  readonly stepMs: number
  readonly people: BenchPeople
  /** What an overlap of a third of a turn adds to that of the plan: turning, in ms, and its cost where rates are known. */
  readonly thirdMs: number
  readonly thirdMinor: number | null
}

/** Time, cost and price of the planned turn: of the job's own spins, or of so many like the product. */
export function costView(
  typed: Typed,
  turn: TurnView,
  product: { readonly sweptMm: number; readonly heightMm: number },
  studio: PlannerBasis,
): Outcome<CostView> {
  const { basis, sizeLimitsMm, taxRateId } = studio
  const isJob = taxRateId !== null
  const learned = learnedStep(typed, studio)
  return workedOut(
    typed,
    { overlap: 'overlap', frames: 'step', rows: 'rows', taxRateId: 'spins' },
    (reader) => ({
      count: isJob
        ? basis.spins.length
        : reader.whole('spins', 'The number of spins', { least: 1, most: 500 }),
      setFrames: reader.whole('set', 'The size of the set', {
        least: 1,
        most: Math.max(...turn.rows.map(({ frames }) => frames)),
        unit: 'frames',
      }),
      typedStepS:
        typed.stepSeconds.trim() === ''
          ? null
          : reader.number('stepSeconds', 'The time of a step', 3, { least: 0.5, most: 120, unit: 's' }),
    }),
    ({ count, setFrames, typedStepS }) => {
      const sizeClass = sizeClassOf(
        { plan: 'measured', widthMm: null, depthMm: null, ...product },
        sizeLimitsMm.smallMaxMm,
        sizeLimitsMm.mediumMaxMm,
      )
      const wanted = isJob ? basis.spins : likeSpins(typed, count, sizeClass, setFrames)
      // A step that was typed counts on every rig; else each spin's rig has its own, alone the one chosen.
      const stepMs = typedStepS === null ? learned.stepMs : Math.round(typedStepS * 1000)
      const spins =
        typedStepS === null && isJob
          ? wanted
          : wanted.map((spin) => ({ ...spin, stepFactor: typedStepS === null ? learned.factor : 1 }))
      const paceStepMs = typedStepS === null ? basis.pace.stepMs : stepMs
      const people = typed.people === '2' ? 2 : 1
      const figures = workOutQuote(
        { ...basis, spins, pace: { ...basis.pace, stepMs: paceStepMs } },
        {
          // What a row takes and costs is the same from every angle.
          rows: turn.rows.map(({ frames, overlap }) => ({
            viewAngleMdeg: 0,
            framesPerTurn: frames,
            overlapFrames: overlap,
          })),
          people,
          soldBy: 'list',
          halfDays: null,
          discountPpm: 0,
          isRush: false,
          depositPpm: 0,
          taxRateId: taxRateId ?? basis.taxRates[0]?.id ?? 0,
          byHand: null,
          fees: [],
        },
      )
      const thirdMs = Math.round(
        Math.max(0, turn.thirdOfTurn - turn.overlap) * turn.rowsOfOverlap * spins.length * stepMs,
      )
      return {
        figures,
        currency: basis.currency,
        spins: spins.length,
        sizeClass,
        stepMs,
        people,
        thirdMs,
        thirdMinor: basis.rates && costMinor(thirdMs, 0, basis.rates, 0),
      }
    },
  )
}

/** The step without anything typed: the chosen rig's where it was turned on, else the studio's. */
export function learnedStep(
  typed: Pick<Typed, 'rig'>,
  { basis, rigSteps }: Pick<PlannerBasis, 'basis' | 'rigSteps'>,
): { readonly stepMs: number; readonly factor: number; readonly from: PaceFrom } {
  const rig = rigSteps.find(({ rigId }) => String(rigId) === typed.rig)
  const factor = rig?.stepFactor ?? 1
  return { stepMs: Math.round(basis.pace.stepMs * factor), factor, from: rig?.from ?? basis.paceFrom }
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
