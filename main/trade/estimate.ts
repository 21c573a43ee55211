import { closely, handlingOnPath, waitsMs } from './besidePlatter.ts'
import { extraTime } from './extraTime.ts'
import { normalBelow, normalDensity } from './normal.ts'
import type { BenchPeople, Pace } from './pace.ts'
import { atStep, type Cost, costOf, type Moments, momentsOf, type SpinWork } from './spinCost.ts'
import {
  type Cell,
  cellsOf,
  certain,
  lognormal,
  type Shape,
  type Spread,
  shapeBelow,
  shapeOf,
  sumOf,
  timeAt,
} from './spread.ts'

/** A time as it may turn out: its mean, its median and the time that four in five will not exceed. */
export interface Estimate {
  readonly meanMs: number
  readonly medianMs: number
  readonly p80Ms: number
}

/**
 * Bench time of one spin: handling + check frames + frames to shoot × step + (rows − 1) × row change, plus
 * two chances at two prices. A restart loses the part of the row already turned, at a frame that any frame is
 * equally likely to be, and the pause until the next take; a reshoot costs set change, handling, row changes and all
 * frames again. Each happens at most once, independently. Handling and the spin's step are lognormal, and a restart
 * or reshoot is turned at the same step; row changes and pauses count at their means.
 * The mean is exact. Median and 80 % are the quantiles of the mixture of these cases: the restart's place is taken
 * at evenly spread places instead of at every frame, and handling and turning add up to a moved lognormal of the same
 * mean, variance and skewness, which is exact where either of them has no spread.
 */
export function spinBenchMs(spin: SpinWork, pace: Pace): Estimate {
  const cost = costOf(spin, pace)
  const cases = casesOf(cost, pace)
  const below = (ms: number) => cases.reduce((sum, each) => sum + each.weight * shapeBelow(each.shape, ms), 0)
  const longest = Math.max(...cases.map(({ shape }) => timeAt(shape, 8)))
  return {
    meanMs: spinMeanMs(spin, pace),
    medianMs: solve(below, 0.5, longest),
    p80Ms: solve(below, 0.8, longest),
  }
}

/** The mean of `spinBenchMs` alone, which is soon worked out. */
export function spinMeanMs(spin: SpinWork, pace: Pace): number {
  return Math.round(meanOf([costOf(spin, pace)], pace))
}

/** From so many spins on, their restarts and reshoots add up to a normal within 1 % of the truth. */
const manySpins = 64

/**
 * Bench time of several spins: not the sum of their 80 % times, which counts no restart where each alone is
 * unlikely, nor as narrow as if every spin's step were drawn afresh, since the same hands turn them all. All
 * spins share one lognormal step; given the step, handling, restarts and reshoots are independent. Under 64 spins
 * restarts and reshoots are the convolution of each spin's own (`extraTime`) and handling a moved lognormal, from
 * there on their sum is a normal of the same mean and variance.
 * The mean is exact for one person; for two, who work it as one run without a break (`handlingOnPath`), it and all
 * medians and 80 % times are good to 1 %. One spin is estimated by `spinBenchMs`; none takes no time.
 */
export function jobBenchMs(spins: readonly SpinWork[], pace: Pace, people: BenchPeople = 1): Estimate {
  const [only] = spins
  if (only === undefined) return { meanMs: 0, medianMs: 0, p80Ms: 0 }
  if (spins.length === 1) return spinBenchMs(only, pace)
  const costs = spins.map((spin) => costOf(spin, pace))
  const moments = momentsOf(costs)
  const stretches = stretchesOf(costs, pace, people)
  const longest = longestOf(moments, stretches)
  const below = spins.length < manySpins ? fewBelow(costs, moments, stretches) : manyBelow(moments, stretches)
  return {
    meanMs: Math.round(meanOf(costs, pace) - savedMs(costs, people, stretches)),
    medianMs: solve(below, 0.5, longest),
    p80Ms: solve(below, 0.8, longest),
  }
}

/**
 * What each spin of a run adds to its bench time on average, in ms: with a second person a spin's own preparation
 * falls away, but for the first, and what its platter waits for the product counts. They add up to the job's mean.
 */
export function runMeansMs(spins: readonly SpinWork[], pace: Pace, people: BenchPeople): readonly number[] {
  const costs = spins.map((spin) => costOf(spin, pace))
  const means = costs.map((cost) => meanOf([cost], pace))
  if (people === 1) return means.map(Math.round)
  const share = pace.besidePpm / 1e6
  const waits = costs.map(() => 0)
  for (const { step, weight } of stretchesOf(costs, pace, 1)) {
    waitsMs(costs, share, step).forEach((ms, k) => {
      waits[k + 1] = (waits[k + 1] ?? 0) + weight * ms
    })
  }
  return costs.map(({ handling }, k) =>
    Math.round((means[k] ?? 0) - (k === 0 ? 0 : share * handling.meanMs - (waits[k] ?? 0))),
  )
}

