import { type BillTax, refuseUntaxable, type Taxed, type TaxedAmount, taxBreakdown } from './billTax.ts'
import { lineNetMinor } from './money.ts'
import { Refusal } from './refusal.ts'

export {
  type BillTax,
  type NamedRate,
  type TaxCategory,
  type Taxed,
  taxCategories,
} from './billTax.ts'

export interface BillLine extends Taxed {
  readonly quantityMilli: number
  /** Price in minor units for the base quantity. */
  readonly priceMinor: number
  /** The quantity the price is for, in thousandths; 1000 is 'per piece'. */
  readonly baseMilli: number
  /** What is taken off and put on this line alone (BG-27, BG-28), each 0 or more. */
  readonly allowanceMinor?: number
  readonly chargeMinor?: number
}

/** A document allowance or charge, always a positive amount before tax. */
export type BillAdjustment = TaxedAmount

export interface BillDraft {
  readonly lines: readonly BillLine[]
  readonly allowances?: readonly BillAdjustment[]
  readonly charges?: readonly BillAdjustment[]
  readonly prepaidMinor?: number
  readonly roundingMinor?: number
}

/** The totals of a document in minor units, with their terms in EN 16931-1. */
export interface BillTotals {
  /** Each line's net amount, in the order of the lines (BT-131). */
  readonly lineNets: readonly number[]
  /** Sum of line nets (BT-106). */
  readonly netMinor: number
  /** Sum of document allowances (BT-107). */
  readonly allowanceMinor: number
  /** Sum of document charges (BT-108). */
  readonly chargeMinor: number
  /** Total without tax (BT-109). */
  readonly taxExclusiveMinor: number
  /** One row per category and rate (BG-23), or per named rate, in order of category, the highest rate first. */
  readonly taxes: readonly BillTax[]
  /** Total tax (BT-110). */
  readonly taxTotalMinor: number
  /** Total with tax (BT-112). */
  readonly taxInclusiveMinor: number
  /** What has been paid before (BT-113). */
  readonly prepaidMinor: number
  /** Rounding of the amount due (BT-114). */
  readonly roundingMinor: number
  /** Amount due (BT-115). */
  readonly payableMinor: number
}

/**
 * The totals of a quote, invoice or credit note as EN 16931-1 defines them (rules BR-CO-10 to BR-CO-17 and
 * BR-S-08 hold to the minor unit): each line is rounded once, tax is worked out per category and rate on the
 * sum of its lines, and never per line. A credit note has negative quantities.
 * Refuses a rate on a category that bears none, a standard rate of 0, category O beside any other, and a
 * negative price, allowance or charge.
 */
export function billTotals(draft: BillDraft): BillTotals {
  const allowances = draft.allowances ?? []
  const charges = draft.charges ?? []
  refuseUntaxable([...draft.lines, ...allowances, ...charges])
  refuseNegative(draft.lines, [...allowances, ...charges])

  const lineNets = draft.lines.map(billLineNet)
  const taxed = [
    ...draft.lines.map((line, index) => ({ ...taxOf(line), amountMinor: lineNets[index] ?? 0 })),
    ...allowances.map((allowance) => ({ ...taxOf(allowance), amountMinor: -allowance.amountMinor })),
    ...charges,
  ]
  const taxes = taxBreakdown(taxed)
  const netMinor = sum(lineNets)
  const allowanceMinor = sum(allowances.map((allowance) => allowance.amountMinor))
  const chargeMinor = sum(charges.map((charge) => charge.amountMinor))
  const taxExclusiveMinor = netMinor - allowanceMinor + chargeMinor
  const taxTotalMinor = sum(taxes.map((tax) => tax.taxMinor))
  const taxInclusiveMinor = taxExclusiveMinor + taxTotalMinor
  const prepaidMinor = draft.prepaidMinor ?? 0
  const roundingMinor = draft.roundingMinor ?? 0
  return {
    lineNets,
    netMinor,
    allowanceMinor,
    chargeMinor,
    taxExclusiveMinor,
    taxes,
    taxTotalMinor,
    taxInclusiveMinor,
    prepaidMinor,
    roundingMinor,
    payableMinor: taxInclusiveMinor - prepaidMinor + roundingMinor,
  }
}

/** A line's net amount in minor units, rounded once, less its own allowance and with its own charge (BT-131). */
export function billLineNet(line: Omit<BillLine, keyof Taxed>): number {
  const { quantityMilli, priceMinor, baseMilli, allowanceMinor = 0, chargeMinor = 0 } = line
  return lineNetMinor(quantityMilli, priceMinor, baseMilli) - allowanceMinor + chargeMinor
}

function refuseNegative(lines: readonly BillLine[], adjustments: readonly BillAdjustment[]): void {
  // EN 16931-1 BR-27: the item net price shall not be negative.
  if (lines.some((line) => line.priceMinor < 0)) {
    throw new Refusal('negative-price', 'A price cannot be below 0. Use a negative quantity or an allowance.')
  }
  const onLines = lines.flatMap(({ allowanceMinor = 0, chargeMinor = 0 }) => [allowanceMinor, chargeMinor])
  if ([...adjustments.map(({ amountMinor }) => amountMinor), ...onLines].some((minor) => minor < 0)) {
    throw new Refusal('negative-adjustment', 'An allowance or charge is given as an amount of 0 or more.')
  }
}

function taxOf({ category, ratePpm, namedRates }: Taxed): Taxed {
  return { category, ratePpm, namedRates }
}

function sum(amounts: readonly number[]): number {
  return amounts.reduce((a, b) => a + b, 0)
}
