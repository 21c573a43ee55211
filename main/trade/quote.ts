import { type BillTax, billTotals, type NamedRate, type TaxCategory } from './bill.ts'
import { breakEvenHourMinor, costMinor, type HourRates, margin } from './cost.ts'
import { type ByDays, type DayPrices, dayLines, halfDaysOf } from './dayLines.ts'
import type { DeskTime } from './deskTime.ts'
import type { Estimate } from './estimate.ts'
import { shareMinor } from './money.ts'
import type { BenchPeople, Pace } from './pace.ts'
import type { PaceFrom } from './paceFrom.ts'
import type { PaperReader } from './paperFigures.ts'
import type { DeliverableKind, PriceBreak, PriceRow } from './price.ts'
import type { Finish, SizeClass } from './product.ts'
import { quoteLines } from './quoteLines.ts'
import { quoteNotices } from './quoteNotices.ts'
import { type QuoteTime, quoteTime } from './quoteTime.ts'
import { Refusal } from './refusal.ts'
import type { RowFrames } from './turn/framesToShoot.ts'
import { checkRows, type TurnRow } from './turn/rows.ts'

/** A spin as far as its time and price depend on it. */
export interface QuoteSpin {
  readonly shootId: number
  readonly products: readonly QuoteProduct[]
  /** The rows of its own brief; null where it follows the job's, whose turn the quote sets. */
  readonly ownRows: readonly RowFrames[] | null
  readonly finishClassId: number | null
  /** The step of its planned rig over the studio's, learned from takes; 1 where it is left out. */
  readonly stepFactor?: number
  readonly deliverables: readonly { readonly kind: DeliverableKind; readonly frames: number | null }[]
}

export interface QuoteProduct {
  readonly sizeClass: SizeClass
  readonly isSizeKnown: boolean
  readonly finish: Finish
  readonly isFirstOfFamily: boolean
}

export interface QuoteFinish {
  readonly id: number
  readonly name: string
  readonly inHouse: boolean
  readonly frameMs: number
  readonly frameMinorPer100: number
}

/** Tax on a quote, named as the studio names its rate. */
export interface QuoteTax extends BillTax {
  /** True of one part of a sales tax of several names; such a name says no rate. */
  readonly isNamedPart: boolean
}

export interface QuoteTaxRate {
  readonly id: number
  readonly name: string
  readonly category: TaxCategory
  readonly ratePpm: number
  readonly namedRates: readonly NamedRate[]
}

/** Everything a quote is worked out from that the person does not type into it: plain values, sent to the page. */
export interface QuoteBasis extends PaperReader {
  readonly currency: string
  readonly spins: readonly QuoteSpin[]
  /** The studio's figures, with what its takes have taught in their place. */
  readonly pace: Pace
  /** What that rests on. */
  readonly paceFrom: PaceFrom
  /** Building a set again for a reshoot. */
  readonly setChangeMs: number
  readonly finishClasses: readonly QuoteFinish[]
  /** Null where the studio's rates are in another currency than the job: then cost and margin are not stated. */
  readonly rates: HourRates | null
  readonly priceList: {
    readonly name: string
    readonly prices: readonly PriceRow[]
    readonly breaks: readonly PriceBreak[]
  } | null
  readonly priceListNotice: string | null
  /** Null where the studio's day prices are in another currency than the job. */
  readonly days: DayPrices | null
  readonly rushPpm: number
  readonly minimumMinor: number
  readonly taxRates: readonly QuoteTaxRate[]
  /** Costs already planned for the job: hires, carriers, travel. */
  readonly plannedCostMinor: number
}

export const quoteLineKinds = [
  'spins',
  'days',
  'finishing',
  'fee',
  'discount',
  'rush',
  'minimum',
  'right',
] as const
export type QuoteLineKind = (typeof quoteLineKinds)[number]
export type QuoteUnit = 'C62' | 'HUR' | 'DAY' | 'LS'

/** A line of a quote. Units by UN/ECE Recommendation 20: C62 piece, HUR hour, DAY day, LS lump sum. */
export interface QuoteLine {
  readonly kind: QuoteLineKind
  readonly text: string
  readonly quantityMilli: number
  readonly unit: QuoteUnit
  readonly priceMinor: number
  readonly baseMilli: number
  readonly taxRateId: number
  /** The spins a line prices, so that what is delivered decides what is billed. */
  readonly shootIds: readonly number[]
  /** Where the line comes from, for the studio alone; never on the client's paper. */
  readonly why: string | null
}

export type SoldBy = 'list' | 'days'

/** What the person sets. */
export interface QuoteInput {
  /** The rows of every spin that follows the job's brief, each with its own frames. */
  readonly rows: readonly TurnRow[]
  readonly people: BenchPeople
  /** What worked-out lines are priced by: spins from the price list, or half and whole days at the bench. */
  readonly soldBy: SoldBy
  /** Half days as the person set them; null while they follow from the 80 % bench time. */
  readonly halfDays: number | null
  readonly discountPpm: number
  readonly isRush: boolean
  readonly depositPpm: number
  readonly taxRateId: number
  /** All lines as typed by hand; null while they are worked out. */
  readonly byHand: readonly QuoteLine[] | null
  /** Fees and rights added to worked-out lines. */
  readonly fees: readonly QuoteLine[]
}

export interface QuotedLine extends QuoteLine {
  readonly netMinor: number
}

