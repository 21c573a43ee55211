import { lineNetMinor, roundedQuotient } from './money.ts'
import type { QuoteLineKind } from './quote.ts'
import { Refusal } from './refusal.ts'

/** A line of the order as it stands when a part of it is to be billed. Money in minor units. */
export interface OrderLine {
  readonly source: 'quote' | 'extra'
  readonly lineId: number
  readonly kind: QuoteLineKind | 'extra'
  readonly text: string
  readonly quantityMilli: number
  readonly unit: 'C62' | 'HUR' | 'DAY' | 'LS'
  readonly priceMinor: number
  readonly baseMilli: number
  readonly netMinor: number
  readonly taxRateId: number
  /** How many spins the line prices, and how many of these are delivered and not cancelled. */
  readonly spins: number
  readonly spinsDelivered: number
  /** Whether the bench has done its work on all of them: each that is not cancelled was turned. */
  readonly isTurned: boolean
  /** What issued invoices, less credit notes, have billed of it. */
  readonly billedQuantityMilli: number
  readonly billedNetMinor: number
}

/** A line proposed for the next invoice. */
export interface ProposedLine {
  readonly source: 'quote' | 'extra'
  readonly lineId: number
  readonly text: string
  readonly quantityMilli: number
  readonly unit: OrderLine['unit']
  readonly priceMinor: number
  readonly baseMilli: number
  readonly taxRateId: number
}

/**
 * The lines of the next invoice: spins and their finishing for what was really delivered and not billed before; bench
 * days whole, once all spins they name were turned; fees, rights and extras once; discount, rush and minimum in
 * proportion to what is billed of spins, finishing and days, the last part taking what is left, so that over all parts
 * the order is billed to the minor unit.
 */
export function proposeLines(order: readonly OrderLine[]): readonly ProposedLine[] {
  const sold = order.filter(({ kind }) => kind === 'spins' || kind === 'finishing' || kind === 'days')
  const wholeNet = sum(sold.map(({ netMinor }) => netMinor))
  const dueNet = sum(sold.map((line) => part(line.netMinor, ...doneOf(line))))
  const complete = sold.every((line) => isComplete(line))
  return order.flatMap((line) => {
    switch (line.kind) {
      case 'spins':
      case 'finishing':
      case 'days':
        return dueOf(line)
      case 'discount':
      case 'rush':
      case 'minimum':
        return shareOf(line, complete ? line.netMinor : part(line.netMinor, dueNet, wholeNet))
      default:
        return leftOf(line, line.quantityMilli - line.billedQuantityMilli)
    }
  })
}

/** How much of a line is done, and of how much. */
function doneOf({ kind, spins, spinsDelivered, isTurned }: OrderLine): readonly [done: number, of: number] {
  return kind === 'days' ? [isTurned ? 1 : 0, 1] : [spinsDelivered, spins]
}

function isComplete(line: OrderLine): boolean {
  const [done, of] = doneOf(line)
  return done >= of
}

/** Frames have prices by the hundred: where the last part's rounding would miss the order by a little, it is a lump. */
function dueOf(line: OrderLine): readonly ProposedLine[] {
  const due = leftOf(line, part(line.quantityMilli, ...doneOf(line)) - line.billedQuantityMilli)
  const net = sum(due.map((each) => lineNetMinor(each.quantityMilli, each.priceMinor, each.baseMilli)))
  const isOff = isComplete(line) && due.length > 0 && net !== line.netMinor - line.billedNetMinor
  return isOff && line.kind === 'finishing' ? shareOf(line, line.netMinor) : due
}

function leftOf(line: OrderLine, quantityMilli: number): readonly ProposedLine[] {
  if (quantityMilli === 0 || Math.sign(quantityMilli) !== Math.sign(line.quantityMilli)) return []
  return [{ ...proposed(line), quantityMilli }]
}

/** One lump of the line, so that the parts add up exactly; a reduction has a negative quantity (EN 16931-1 BR-27). */
function shareOf(line: OrderLine, dueMinor: number): readonly ProposedLine[] {
  const netMinor = dueMinor - line.billedNetMinor
  if (netMinor === 0) return []
  return [
    {
      ...proposed(line),
      unit: 'LS',
      quantityMilli: netMinor < 0 ? -1000 : 1000,
      priceMinor: Math.abs(netMinor),
      baseMilli: 1000,
    },
  ]
}

function proposed({
  source,
  lineId,
  text,
  quantityMilli,
  unit,
  priceMinor,
  baseMilli,
  taxRateId,
}: OrderLine): ProposedLine {
  return { source, lineId, text, quantityMilli, unit, priceMinor, baseMilli, taxRateId }
}

function part(whole: number, count: number, of: number): number {
  if (of === 0 || count >= of) return whole
  return roundedQuotient(BigInt(whole) * BigInt(count), BigInt(of))
}

/** What is still open on an invoice, in minor units: due, less credits, payments and write-offs. */
export function openMinor(of: {
  readonly payableMinor: number
  readonly creditedMinor: number
  readonly paidMinor: number
  readonly writtenOffMinor: number
}): number {
  return of.payableMinor - of.creditedMinor - of.paidMinor - of.writtenOffMinor
}

/** Where an issued invoice stands on a day. Money that came too much is 'overpaid', not lost. */
export function invoiceState(
  open: number,
  dueDay: string,
  today: string,
): 'paid' | 'due' | 'overdue' | 'overpaid' {
  if (open === 0) return 'paid'
  if (open < 0) return 'overpaid'
  return dueDay < today ? 'overdue' : 'due'
}

/**
 * The amount of a deposit: a share of the order's total before tax, rounded once.
 * Refuses a share of nothing and of more than the whole.
 */
export function depositMinor(netMinor: number, depositPpm: number): number {
  if (!(depositPpm > 0 && depositPpm <= 1_000_000)) {
    throw new Refusal(
      'deposit-share',
      `A deposit of ${depositPpm / 10_000} % cannot be billed. Enter more than 0 and at most 100 %.`,
      {
        field: 'depositPpm',
      },
    )
  }
  return roundedQuotient(BigInt(netMinor) * BigInt(depositPpm), 1_000_000n)
}

function sum(amounts: readonly number[]): number {
  return amounts.reduce((a, b) => a + b, 0)
}
