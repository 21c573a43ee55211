import { lineNetMinor, taxMinor } from './money.ts'
import { Refusal } from './refusal.ts'

/**
 * Tax categories of EN 16931-1 (UNTDID 5305): S standard, Z zero rate, E exempt, AE reverse charge, G export,
 * O outside the scope of tax, K supply within the European Union. Only S bears a rate.
 */
export const taxCategories = ['S', 'Z', 'E', 'AE', 'G', 'O', 'K'] as const
export type TaxCategory = (typeof taxCategories)[number]

/** What decides how an amount is taxed; the rate in parts per million, 19 % is 190,000. */
export interface Taxed {
  readonly category: TaxCategory
  readonly ratePpm: number
}

export interface BillLine extends Taxed {
  readonly quantityMilli: number
  /** Price in minor units for the base quantity. */
  readonly priceMinor: number
  /** The quantity the price is for, in thousandths; 1000 is 'per piece'. */
  readonly baseMilli: number
}

/** A document allowance or charge, always a positive amount before tax. */
export interface BillAdjustment extends Taxed {
  readonly amountMinor: number
}

export interface BillDraft {
  readonly lines: readonly BillLine[]
  readonly allowances?: readonly BillAdjustment[]
  readonly charges?: readonly BillAdjustment[]
  readonly prepaidMinor?: number
  readonly roundingMinor?: number
}

export interface BillTax extends Taxed {
  readonly baseMinor: number
  readonly taxMinor: number
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
  /** One row per category and rate (BG-23), in order of category, the highest rate first. */
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

  const lineNets = draft.lines.map((line) =>
    lineNetMinor(line.quantityMilli, line.priceMinor, line.baseMilli),
  )
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

/** Taxable base and tax per category and rate (BR-S-08 and its twins, BR-CO-17). */
function taxBreakdown(taxed: readonly BillAdjustment[]): BillTax[] {
  const bases = new Map<string, Taxed & { baseMinor: number }>()
  for (const { category, ratePpm, amountMinor } of taxed) {
    const key = `${category} ${ratePpm}`
    const base = bases.get(key) ?? { category, ratePpm, baseMinor: 0 }
    base.baseMinor += amountMinor
    bases.set(key, base)
  }
  return [...bases.values()]
    .sort(
      (a, b) =>
        taxCategories.indexOf(a.category) - taxCategories.indexOf(b.category) || b.ratePpm - a.ratePpm,
    )
    .map((base) => ({ ...base, taxMinor: taxMinor(base.baseMinor, base.ratePpm) }))
}

function refuseUntaxable(all: readonly Taxed[]): void {
  for (const { category, ratePpm } of all) {
    if (!taxCategories.includes(category)) {
      throw new Refusal(
        'unknown-tax-category',
        `'${category}' is no tax category. Choose S for the standard rate.`,
      )
    }
    if (!Number.isSafeInteger(ratePpm) || ratePpm < 0 || ratePpm > 1_000_000) {
      throw new Refusal('bad-tax-rate', `A tax rate of ${ratePpm / 10_000} % is not between 0 and 100 %.`)
    }
    if (category === 'S' && ratePpm === 0) {
      throw new Refusal(
        'bad-tax-rate',
        'The standard rate cannot be 0 %. Choose zero rate, exempt or reverse charge.',
      )
    }
    if (category !== 'S' && ratePpm !== 0) {
      throw new Refusal(
        'bad-tax-rate',
        `Tax category ${category} bears no tax, but ${ratePpm / 10_000} % is given. Choose S, or set the rate to 0.`,
      )
    }
  }
  const outside = all.filter(({ category }) => category === 'O').length
  if (outside > 0 && outside < all.length) {
    // EN 16931-1 BR-O-11 to BR-O-14.
    throw new Refusal(
      'mixed-tax-scope',
      'Lines outside the scope of tax cannot stand on one document with taxed ones. Make two documents.',
    )
  }
}

function refuseNegative(lines: readonly BillLine[], adjustments: readonly BillAdjustment[]): void {
  // EN 16931-1 BR-27: the item net price shall not be negative.
  if (lines.some((line) => line.priceMinor < 0)) {
    throw new Refusal('negative-price', 'A price cannot be below 0. Use a negative quantity or an allowance.')
  }
  if (adjustments.some((adjustment) => adjustment.amountMinor < 0)) {
    throw new Refusal('negative-adjustment', 'An allowance or charge is given as an amount of 0 or more.')
  }
}

function taxOf({ category, ratePpm }: Taxed): Taxed {
  return { category, ratePpm }
}

function sum(amounts: readonly number[]): number {
  return amounts.reduce((a, b) => a + b, 0)
}
