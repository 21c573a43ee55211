import { normalBelow } from './normal.ts'

/** A time that is not known: its mean in ms, its variance in ms² and its third central moment in ms³. */
export interface Spread {
  readonly meanMs: number
  readonly variance: number
  readonly third: number
}

/** A time that is known. */
export const certain = (ms: number): Spread => ({ meanMs: ms, variance: 0, third: 0 })

/**
 * A lognormal time of this mean: variance m²(w − 1) and third moment m³(w − 1)²(w + 2), where w = e^σ².
 * @param sigma  the standard deviation of its logarithm, 0 or more
 */
export function lognormal(meanMs: number, sigma: number): Spread {
  const above = Math.expm1(sigma ** 2)
  return { meanMs, variance: meanMs ** 2 * above, third: meanMs ** 3 * above ** 2 * (above + 3) }
}

/** The sum of independent times: means, variances and third central moments all add up. */
export function sumOf(times: readonly Spread[]): Spread {
  let [meanMs, variance, third] = [0, 0, 0]
  for (const time of times) {
    meanMs += time.meanMs
    variance += time.variance
    third += time.third
  }
  return { meanMs, variance, third }
}

/** So many times a time. */
export function scaled(time: Spread, factor: number): Spread {
  return {
    meanMs: time.meanMs * factor,
    variance: time.variance * factor ** 2,
    third: time.third * factor ** 3,
  }
}

/** A lognormal moved along: the time is shiftMs + medianMs × e^(sigma × z), z standard normal. */
export interface Shape {
  readonly shiftMs: number
  readonly medianMs: number
  readonly sigma: number
}

/**
 * The moved lognormal with these three moments: exact for one lognormal and what is certain beside it, close for a
 * sum of a few. Its skewness is γ = (w + 2)√(w − 1); solved for w by Cardano's formula.
 */
export function shapeOf({ meanMs, variance, third }: Spread): Shape {
  if (!(variance > 0)) return { shiftMs: meanMs, medianMs: 0, sigma: 0 }
  // A skewness too small to tell from none would put the shift at infinity.
  const skewness = Math.max(1e-4, third / variance ** 1.5)
  const above = aboveOne(skewness)
  const sigma = Math.sqrt(Math.log1p(above))
  const medianMs = Math.sqrt(variance / above / (1 + above))
  return { shiftMs: meanMs - Math.sqrt(variance / above), medianMs, sigma }
}

/** w − 1 of a lognormal by its skewness; the root itself loses its digits where it lies near 1. */
function aboveOne(skewness: number): number {
  if (skewness < 1e-2) return (skewness / 3) ** 2 * (1 - (2 * (skewness / 3) ** 2) / 3)
  const inner = 1 + skewness ** 2 / 2
  const root = skewness * Math.sqrt(1 + skewness ** 2 / 4)
  return Math.cbrt(inner + root) + 1 / Math.cbrt(inner + root) - 2
}

/** The time that lies so many deviations of its logarithm over its median. */
export function timeAt({ shiftMs, medianMs, sigma }: Shape, deviations: number): number {
  return shiftMs + medianMs * Math.exp(sigma * deviations)
}

/** The part of all such times that lies at or below one. */
export function shapeBelow({ shiftMs, medianMs, sigma }: Shape, ms: number): number {
  if (sigma === 0) return ms >= shiftMs + medianMs ? 1 : 0
  return ms > shiftMs ? normalBelow(Math.log((ms - shiftMs) / medianMs) / sigma) : 0
}

/** A stretch of a time's distribution, with the part of it that it holds. */
export interface Cell {
  readonly from: number
  readonly to: number
  readonly weight: number
}

const deviations = 4

/** A distribution cut into cells, so many a deviation; what lies past four deviations is in the last. */
export function cellsOf(shape: Shape, cellsPerDeviation: number): readonly Cell[] {
  if (shape.sigma === 0) {
    const ms = timeAt(shape, 0)
    return [{ from: ms, to: ms, weight: 1 }]
  }
  const count = 2 * deviations * cellsPerDeviation
  const below = Array.from({ length: count + 1 }, (_, i) =>
    i === 0 ? 0 : i === count ? 1 : normalBelow(i / cellsPerDeviation - deviations),
  )
  return Array.from({ length: count }, (_, i) => ({
    from: timeAt(shape, i / cellsPerDeviation - deviations),
    to: timeAt(shape, (i + 1) / cellsPerDeviation - deviations),
    weight: (below[i + 1] ?? 1) - (below[i] ?? 0),
  }))
}
