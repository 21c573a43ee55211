import { minorDigits } from './currency.ts'
import { formatDecimal, readDecimal } from './decimal.ts'
import { Refusal } from './refusal.ts'

const million = 1_000_000

/** numerator ÷ denominator rounded once to a whole number, a half away from zero; denominator more than 0. */
export function roundedQuotient(numerator: bigint, denominator: bigint): number {
  const magnitude = numerator < 0n ? -numerator : numerator
  const rounded = (2n * magnitude + denominator) / (2n * denominator)
  const result = Number(numerator < 0n ? -rounded : rounded)
  if (!Number.isSafeInteger(result)) {
    throw new Refusal(
      'too-large',
      'The amount is too large to be held exactly. Split the line into smaller ones.',
    )
  }
  return result
}

/**
 * Net amount of a line in minor units: quantity × price ÷ base quantity, rounded once, half away from zero
 * (EN 16931-1: BT-131 from BT-129, BT-146 and BT-149).
 * @param quantityMilli  quantity in thousandths: 2.5 h is 2500
 * @param priceMinor     price per base quantity, in minor units
 * @param baseMilli      the quantity the price is for, in thousandths: 'per 100' is 100,000; more than 0
 */
export function lineNetMinor(quantityMilli: number, priceMinor: number, baseMilli = 1000): number {
  if (!(baseMilli > 0)) {
    throw new Refusal(
      'bad-base',
      'The price must be for a quantity of more than 0. Enter 1 for a price per piece.',
    )
  }
  return roundedQuotient(whole(quantityMilli) * whole(priceMinor), whole(baseMilli))
}

/**
 * What must be added to an amount due, in minor units, so that it can be paid in coins: to the nearest multiple of
 * the step, a half away from zero (EN 16931-1 BT-114). 0 where the currency is not rounded.
 * @param stepMinor  the smallest coin, such as 5 for 0.05; null for none
 */
export function cashRoundingMinor(dueMinor: number, stepMinor: number | null): number {
  if (stepMinor === null) return 0
  return roundedQuotient(whole(dueMinor), whole(stepMinor)) * stepMinor - dueMinor
}

/** A share in parts per million of an amount in minor units, rounded once, half away from zero. */
export function shareMinor(amountMinor: number, ppm: number): number {
  return roundedQuotient(whole(amountMinor) * whole(ppm), BigInt(million))
}

/**
 * Tax on a taxable base, both in minor units (EN 16931-1 BR-CO-17: BT-117 = BT-116 × BT-119 ÷ 100, rounded).
 * @param ratePpm  the rate in parts per million: 19 % is 190,000
 */
export function taxMinor(baseMinor: number, ratePpm: number): number {
  return shareMinor(baseMinor, ratePpm)
}

/**
 * Parts of a total in proportion to weights, by largest remainder (Hamilton's method), ties to the earlier;
 * the parts always add up to the total. A negative total gives the mirrored parts of its positive twin.
 * Refuses weights that are negative, not whole, or all zero.
 */
export function allocate(totalMinor: number, weights: readonly number[]): number[] {
  const exact = weights.map(whole)
  const sum = exact.reduce((a, b) => a + b, 0n)
  if (sum <= 0n || exact.some((weight) => weight < 0n)) {
    throw new Refusal('bad-weights', 'An amount can only be shared out over weights of 0 or more, not all 0.')
  }
  const total = whole(Math.abs(totalMinor))
  const parts = exact.map((weight) => (total * weight) / sum)
  const left = Number(total - parts.reduce((a, b) => a + b, 0n))
  const byRemainder = exact
    .map((weight, index) => ({ index, remainder: (total * weight) % sum }))
    .sort((a, b) => (a.remainder === b.remainder ? a.index - b.index : a.remainder > b.remainder ? -1 : 1))
  for (const { index } of byRemainder.slice(0, left)) parts[index] = (parts[index] ?? 0n) + 1n
  return parts.map((part) => (totalMinor < 0 && part !== 0n ? -Number(part) : Number(part)))
}

/**
 * The amount with its currency, as the locale writes it and with the digits of ISO 4217: '€1,234.50'. The minus
 * is the true one (U+2212), which is as wide as a digit; locales of Unicode CLDR mostly write a hyphen for it.
 */
