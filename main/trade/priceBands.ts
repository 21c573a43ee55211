import { type Interval, wilson } from './wilson.ts'

/** What came of one quoted job: its price a spin in minor units, and whether the client took it. */
export interface Outcome {
  readonly perSpinMinor: number
  readonly isWon: boolean
}

/** Prices a spin from `fromMinor` up to just under `toMinor`, and how many of their jobs were won. */
export interface PriceBand {
  readonly fromMinor: number
  readonly toMinor: number
  readonly won: number
  readonly jobs: number
  /** Between which shares the chance of winning probably lies (Wilson, 95 %). */
  readonly chance: Interval
}

/** Widths of a band in whole units of the currency: what a person would draw by hand. */
const widths = [1, 2, 5, 10, 15, 20, 25, 50, 100, 150, 200, 250, 500]
const mostBands = 6

/**
 * Outcomes by price a spin, in at most six bands of one round width, the cheapest first; a band that no job fell
 * into is left out. 'Won 6 of 9 under 45' is its first band.
 * @param unitMinor  one unit of the currency in minor units: 100 for the euro
 */
export function priceBands(outcomes: readonly Outcome[], unitMinor: number): readonly PriceBand[] {
  if (outcomes.length === 0) return []
  const prices = outcomes.map(({ perSpinMinor }) => perSpinMinor)
  const [low, high] = [Math.min(...prices), Math.max(...prices)]
  const width = bandWidth(low, high, unitMinor)
  const bands = new Map<number, { won: number; jobs: number }>()
  for (const { perSpinMinor, isWon } of outcomes) {
    const at = Math.floor(perSpinMinor / width)
    const band = bands.get(at) ?? { won: 0, jobs: 0 }
    bands.set(at, { won: band.won + (isWon ? 1 : 0), jobs: band.jobs + 1 })
  }
  return [...bands]
    .sort(([a], [b]) => a - b)
    .map(([at, { won, jobs }]) => ({
      fromMinor: at * width,
      toMinor: (at + 1) * width,
      won,
      jobs,
      chance: wilson(won, jobs),
    }))
}

function bandWidth(low: number, high: number, unitMinor: number): number {
  for (let scale = unitMinor; ; scale *= 1000) {
    const width = widths.find(
      (each) => Math.floor(high / (each * scale)) - Math.floor(low / (each * scale)) < mostBands,
    )
    if (width !== undefined) return width * scale
  }
}
