import { roundedQuotient } from './money.ts'

const msPerHour = 3_600_000n

/** What the studio's time costs it, in minor units per hour. */
export interface HourRates {
  readonly benchHourMinor: number
  readonly deskHourMinor: number
  /** A second person who prepares, beside the bench hour. */
  readonly secondHourMinor: number
}

/**
 * What a job costs the studio, in minor units: bench and desk time at their rates, and what is bought in,
 * hired or paid out. At the 80 % bench time this is the floor: a price under it does not cover the time that
 * four jobs in five stay within.
 * @param secondMs  what a second person prepares beside the platter
 */
export function costMinor(
  benchMs: number,
  deskMs: number,
  rates: HourRates,
  boughtMinor: number,
  secondMs = 0,
): number {
  const bench = BigInt(benchMs) * BigInt(rates.benchHourMinor)
  const desk = BigInt(deskMs) * BigInt(rates.deskHourMinor)
  const second = BigInt(secondMs) * BigInt(rates.secondHourMinor)
  return roundedQuotient(bench + desk + second, msPerHour) + boughtMinor
}

/** What is left of a price after its cost; the part of the price in ppm, null where there is no price. */
export function margin(
  priceMinor: number,
  cost: number,
): { readonly marginMinor: number; readonly marginPpm: number | null } {
  const marginMinor = priceMinor - cost
  if (priceMinor <= 0) return { marginMinor, marginPpm: null }
  return { marginMinor, marginPpm: roundedQuotient(BigInt(marginMinor) * 1_000_000n, BigInt(priceMinor)) }
}

/**
 * The rate at which a price just pays for its hours, in minor units per hour: what is left of it after everything
 * bought in, over all bench and desk time. Where it lies over the studio's own rates the job earns; null where no
 * time is known.
 */
export function breakEvenHourMinor(priceMinor: number, boughtMinor: number, hoursMs: number): number | null {
  if (hoursMs <= 0) return null
  return roundedQuotient(BigInt(priceMinor - boughtMinor) * msPerHour, BigInt(hoursMs))
}
