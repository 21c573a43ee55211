import { roundedQuotient } from './money.ts'
import { Refusal } from './refusal.ts'

/** A line of the order as it stands when a part of it is to be billed. Money in minor units. */
export interface OrderLine {
  readonly source: 'quote' | 'extra'
  readonly lineId: number
  readonly kind: 'spins' | 'fee' | 'discount' | 'rush' | 'minimum' | 'right' | 'extra'
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
 * The lines of the next invoice: spin lines for what was really delivered and not billed before; fees, rights
 * and extras once; discount, rush and minimum in proportion to the spins billed, the last part taking what is
 * left, so that over all parts the order is billed to the minor unit.
 */
export function proposeLines(order: readonly OrderLine[]): readonly ProposedLine[] {
  const spinLines = order.filter(({ kind }) => kind === 'spins')
  const wholeNet = sum(spinLines.map(({ netMinor }) => netMinor))
  const dueNet = sum(
    spinLines.map(({ netMinor, spins, spinsDelivered }) => part(netMinor, spinsDelivered, spins)),
  )
  const complete = spinLines.every(({ spins, spinsDelivered }) => spinsDelivered >= spins)
  return order.flatMap((line) => {
    switch (line.kind) {
      case 'spins':
        return leftOf(
          line,
          part(line.quantityMilli, line.spinsDelivered, line.spins) - line.billedQuantityMilli,
        )
      case 'discount':
      case 'rush':
      case 'minimum':
        return shareOf(line, complete ? line.netMinor : part(line.netMinor, dueNet, wholeNet))
      default:
        return leftOf(line, line.quantityMilli - line.billedQuantityMilli)
    }
  })
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
