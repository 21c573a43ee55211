import { taxMinor } from './money.ts'
import { Refusal } from './refusal.ts'

/**
 * Tax categories of EN 16931-1 (UNTDID 5305): S standard, Z zero rate, E exempt, AE reverse charge, G export,
 * O outside the scope of tax, K supply within the European Union. Only S bears a rate.
 */
export const taxCategories = ['S', 'Z', 'E', 'AE', 'G', 'O', 'K'] as const
export type TaxCategory = (typeof taxCategories)[number]

/** One of several rates that one sale bears, such as a state's and a city's sales tax; parts per million. */
export interface NamedRate {
  readonly name: string
  readonly ratePpm: number
}

/** What decides how an amount is taxed; the rate in parts per million, 19 % is 190,000. */
export interface Taxed {
  readonly category: TaxCategory
  readonly ratePpm: number
  /** The rates that make up `ratePpm`, each listed and rounded by itself; none where the rate is one. */
  readonly namedRates?: readonly NamedRate[] | undefined
}

export interface TaxedAmount extends Taxed {
  readonly amountMinor: number
}

export interface BillTax {
  readonly category: TaxCategory
  readonly ratePpm: number
  /** The name of a named rate; empty where the rate is one. */
  readonly name: string
  readonly baseMinor: number
  readonly taxMinor: number
}

/**
 * Taxable base and tax per category and rate (EN 16931-1 BR-S-08 and its twins, BR-CO-17), each rounded once, in
 * order of category, the highest rate first. A named rate has a row of its own, on the sum of all that bears it.
 */
export function taxBreakdown(taxed: readonly TaxedAmount[]): BillTax[] {
  const rows = new Map<string, Omit<BillTax, 'taxMinor'>>()
  for (const { category, ratePpm, namedRates = [], amountMinor } of taxed) {
    for (const rate of namedRates.length > 0 ? namedRates : [{ name: '', ratePpm }]) {
      const key = `${category} ${rate.ratePpm} ${rate.name}`
      const baseMinor = (rows.get(key)?.baseMinor ?? 0) + amountMinor
      rows.set(key, { category, ratePpm: rate.ratePpm, name: rate.name, baseMinor })
    }
  }
  return [...rows.values()]
    .sort(
      (a, b) =>
        taxCategories.indexOf(a.category) - taxCategories.indexOf(b.category) || b.ratePpm - a.ratePpm,
    )
    .map((row) => ({ ...row, taxMinor: taxMinor(row.baseMinor, row.ratePpm) }))
}

/**
 * Refuses a rate on a category that bears none, a standard rate of 0, named rates that do not add up, and category
 * O beside any other.
 */
export function refuseUntaxable(all: readonly Taxed[]): void {
  for (const taxed of all) refuseContradiction(taxed)
  const outside = all.filter(({ category }) => category === 'O').length
  if (outside > 0 && outside < all.length) {
    // EN 16931-1 BR-O-11 to BR-O-14.
    throw new Refusal(
      'mixed-tax-scope',
      'Lines outside the scope of tax cannot stand on one document with taxed ones. Make two documents.',
    )
  }
}

/** Refuses one rate that contradicts its category or its own parts. */
export function refuseContradiction({ category, ratePpm, namedRates = [] }: Taxed): void {
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
  if (category !== 'S' && (ratePpm !== 0 || namedRates.length > 0)) {
    throw new Refusal(
      'bad-tax-rate',
      `Tax category ${category} bears no tax, but ${ratePpm / 10_000} % is given. Choose S, or set the rate to 0.`,
    )
  }
  if (namedRates.length > 0) refuseNames(ratePpm, namedRates)
}

function refuseNames(ratePpm: number, namedRates: readonly NamedRate[]): void {
  if (namedRates.some(({ name, ratePpm: one }) => name.trim() === '' || !(one > 0))) {
    throw new Refusal('bad-named-rate', 'Each part of a sales tax has a name and a rate of more than 0 %.')
  }
  if (new Set(namedRates.map(({ name }) => name)).size < namedRates.length) {
    throw new Refusal('bad-named-rate', 'Two parts of this sales tax have the same name. Name them apart.')
  }
  const sum = namedRates.reduce((total, one) => total + one.ratePpm, 0)
  if (sum !== ratePpm) {
    throw new Refusal(
      'bad-named-rate',
      `The parts of this sales tax come to ${sum / 10_000} %, but the whole is ${ratePpm / 10_000} %. Correct one of them.`,
    )
  }
}
