import { median } from './quantile.ts'

/** A median with the range in which the true one probably lies. */
export interface MedianRange {
  readonly median: number
  /** Null where too few were seen to say: fewer than six. */
  readonly range: { readonly low: number; readonly high: number } | null
  readonly count: number
}

/**
 * The median of a sample and its interval of at least 95 % by order statistics: between the k-th smallest and the
 * k-th largest value, whatever the values are spread like (W. J. Conover, Practical Nonparametric Statistics, section
 * 3.2; from memory). Of fewer than six values no such interval exists: even the widest holds less than 95 %.
 * @returns null for no values
 */
export function medianRange(sample: readonly number[]): MedianRange | null {
  const count = sample.length
  if (count === 0) return null
  const sorted = [...sample].sort((a, b) => a - b)
  const k = medianRank(count)
  const [low, high] = [sorted[k - 1], sorted[count - k]]
  return {
    median: median(sorted),
    range: low === undefined || high === undefined || k === 0 ? null : { low, high },
    count,
  }
}

const tail = 0.025

/** The greatest k for which fewer than k of n fair coins fall heads at most once in forty; 0 where even one is too much. */
export function medianRank(n: number): number {
  let logTerm = -n * Math.LN2
  let below = 0
  for (let k = 0; k < n; k += 1) {
    below += Math.exp(logTerm)
    if (below > tail) return k
    logTerm += Math.log(n - k) - Math.log(k + 1)
  }
  return 0
}
