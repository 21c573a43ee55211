import { normalBelow, normalDensity } from './normal.ts'
import type { Pace } from './pace.ts'
import { type Cost, costOf, meanAt, type SpinWork, varianceAt } from './spinCost.ts'

/** A time as it may turn out: its mean, its median and the time that four in five will not exceed. */
export interface Estimate {
  readonly meanMs: number
  readonly medianMs: number
  readonly p80Ms: number
}

/**
 * Bench time of one spin: handling + check frames + frames to shoot × step + (rows − 1) × row change, plus
 * two chances at two prices. A restart loses the part of the row already turned, at a frame that any frame is
 * equally likely to be; a reshoot costs set change, handling, row changes and all frames again. Each happens
 * at most once, independently. The spin's step is lognormal round `stepMs`, and a restart or reshoot is
 * turned at the same step.
 * The mean is exact. Median and 80 % are the exact quantiles of the mixture of these cases, but that the
 * restart's place is taken at evenly spread places instead of at every frame.
 */
export function spinBenchMs(spin: SpinWork, pace: Pace): Estimate {
  const cost = costOf(spin, pace)
  const cases = casesOf(cost)
  const spread = pace.stepSpreadPpm / 1e6
  const below = (ms: number) =>
    cases.reduce((sum, each) => {
      const ratio = (ms - each.fixedMs) / (each.frames * pace.stepMs)
      return sum + (ratio > 0 ? each.weight * normalBelow(standardised(Math.log(ratio), spread)) : 0)
    }, 0)
  const longest = Math.max(
    ...cases.map((each) => each.fixedMs + each.frames * pace.stepMs * Math.exp(8 * spread)),
  )
  return {
    meanMs: Math.round(meanOf([cost], pace)),
    medianMs: solve(below, 0.5, longest),
    p80Ms: solve(below, 0.8, longest),
  }
}

/**
 * Bench time of several spins: not the sum of their 80 % times, which counts no restart where each alone is
 * unlikely, nor as narrow as if every spin's step were drawn afresh, since the same hands turn them all. All
 * spins share one lognormal step; given the step, the restarts and reshoots are independent, and their sum is
 * taken as normal. The mean is exact. One spin is estimated by `spinBenchMs`; none takes no time.
 */
export function jobBenchMs(spins: readonly SpinWork[], pace: Pace): Estimate {
  const [only] = spins
  if (only === undefined) return { meanMs: 0, medianMs: 0, p80Ms: 0 }
  if (spins.length === 1) return spinBenchMs(only, pace)
  const costs = spins.map((spin) => costOf(spin, pace))
  const spread = pace.stepSpreadPpm / 1e6
  const cells = stepCells.map(({ fromZ, toZ, weight }) => {
    const stepAt = (z: number) => pace.stepMs * Math.exp(spread * z)
    return {
      weight,
      from: meanAt(costs, stepAt(fromZ)),
      to: meanAt(costs, stepAt(toZ)),
      deviation: Math.sqrt(varianceAt(costs, stepAt((fromZ + toZ) / 2))),
    }
  })
  const below = (ms: number) => cells.reduce((sum, cell) => sum + cell.weight * cellBelow(cell, ms), 0)
  const longest = Math.max(...cells.map(({ to, deviation }) => to + 8 * deviation))
  return {
    meanMs: Math.round(meanOf(costs, pace)),
    medianMs: solve(below, 0.5, longest),
    p80Ms: solve(below, 0.8, longest),
  }
}

interface Case {
  readonly weight: number
  readonly fixedMs: number
  readonly frames: number
}

/** The four cases of restart and reshoot; a restart is split over evenly spread places of each row. */
function casesOf(cost: Cost): Case[] {
  const shot = cost.rowFrames.reduce((a, b) => a + b, 0)
  const places = Math.max(4, Math.ceil(16 / cost.rowFrames.length))
  const lost = [
    { chance: 1 - cost.restart, frames: 0 },
    ...cost.rowFrames.flatMap((frames) =>
      Array.from({ length: places }, (_, i) => ({
        chance: (cost.restart * frames) / shot / places,
        frames: ((i + 0.5) * frames) / places,
      })),
    ),
  ]
  return lost.flatMap(({ chance, frames }) => [
    { weight: chance * (1 - cost.reshoot), fixedMs: cost.fixedMs, frames: cost.frames + frames },
    {
      weight: chance * cost.reshoot,
      fixedMs: cost.fixedMs + cost.againMs,
      frames: 2 * cost.frames + frames,
    },
  ])
}

/** The time is linear in the step, so its mean is its value at the step's mean, median × exp(σ²/2). */
function meanOf(costs: readonly Cost[], pace: Pace): number {
  return meanAt(costs, pace.stepMs * Math.exp((pace.stepSpreadPpm / 1e6) ** 2 / 2))
}

/** The standard normal cut into cells an eighth of a deviation wide, with the part of it that each holds. */
const stepCells: readonly { fromZ: number; toZ: number; weight: number }[] = Array.from(
  { length: 96 },
  (_, i) => {
    const fromZ = (i - 48) / 8
    const toZ = (i - 47) / 8
    return { fromZ, toZ, weight: normalBelow(toZ) - normalBelow(fromZ) }
  },
)

interface Cell {
  readonly from: number
  readonly to: number
  readonly deviation: number
}

/**
 * The part of a cell that lies below a time: a normal whose mean runs evenly from `from` to `to`, by the
 * integral of the normal distribution, x·Φ(x) + φ(x).
 */
function cellBelow({ from, to, deviation }: Cell, ms: number): number {
  if (to <= from) return normalBelow(standardised(ms - from, deviation))
  if (deviation === 0) return Math.min(1, Math.max(0, (ms - from) / (to - from)))
  const integral = (x: number) => x * normalBelow(x) + normalDensity(x)
  return (deviation * (integral((ms - from) / deviation) - integral((ms - to) / deviation))) / (to - from)
}

/** How many deviations off; without spread everything is on the one side or the other, and 0 counts as reached. */
function standardised(distance: number, deviation: number): number {
  if (deviation > 0) return distance / deviation
  return distance < 0 ? Number.NEGATIVE_INFINITY : Number.POSITIVE_INFINITY
}

/** The whole ms at which a rising function reaches p, by halving. */
function solve(below: (ms: number) => number, p: number, longestMs: number): number {
  let low = 0
  let high = longestMs
  while (high - low > 0.01) {
    const middle = (low + high) / 2
    if (below(middle) < p) low = middle
    else high = middle
  }
  return Math.round(high)
}
