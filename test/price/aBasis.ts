import type { QuoteBasis, QuoteInput, QuoteSpin } from '../../main/trade/quote.ts'
import type { TurnRow } from '../../main/trade/turn/rows.ts'
import { aPace } from '../estimate/aPace.ts'

/** A finish that is bought in and one done in house, dear and cheap; invented. */
export const cutOut = { id: 1, name: 'cut-out', inHouse: true, frameMs: 30_000, frameMinorPer100: 0 }
export const boughtIn = { id: 2, name: 'dust', inHouse: false, frameMs: 0, frameMinorPer100: 4000 }

/** A spin of one small matt product that follows the job's brief: a loop and a set of 24. */
export function aQuoteSpin(differs: Partial<QuoteSpin> = {}): QuoteSpin {
  return {
    shootId: 1,
    products: [{ sizeClass: 'small', isSizeKnown: true, finish: 'matt', isFirstOfFamily: true }],
    ownRows: null,
    finishClassId: null,
    deliverables: [
      { kind: 'loop', frames: null },
      { kind: 'frame set', frames: 24 },
    ],
    ...differs,
  }
}

/** What a quote of some such spins is worked out from; no price list, 60.00 an hour at the bench, 45.00 at the desk. */
export function aBasis(differs: Partial<QuoteBasis> = {}, spins = 3): QuoteBasis {
  return {
    currency: 'EUR',
    language: 'en',
    country: 'GB',
    spins: Array.from({ length: spins }, (_, index) => aQuoteSpin({ shootId: index + 1 })),
    pace: aPace({ stepSpreadPpm: 200_000, restartPpm: 60_000, reshootPpm: 40_000, rowChangeMs: 300_000 }),
    paceFrom: { takes: 37, lastDay: '2026-05-03', rigName: null },
    setChangeMs: 1_800_000,
    finishClasses: [cutOut, boughtIn],
    rates: { benchHourMinor: 6000, deskHourMinor: 4500, secondHourMinor: 2400 },
    priceList: null,
    priceListNotice: null,
    days: { halfDayMinor: 34_000, dayMinor: 62_000, workingDayMs: 6 * 3_600_000 },
    rushPpm: 250_000,
    minimumMinor: 0,
    taxRates: [{ id: 1, name: 'VAT 20 %', category: 'S', ratePpm: 200_000, namedRates: [] }],
    plannedCostMinor: 0,
    ...differs,
  }
}

/** A row at 0°, of 244 frames and a third of them past the turn. */
export function aTurnRow(differs: Partial<TurnRow> = {}): TurnRow {
  return { viewAngleMdeg: 0, framesPerTurn: 244, overlapFrames: 82, ...differs }
}

/** So many rows alike but for their angles. */
export function alikeRows(count: number, differs: Partial<TurnRow> = {}): readonly TurnRow[] {
  return Array.from({ length: count }, (_, index) => aTurnRow({ ...differs, viewAngleMdeg: index * 4000 }))
}

export function anInput(differs: Partial<QuoteInput> = {}): QuoteInput {
  return {
    rows: [aTurnRow()],
    people: 1,
    soldBy: 'list',
    halfDays: null,
    discountPpm: 0,
    isRush: false,
    depositPpm: 0,
    taxRateId: 1,
    byHand: null,
    fees: [],
    ...differs,
  }
}
