import type { ByDays } from './dayLines.ts'
import type { BenchPeople } from './pace.ts'
import type { DeliverableKind } from './price.ts'
import type { Finish, SizeClass } from './product.ts'
import {
  byDays,
  type QuoteBasis,
  type QuoteFigures,
  type QuoteInput,
  type QuoteSpin,
  workOutQuote,
} from './quote.ts'
import { Refusal } from './refusal.ts'
import type { TurnRow } from './turn/rows.ts'

/** What a caller says of a job: how many, how large, finished how far, delivered as what. */
export interface CallAsk {
  readonly spins: number
  readonly sizeClass: SizeClass
  readonly finishClassId: number | null
  readonly kinds: readonly DeliverableKind[]
}

/** What is usually wanted: the rows, and how many frames a set or stills have. */
export interface UsualWish {
  readonly rows: readonly TurnRow[]
  readonly setFrames: number
  readonly stills: number
  readonly taxRateId: number
  readonly people: BenchPeople
}

/** An answer on the phone, before tax and in minor units: from the friendliest to the worst case of what is unknown. */
export interface CallAnswer {
  readonly low: CallCase
  readonly high: CallCase
  /** Sentences to know before saying a price. */
  readonly notices: readonly string[]
}

export interface CallCase {
  readonly netMinor: number
  readonly perSpinMinor: number
  /** The cost at the 80 % time; null where the studio's rates are in another currency. */
  readonly floorMinor: number | null
  /** Sold by bench days; null where no day has a price. */
  readonly byDays: ByDays | null
  readonly benchP80Ms: number
  /** Bench time of the longest spin, which must fit one free stretch. */
  readonly spinP80Ms: number
}

/** The most a call is worked out for; more products are a quote of their own. */
export const mostSpins = 2000

/**
 * Price and floor of a job that is known by a phone call alone. What the caller cannot say is taken both ways: low,
 * matt products of one family, so that all but the first are following ones; high, mirrors that are each a first
 * one. Refuses what is no number of spins, and a call about no deliverable.
 */
export function callAnswer(basis: QuoteBasis, ask: CallAsk, usual: UsualWish): CallAnswer {
  if (!Number.isSafeInteger(ask.spins) || ask.spins < 1 || ask.spins > mostSpins) {
    throw new Refusal(
      'bad-count',
      `${Number.isNaN(ask.spins) ? 'This' : ask.spins} is no number of products for a call. Enter a whole number from 1 to ${mostSpins}.`,
      { field: 'spins' },
    )
  }
  if (ask.kinds.length === 0) {
    throw new Refusal(
      'no-deliverable',
      'Nothing is to be delivered yet. Choose a loop, a frame set or stills.',
      {
        field: 'kinds',
      },
    )
  }
  const low = caseOf(basis, ask, usual, 'matt', true)
  const high = caseOf(basis, ask, usual, 'mirror', false)
  return { low: low.figures, high: high.figures, notices: high.notices }
}

function caseOf(basis: QuoteBasis, ask: CallAsk, usual: UsualWish, finish: Finish, isOneFamily: boolean) {
  const spin = (index: number): QuoteSpin => ({
    shootId: index + 1,
    products: [
      { sizeClass: ask.sizeClass, isSizeKnown: true, finish, isFirstOfFamily: index === 0 || !isOneFamily },
    ],
    ownRows: null,
    finishClassId: ask.finishClassId,
    deliverables: ask.kinds.map((kind) => ({ kind, frames: framesOf(kind, usual) })),
  })
  const spins = Array.from({ length: ask.spins }, (_, index) => spin(index))
  const figures = workOutQuote({ ...basis, spins }, inputOf(usual))
  const { bench } = workOutQuote({ ...basis, spins: [spin(0)] }, inputOf(usual))
  const sold = byDays({ ...basis, spins }, inputOf(usual))
  return {
    figures: { ...caseFigures(figures, ask.spins, bench.p80Ms), byDays: sold },
    notices: figures.notices,
  }
}

function caseFigures(figures: QuoteFigures, spins: number, spinP80Ms: number): Omit<CallCase, 'byDays'> {
  return {
    netMinor: figures.netMinor,
    perSpinMinor: Math.round(figures.netMinor / spins),
    floorMinor: figures.cost?.p80Minor ?? null,
    benchP80Ms: figures.bench.p80Ms,
    spinP80Ms,
  }
}

function framesOf(kind: DeliverableKind, usual: UsualWish): number | null {
  if (kind === 'loop') return null
  return kind === 'frame set' ? usual.setFrames : usual.stills
}

function inputOf(usual: UsualWish): QuoteInput {
  return {
    rows: usual.rows,
    people: usual.people,
    soldBy: 'list',
    halfDays: null,
    discountPpm: 0,
    isRush: false,
    depositPpm: 0,
    taxRateId: usual.taxRateId,
    byHand: null,
    fees: [],
  }
}
