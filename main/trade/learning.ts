/** A step learned from takes, and how much of it comes from them. */
export interface LearnedStep {
  readonly stepMs: number
  readonly takes: number
  /** The part of the takes in the learned step, 0 (the studio's own figure alone) to under 1. */
  readonly weight: number
}

/**
 * The studio's own step drawn toward what its takes show: in log time, the mean of the takes' median steps
 * weighs n / (n + priorTakes), the studio's figure the rest (normal shrinkage, priorTakes = σ² within takes ÷
 * τ² between them). The more takes, the less shrinkage.
 * @param studioStepMs  the studio's own figure, over 0
 * @param takeMedians   the median step of each take in ms, each over 0
 * @param priorTakes    how many takes the studio's figure is worth, over 0
 */
export function learnStep(studioStepMs: number, takeMedians: readonly number[], priorTakes = 4): LearnedStep {
  if (!(studioStepMs > 0) || !(priorTakes > 0) || takeMedians.some((ms) => !(ms > 0))) {
    throw new Error('learnStep: steps must be over 0; a take without two frames has none and is left out')
  }
  const takes = takeMedians.length
  const weight = takes / (takes + priorTakes)
  const mean = takes === 0 ? 0 : takeMedians.reduce((sum, ms) => sum + Math.log(ms), 0) / takes
  const stepMs = Math.round(Math.exp((1 - weight) * Math.log(studioStepMs) + weight * mean))
  return { stepMs, takes, weight }
}
