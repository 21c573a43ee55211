import { formatDecimal, readDecimal } from './decimal.ts'
import { Refusal } from './refusal.ts'

/**
 * The one exact length unit: whole tenths of a micrometre ('um10'). It holds every tape reading in mm to four
 * places and every inch reading to a thousandth, so that neither rims nor sizes meet floating point.
 */
export const um10PerMm = 10_000

export type LengthUnit = 'mm' | 'cm' | 'in'

/** 1 in = 25.4 mm exactly, by definition (international yard and pound agreement, 1959). */
const um10Per: Record<LengthUnit, number> = { mm: um10PerMm, cm: 10 * um10PerMm, in: 254_000 }

/**
 * The length in tenths of a micrometre, exact for every number of millimetres written with at most four
 * places. Refuses what is no number, NaN and infinity, and lengths finer than a tenth of a micrometre.
 * @param what  how the sentence names the length: 'The rim'
 */
export function um10FromMm(mm: number, what: string): number {
  return um10From(mm, 'mm', what)
}

/** The length in tenths of a micrometre from mm, cm or inches; refuses as `um10FromMm` does. */
export function um10From(value: number, unit: LengthUnit, what: string): number {
  if (typeof value !== 'number' || !Number.isFinite(value)) {
    throw new Refusal('not-a-length', `${what} is not a number. Enter it in ${unit}, such as 12.5.`)
  }
  // The shortest decimal that names the double is what was typed; a power of ten in it means out of range.
  const text = String(value)
  if (text.includes('e')) {
    throw new Refusal(
      'length-out-of-range',
      `${what}, ${text} ${unit}, cannot be held exactly. Enter it again.`,
    )
  }
  return um10FromText(text, unit, what)
}

/** The length in tenths of a micrometre from typed text in mm, cm or inches: '12,5' cm is 1,250,000. */
export function um10FromText(text: string, unit: LengthUnit, what: string, mark: '.' | ',' = '.'): number {
  const places = unit === 'mm' ? 4 : unit === 'cm' ? 5 : 6
  const scaled = BigInt(readDecimal(text, places, what, mark)) * BigInt(um10Per[unit])
  const scale = 10n ** BigInt(places)
  const um10 = Number(scaled / scale)
  if (scaled % scale !== 0n || !Number.isSafeInteger(um10)) {
    throw new Refusal(
      'length-out-of-range',
      `${what}, ${text.trim()} ${unit}, is not a whole number of tenths of a micrometre. Round it first.`,
    )
  }
  return um10
}

/** Millimetres as a number, for formulas that end in a drawing or an angle, never for adding up. */
export function mmFromUm10(um10: number): number {
  return um10 / um10PerMm
}

/** The length for the screen: '1,220 mm', '0.5 mm'. */
export function formatLength(um10: number): string {
  return `${formatDecimal(um10, 4)} mm`
}