export interface QuoteFigures {
  readonly lines: readonly QuotedLine[]
  readonly netMinor: number
  readonly taxes: readonly QuoteTax[]
  readonly taxMinor: number
  readonly totalMinor: number
  readonly depositMinor: number
  readonly bench: Estimate
  /** The time of people at the bench: the same with one, the sum of what both do with two. */
  readonly work: Estimate
  readonly desk: DeskTime
  /** Frames over all spins, overlap included, check frames not. */
  readonly framesShot: number
  readonly cost: QuoteCost | null
  /** What the person should know before sending: sentences. */
  readonly notices: readonly string[]
}

export interface QuoteCost {
  readonly boughtMinor: number
  readonly medianMinor: number
  /** The floor: under this price the 80 % time is not covered. */
  readonly p80Minor: number
  readonly marginMedianMinor: number
  readonly marginMedianPpm: number | null
  readonly marginP80Minor: number
  readonly marginP80Ppm: number | null
  /** The hourly rate at which the price just pays for the median time, and for the 80 % time. */
  readonly breakEvenMedianMinor: number | null
  readonly breakEvenP80Minor: number | null
}

/**
 * All figures of a quote, worked out in one go from what is known of the job and what the person set: the same
 * function in the page while one types and in the studio when it is kept. Money in minor units.
 * Refuses what cannot be a quote: a tax rate the studio lacks, impossible rows, a line under 0.
 */
export function workOutQuote(basis: QuoteBasis, input: QuoteInput): QuoteFigures {
  checkRows(input.rows)
  const time = quoteTime(basis, input)
  const lines = input.byHand ?? workedOutLines(basis, input, time)
  const totals = quoteTotals(lines, basis.taxRates)
  return {
    ...totals,
    depositMinor: shareMinor(totals.totalMinor, input.depositPpm),
    bench: time.bench,
    work: time.work,
    desk: time.desk,
    framesShot: time.framesShot,
    cost:
      basis.rates && quoteCost(totals.netMinor, time, time.boughtMinor + basis.plannedCostMinor, basis.rates),
    notices: quoteNotices(basis, input, time.bench.p80Ms),
  }
}

/** The same quote sold by as many bench days as its 80 % time fills; null where no day has a price in its currency. */
export function byDays(basis: QuoteBasis, input: QuoteInput): ByDays | null {
  const { days } = basis
  if (!days || days.dayMinor === 0 || days.halfDayMinor === 0 || basis.spins.length === 0) return null
  const sold = { ...input, soldBy: 'days' as const, halfDays: null, byHand: null }
  const time = quoteTime(basis, sold)
  return {
    halfDays: halfDaysOf(time.bench.p80Ms, days.workingDayMs),
    netMinor: quoteTotals(dayLines(basis, sold, time), basis.taxRates).netMinor,
  }
}

function workedOutLines(basis: QuoteBasis, input: QuoteInput, time: QuoteTime): readonly QuoteLine[] {
  return input.soldBy === 'days' ? dayLines(basis, input, time) : quoteLines(basis, input)
}

type Totals = Pick<QuoteFigures, 'lines' | 'netMinor' | 'taxes' | 'taxMinor' | 'totalMinor'>

/** Net of each line, tax per rate on the sum of its lines (EN 16931-1), and the total, in minor units. */
export function quoteTotals(lines: readonly QuoteLine[], rates: readonly QuoteTaxRate[]): Totals {
  const bill = billTotals({ lines: lines.map((line) => ({ ...line, ...taxOf(line.taxRateId, rates) })) })
  const nameOf = (tax: BillTax) => {
    if (tax.name !== '') return tax.name
    const isOf = (rate: QuoteTaxRate) =>
      rate.category === tax.category && rate.ratePpm === tax.ratePpm && rate.namedRates.length === 0
    return (
      rates.find((rate) => isOf(rate) && lines.some(({ taxRateId }) => taxRateId === rate.id))?.name ?? ''
    )
  }
  return {
    lines: lines.map((line, index) => ({ ...line, netMinor: bill.lineNets[index] ?? 0 })),
    netMinor: bill.netMinor,
    taxes: bill.taxes.map((tax) => ({ ...tax, name: nameOf(tax), isNamedPart: tax.name !== '' })),
    taxMinor: bill.taxTotalMinor,
    totalMinor: bill.taxInclusiveMinor,
  }
}

function taxOf(taxRateId: number, rates: readonly QuoteTaxRate[]) {
  const rate = rates.find(({ id }) => id === taxRateId)
  if (!rate) {
    throw new Refusal('no-such-tax-rate', 'This tax rate is not in the studio. Choose another.', {
      field: 'taxRateId',
    })
  }
  return { category: rate.category, ratePpm: rate.ratePpm, namedRates: rate.namedRates }
}

function quoteCost(
  netMinor: number,
  time: Pick<QuoteTime, 'bench' | 'desk' | 'secondMs'>,
  boughtMinor: number,
  rates: HourRates,
): QuoteCost {
  const { bench, desk, secondMs } = time
  const medianMinor = costMinor(bench.medianMs, desk.totalMs, rates, boughtMinor, secondMs)
  const p80Minor = costMinor(bench.p80Ms, desk.totalMs, rates, boughtMinor, secondMs)
  const besideBenchMs = desk.totalMs + secondMs
  const atMedian = margin(netMinor, medianMinor)
  const atP80 = margin(netMinor, p80Minor)
  return {
    boughtMinor,
    medianMinor,
    p80Minor,
    marginMedianMinor: atMedian.marginMinor,
    marginMedianPpm: atMedian.marginPpm,
    marginP80Minor: atP80.marginMinor,
    marginP80Ppm: atP80.marginPpm,
    breakEvenMedianMinor: breakEvenHourMinor(netMinor, boughtMinor, bench.medianMs + besideBenchMs),
    breakEvenP80Minor: breakEvenHourMinor(netMinor, boughtMinor, bench.p80Ms + besideBenchMs),
  }
}
