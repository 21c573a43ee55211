import { costMinor, type HourRates, margin } from './cost.ts'

/** A cost as the margin counts it, in minor units before tax. */
export interface CountedCost {
  readonly plannedMinor: number | null
  readonly actualMinor: number | null
}

/** What a job left, in minor units before tax and in ms. */
export interface MarginAfter {
  readonly priceMinor: number
  /** Hours at the studio's rates: bench, desk and a second person. */
  readonly hoursMinor: number
  /** Every cost: what was paid, and where nothing is yet, what is planned. */
  readonly costsMinor: number
  /** What of the costs is only planned so far. */
  readonly stillPlannedMinor: number
  readonly marginMinor: number
  /** The part of the price; null where there is no price. */
  readonly marginPpm: number | null
}

/** The hours of a job, in ms. */
export interface JobHours {
  readonly benchMs: number
  readonly deskMs: number
  readonly secondMs: number
}

/**
 * Margin after all: price − all costs − hours at the studio's rates. A cost without a receipt yet counts as planned.
 * @param priceMinor  what is billed and left to bill, before tax
 */
export function marginAfter(
  priceMinor: number,
  costs: readonly CountedCost[],
  hours: JobHours,
  rates: HourRates,
): MarginAfter {
  const hoursMinor = costMinor(hours.benchMs, hours.deskMs, rates, 0, hours.secondMs)
  const costsMinor = sum(costs.map(({ actualMinor, plannedMinor }) => actualMinor ?? plannedMinor ?? 0))
  const stillPlannedMinor = sum(
    costs.map(({ actualMinor, plannedMinor }) => (actualMinor === null ? (plannedMinor ?? 0) : 0)),
  )
  return {
    priceMinor,
    hoursMinor,
    costsMinor,
    stillPlannedMinor,
    ...margin(priceMinor, hoursMinor + costsMinor),
  }
}

function sum(amounts: readonly number[]): number {
  return amounts.reduce((a, b) => a + b, 0)
}
