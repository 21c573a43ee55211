/**
 * The p-quantile of a sample by linear interpolation between order statistics, position (n − 1)·p (type 7 of
 * Hyndman and Fan 1996, the default of R). Throws on an empty sample, a p outside 0 to 1 and values that are
 * no numbers: those are bugs of the caller.
 */
export function quantile(sample: ArrayLike<number>, p: number): number {
  // Numbers in a typed array are sorted several times faster; what is no number comes last.
  const sorted = new Float64Array(sample).sort()
  if (sorted.length === 0 || !(p >= 0 && p <= 1) || Number.isNaN(sorted.at(-1))) {
    throw new Error(`quantile: ${sample.length} values at ${p}`)
  }
  const position = (sorted.length - 1) * p
  const below = Math.floor(position)
  const lower = sorted[below] ?? 0
  const upper = sorted[below + 1] ?? lower
  return lower + (position - below) * (upper - lower)
}

/** The middle of a sample; the mean of the two middle values where their number is even. */
export function median(sample: ArrayLike<number>): number {
  return quantile(sample, 0.5)
}