export function formatMoney(minor: number, currency: string, locale: string): string {
  const digits = minorDigits(currency)
  // Given as text, `format` keeps every digit; as a number it would pass through floating point.
  const text = moneyFormat(currency, locale, digits).format(
    plainDecimal(minor, digits) as Intl.StringNumericLiteral,
  )
  return text.replace('-', '−')
}

const formats = new Map<string, Intl.NumberFormat>()

/** Kept, because making a format is a hundred times as dear as using it and lists show thousands of amounts. */
function moneyFormat(currency: string, locale: string, digits: number): Intl.NumberFormat {
  const key = `${locale} ${currency}`
  const known = formats.get(key)
  if (known) return known
  const made = new Intl.NumberFormat(locale, {
    style: 'currency',
    currency,
    minimumFractionDigits: digits,
    maximumFractionDigits: digits,
  })
  formats.set(key, made)
  return made
}

/** The amount as machines read it, without grouping or currency: '1234.50', '-0.05'. For CSV and e-invoices. */
export function plainMoney(minor: number, currency: string): string {
  return plainDecimal(minor, minorDigits(currency))
}

/** A quantity of thousandths as machines read it: 2500 is '2.5'. */
export function plainMilli(milli: number): string {
  return plainDecimal(milli, 3, 0)
}

/** Parts per million as a percentage as machines read it: 77,000 is '7.7'. */
export function plainPercent(ppm: number): string {
  return plainDecimal(ppm, 4, 0)
}

function plainDecimal(units: number, places: number, minPlaces = places): string {
  return formatDecimal(units, places, minPlaces).replaceAll(',', '').replace('−', '-')
}

/**
 * Reads a typed amount exactly into minor units: '1,234.50', '1.234,50' and '52' in EUR.
 * Refuses nonsense, and '2.000' or '2,000', which is two thousand to one reader and two to another. In a currency
 * of three places '2.000' is plain, since so its amounts are written; in one of none the mark parts thousands.
 */
export function parseMoney(text: string, currency: string): number {
  const digits = minorDigits(currency)
  const bare = withoutCurrency(text, currency)
  const separator = /^[-+−]?\s*[1-9]\d{0,2}([.,])\d{3}$/u.exec(bare.trim())?.[1]
  if (separator === undefined) return readDecimal(bare, digits, 'The amount')
  if (digits === 0) return readDecimal(bare.replace(separator, ''), 0, 'The amount')
  if (digits === 3 && separator === '.') return readDecimal(bare, 3, 'The amount')
  const [whole = '', part = ''] = bare.trim().split(separator)
  throw new Refusal(
    'two-readings',
    `The amount, ${bare.trim()}, can be read in two ways. Write ${whole}${part} for the larger one, or ${whole}.${part.slice(0, digits).padEnd(digits, '0')} for the smaller.`,
  )
}

function withoutCurrency(text: string, currency: string): string {
  return text.replace(new RegExp(`^\\s*${currency}\\s+|\\s+${currency}\\s*$`, 'u'), '').replace(/[€£$¥]/u, '')
}

/** Reads a typed quantity of up to three places exactly into thousandths: '2.5' is 2500. */
export function parseMilli(text: string, what = 'The quantity'): number {
  return readDecimal(text, 3, what)
}

/** A quantity of thousandths for the screen: 2500 is '2.5'. */
export function formatMilli(milli: number): string {
  return formatDecimal(milli, 3)
}

/** Reads a typed percentage of up to four places exactly into parts per million: '19' or '19 %' is 190,000. */
export function parsePercent(text: string, what = 'The rate'): number {
  return readDecimal(text.replace(/\s*%\s*$/u, ''), 4, what)
}

/** Parts per million as a percentage for the screen: 190,000 is '19 %'. */
export function formatPercent(ppm: number): string {
  return `${formatDecimal(ppm, 4)} %`
}

function whole(value: number): bigint {
  if (!Number.isSafeInteger(value)) {
    throw new Refusal(
      'not-whole',
      `${value} is not a whole number of the smallest unit. Enter the amount again.`,
    )
  }
  return BigInt(value)
}
