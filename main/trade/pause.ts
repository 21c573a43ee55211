const leastMs = 30_000
const leastSteps = 5

/**
 * A gap between two frames that is longer, in ms, is a pause and no step of a turn: half a minute and five usual steps.
 * Common practice, no published source.
 * @param usualStepMs  0 where it is not known
 */
export function longestStepMs(usualStepMs: number): number {
  return Math.max(leastMs, leastSteps * usualStepMs)
}
