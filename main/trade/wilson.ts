import { Refusal } from './refusal.ts'

/** The standard normal's 97.5 % point: two sides of 2.5 % leave an interval of 95 %. */
const z = 1.959963984540054

/** Between which shares the true one probably lies. */
export interface Interval {
  readonly low: number
  readonly high: number
}

/**
 * Wilson's score interval of 95 % for a share seen as `hits` of `trials` (E. B. Wilson, Probable inference, the
 * law of succession, and statistical inference, JASA 22, 1927): never below 0 or over 1, and honest for few.
 * Of no trials nothing is known: 0 to 1.
 * Refuses counts that are not whole, negative, or more hits than trials.
 */
export function wilson(hits: number, trials: number): Interval {
  if (!Number.isSafeInteger(hits) || !Number.isSafeInteger(trials) || hits < 0 || hits > trials) {
    throw new Refusal(
      'bad-counts',
      `${hits} of ${trials} is no share. Give whole numbers, the first no more than the second.`,
    )
  }
  const { low, high } = wilsonOfWeights(hits, trials)
  return { low: hits === 0 ? 0 : low, high: hits === trials ? 1 : high }
}

/**
 * The same interval where each trial counts by a weight, so that `hits` of `trials` are sums and need not be
 * whole; for whole ones it is Wilson's own. Each hit that is added raises the lower bound, and so does each miss
 * that turns into a hit.
 */
export function wilsonOfWeights(hits: number, trials: number): Interval {
  if (!(hits >= 0 && hits <= trials && Number.isFinite(trials))) {
    throw new Refusal('bad-counts', `${hits} of ${trials} is no share. Give sums of weights of 0 or more.`)
  }
  if (trials === 0) return { low: 0, high: 1 }
  const share = hits / trials
  const spread = z ** 2 / trials
  const middle = share + spread / 2
  const half = z * Math.sqrt((share * (1 - share) + spread / 4) / trials)
  return {
    low: Math.max(0, (middle - half) / (1 + spread)),
    high: Math.min(1, (middle + half) / (1 + spread)),
  }
}