/** What a second person prepares in a run, beside the platter, on average and in ms; a first spin has nobody beside it. */
export function besideMs(spins: readonly SpinWork[], pace: Pace): number {
  const beside = spins.slice(1).map((spin) => costOf(spin, pace).handling.meanMs)
  return Math.round((beside.reduce((a, b) => a + b, 0) * pace.besidePpm) / 1e6)
}

/** Neighbouring cells of the step, with the handling on the run's path at the step in their middle. */
interface Stretch {
  readonly cells: readonly Cell[]
  readonly step: number
  readonly weight: number
  readonly path: Spread
}

const stepCells = 8
/** Restarts, reshoots and waiting are worked out at every fourth cell: they follow the step slowly. */
const apart = stepCells / 2

/** The lognormal step cut into cells an eighth of a deviation wide, in stretches of half a deviation. */
function stretchesOf(costs: readonly Cost[], pace: Pace, people: BenchPeople): readonly Stretch[] {
  const { stepMs, stepSpreadPpm, besidePpm } = pace
  const cells = cellsOf({ shiftMs: 0, medianMs: stepMs, sigma: stepSpreadPpm / 1e6 }, stepCells)
  const alone = sumOf(costs.map(({ handling }) => handling))
  // Of many spins each one's handling counts so little that its places may lie further apart.
  const places = costs.length < manySpins ? closely : 1
  const pathAt = people === 1 ? () => alone : handlingOnPath(costs, besidePpm / 1e6, places)
  return Array.from({ length: Math.ceil(cells.length / apart) }, (_, i) => {
    const own = cells.slice(i * apart, (i + 1) * apart)
    const step = Math.sqrt((own[0]?.from ?? 0) * (own.at(-1)?.to ?? 0))
    return {
      cells: own,
      step,
      weight: own.reduce((sum, { weight }) => sum + weight, 0),
      path: pathAt(step),
    }
  })
}

function longestOf({ plain, extra, variance }: Moments, stretches: readonly Stretch[]): number {
  return Math.max(
    ...stretches.map(({ cells, path }) => {
      const step = cells.at(-1)?.to ?? 0
      const deviation = Math.sqrt(atStep(variance, step) + path.variance)
      return atStep(plain, step) + atStep(extra, step) + path.meanMs + 8 * deviation
    }),
  )
}

/** What a second person takes off the bench time on average. */
function savedMs(costs: readonly Cost[], people: BenchPeople, stretches: readonly Stretch[]): number {
  if (people === 1) return 0
  const alone = costs.reduce((sum, { handling }) => sum + handling.meanMs, 0)
  return alone - stretches.reduce((sum, { weight, path }) => sum + weight * path.meanMs, 0)
}

/** The part of all jobs of many spins that takes less than a time. */
function manyBelow(
  { plain, extra, variance }: Moments,
  stretches: readonly Stretch[],
): (ms: number) => number {
  const normals = stretches.flatMap(({ cells, path }) =>
    cells.map(({ from, to, weight }) => ({
      weight,
      from: atStep(plain, from) + atStep(extra, from) + path.meanMs,
      to: atStep(plain, to) + atStep(extra, to) + path.meanMs,
      deviation: Math.sqrt(atStep(variance, (from + to) / 2) + path.variance),
    })),
  )
  return (ms) => normals.reduce((sum, cell) => sum + cell.weight * cellBelow(cell, ms), 0)
}

const handlingCells = 3
/** Cells where step and handling are both far out hold so little that they are left out. */
const rare = 1e-5

/** The part of all jobs of a few spins that takes less than a time. */
function fewBelow(
  costs: readonly Cost[],
  { plain, extra, variance }: Moments,
  stretches: readonly Stretch[],
): (ms: number) => number {
  const all = stretches.map(({ cells, step, path }) => ({
    extraBelow: extraTime(costs, step, atStep(extra, step), Math.sqrt(atStep(variance, step))),
    sums: sumsOf(
      cells.map(({ from, to, weight }) => ({ weight, from: atStep(plain, from), to: atStep(plain, to) })),
      cellsOf(shapeOf(path), handlingCells),
    ),
  }))
  const whole = all.reduce((sum, { sums }) => sums.weight.reduce((own, weight) => own + weight, sum), 0)
  return (ms) => {
    let sum = 0
    for (const { extraBelow, sums } of all) {
      const { from, to, weight } = sums
      for (let i = 0; i < weight.length; i += 1) {
        sum += (weight[i] as number) * extraBelow(ms - (to[i] as number), ms - (from[i] as number))
      }
    }
    return sum / whole
  }
}

