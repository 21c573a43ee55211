import { extraTime } from './extraTime.ts'
import { normalBelow, normalDensity } from './normal.ts'
import type { Pace } from './pace.ts'
import { atStep, type Cost, costOf, type Moments, momentsOf, type SpinWork } from './spinCost.ts'

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
    meanMs: Math.round(meanOf(momentsOf([cost]), pace)),
    medianMs: solve(below, 0.5, longest),
    p80Ms: solve(below, 0.8, longest),
  }
}

/** From so many spins on, their restarts and reshoots add up to a normal within 1 % of the truth. */
const manySpins = 64

/**
 * Bench time of several spins: not the sum of their 80 % times, which counts no restart where each alone is
 * unlikely, nor as narrow as if every spin's step were drawn afresh, since the same hands turn them all. All
 * spins share one lognormal step; given the step, restarts and reshoots are independent. Under 64 spins their
 * sum is the convolution of each spin's own (`extraTime`), from there on a normal of the same mean and variance.
 * The mean is exact, median and 80 % are good to 1 %. One spin is estimated by `spinBenchMs`; none takes no time.
 */
export function jobBenchMs(spins: readonly SpinWork[], pace: Pace): Estimate {
  const [only] = spins
  if (only === undefined) return { meanMs: 0, medianMs: 0, p80Ms: 0 }
  if (spins.length === 1) return spinBenchMs(only, pace)
  const costs = spins.map((spin) => costOf(spin, pace))
  const moments = momentsOf(costs)
  const cells = stepCells(pace)
  const longest = Math.max(
    ...cells.map(({ to }) => atStep(moments.mean, to) + 8 * Math.sqrt(atStep(moments.variance, to))),
  )
  const below = spins.length < manySpins ? fewBelow(costs, moments, cells) : manyBelow(moments, cells)
  return {
    meanMs: Math.round(meanOf(moments, pace)),
    medianMs: solve(below, 0.5, longest),
    p80Ms: solve(below, 0.8, longest),
  }
}

/** A stretch of the step's distribution, with the part of it that it holds. Steps in ms. */
interface StepCell {
  readonly from: number
  readonly to: number
  readonly weight: number
}

const cellsPerDeviation = 8
const deviations = 4

/** The lognormal step cut into cells an eighth of a deviation wide; what lies past four deviations is in the last. */
function stepCells({ stepMs, stepSpreadPpm }: Pace): readonly StepCell[] {
  if (stepSpreadPpm === 0) return [{ from: stepMs, to: stepMs, weight: 1 }]
  const count = 2 * deviations * cellsPerDeviation
  const stepAt = (i: number) =>
    stepMs * Math.exp((stepSpreadPpm / 1e6) * (i / cellsPerDeviation - deviations))
  const belowAt = (i: number) =>
    i === 0 ? 0 : i === count ? 1 : normalBelow(i / cellsPerDeviation - deviations)
  return Array.from({ length: count }, (_, i) => ({
    from: stepAt(i),
    to: stepAt(i + 1),
    weight: belowAt(i + 1) - belowAt(i),
  }))
}

/** The part of all jobs of many spins that takes less than a time. */
function manyBelow({ mean, variance }: Moments, cells: readonly StepCell[]): (ms: number) => number {
  const normals = cells.map(({ from, to, weight }) => ({
    weight,
    from: atStep(mean, from),
    to: atStep(mean, to),
    deviation: Math.sqrt(atStep(variance, (from + to) / 2)),
  }))
  return (ms) => normals.reduce((sum, cell) => sum + cell.weight * cellBelow(cell, ms), 0)
}

/**
 * The part of all jobs of a few spins that takes less than a time. Restarts and reshoots are worked out at every
 * fourth cell's step, half a deviation apart: they are a small part of the time, and follow the step slowly.
 */
function fewBelow(
  costs: readonly Cost[],
  { mean, extra, variance }: Moments,
  cells: readonly StepCell[],
): (ms: number) => number {
  const apart = cellsPerDeviation / 2
  const plain = (step: number) => atStep(mean, step) - atStep(extra, step)
  const stretches = Array.from({ length: Math.ceil(cells.length / apart) }, (_, i) => {
    const own = cells.slice(i * apart, (i + 1) * apart)
    const step = Math.sqrt((own[0]?.from ?? 0) * (own.at(-1)?.to ?? 0))
    return {
      extraBelow: extraTime(costs, step, atStep(extra, step), Math.sqrt(atStep(variance, step))),
      own: own.map(({ from, to, weight }) => ({ weight, from: plain(from), to: plain(to) })),
    }
  })
  return (ms) => {
    let sum = 0
    for (const { extraBelow, own } of stretches) {
      for (const { from, to, weight } of own) sum += weight * extraBelow(ms - to, ms - from)
    }
    return sum
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
function meanOf({ mean }: Moments, pace: Pace): number {
  return atStep(mean, pace.stepMs * Math.exp((pace.stepSpreadPpm / 1e6) ** 2 / 2))
}

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
