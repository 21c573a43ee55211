import type { Plan } from './solve.ts'

/** The first of the plan's goals in which a better plan may still be found, and by how much at most. */
export interface PlanGap {
  readonly goal: 'lateness' | 'moved' | 'set change' | 'earlier ends'
  /** Weighted minutes late, items moved or minutes of set change; null for earlier ends, which have no bound. */
  readonly atMost: number | null
}

/**
 * How much better a plan could be at most. Null where it is proved best, and where nothing useful can be
 * said: items without a place, or lateness of which no bound is known.
 * The goals rank, so that a bound on set changes says something only where lateness cannot be less.
 */
export function gapOf({ isProved, cost, bound }: Pick<Plan, 'isProved' | 'cost' | 'bound'>): PlanGap | null {
  if (isProved || cost.unplaced > 0) return null
  const lateness = cost.weightedLatenessMin - bound.weightedLatenessMin
  if (lateness > 1e-6) {
    return bound.weightedLatenessMin > 0 ? { goal: 'lateness', atMost: lateness } : null
  }
  if (cost.moved > 0) return { goal: 'moved', atMost: cost.moved }
  const change = cost.changeoverMin - bound.changeoverMin
  return change > 0 ? { goal: 'set change', atMost: change } : { goal: 'earlier ends', atMost: null }
}