/** Many cells, each at one place of three tables. */
interface Sums {
  readonly from: Float64Array
  readonly to: Float64Array
  readonly weight: Float64Array
}

/** The sums of two independent times by their cells: two even stretches count as one, since both are narrow. */
function sumsOf(some: readonly Cell[], others: readonly Cell[]): Sums {
  const most = some.length * others.length
  const sums = { from: new Float64Array(most), to: new Float64Array(most), weight: new Float64Array(most) }
  let count = 0
  for (const one of some) {
    for (const other of others) {
      if (one.weight * other.weight < rare) continue
      sums.weight[count] = one.weight * other.weight
      sums.from[count] = one.from + other.from
      sums.to[count] = one.to + other.to
      count += 1
    }
  }
  return {
    from: sums.from.subarray(0, count),
    to: sums.to.subarray(0, count),
    weight: sums.weight.subarray(0, count),
  }
}

interface Case {
  readonly weight: number
  readonly shape: Shape
}

/** The four cases of restart and reshoot; a restart is split over evenly spread places of each row. */
function casesOf(cost: Cost, pace: Pace): Case[] {
  const shot = cost.rowFrames.reduce((a, b) => a + b, 0)
  const places = Math.max(4, Math.ceil(16 / cost.rowFrames.length))
  const lost = [
    { chance: 1 - cost.restart, pauseMs: 0, frames: 0 },
    ...cost.rowFrames.flatMap((frames) =>
      Array.from({ length: places }, (_, i) => ({
        chance: (cost.restart * frames) / shot / places,
        pauseMs: cost.pauseMs,
        frames: ((i + 0.5) * frames) / places,
      })),
    ),
  ]
  const shape = (handling: readonly Spread[], certainMs: number, frames: number) =>
    shapeOf(sumOf([...handling, certain(cost.fixedMs + certainMs), turning(frames, pace)]))
  const { handling, againMs } = cost
  return lost.flatMap(({ chance, pauseMs, frames }) => [
    { weight: chance * (1 - cost.reshoot), shape: shape([handling], pauseMs, cost.frames + frames) },
    {
      weight: chance * cost.reshoot,
      shape: shape([handling, handling], pauseMs + againMs - handling.meanMs, 2 * cost.frames + frames),
    },
  ])
}

/** So many frames at one lognormal step, whose mean is its median × exp(σ²/2). */
function turning(frames: number, { stepMs, stepSpreadPpm }: Pace): Spread {
  const sigma = stepSpreadPpm / 1e6
  return lognormal(frames * stepMs * Math.exp(sigma ** 2 / 2), sigma)
}

/** The time of one person is linear in the step, so its mean is its value at the step's mean. */
function meanOf(costs: readonly Cost[], pace: Pace): number {
  const { plain, extra } = momentsOf(costs)
  const { meanMs: stepMs } = turning(1, pace)
  const handlingMs = costs.reduce((sum, { handling }) => sum + handling.meanMs, 0)
  return handlingMs + atStep(plain, stepMs) + atStep(extra, stepMs)
}

interface NormalCell {
  readonly from: number
  readonly to: number
  readonly deviation: number
}

/**
 * The part of a cell that lies below a time: a normal whose mean runs evenly from `from` to `to`, by the
 * integral of the normal distribution, x·Φ(x) + φ(x).
 */
function cellBelow({ from, to, deviation }: NormalCell, ms: number): number {
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

/**
 * The whole ms at which a rising function reaches p: by turns where the straight line through both ends does, and
 * half way between them, so that neither a bend nor a jump makes it slow.
 */
function solve(below: (ms: number) => number, p: number, longestMs: number): number {
  let [low, high] = [0, longestMs]
  let [atLow, atHigh] = [0, 1]
  for (let isHalving = false; high - low > 0.01; isHalving = !isHalving) {
    const line = low + ((p - atLow) / (atHigh - atLow)) * (high - low)
    // A hair past the line's place, so that both ends close in on it.
    const at = isHalving || !(line > low && line < high) ? (low + high) / 2 : line
    const found = below(at)
    if (found < p) [low, atLow] = [at, found]
    else [high, atHigh] = [at, found]
  }
  return Math.round(high)
}
