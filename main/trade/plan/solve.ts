import { lowerBound, type PlanBound } from './bound.ts'
import { bestOrder } from './exact.ts'
import { checkProblem, compareCosts, type PlanItem, type PlanProblem, type Schedule } from './problem.ts'
import { type Found, found, search, starts } from './search.ts'

/** Items up to which one bench is planned with a proof. */
const mostProved = 13

export interface SolveOptions {
  /** Orders tried by the search; the same number and seed give the same plan. */
  readonly trials: number
  readonly seed?: number
  /** Hears how many orders are tried and what the best plan is; false ends the search with that. */
  readonly onProgress?: (done: number, best: Schedule) => boolean
}

export interface Plan extends Schedule {
  /** True where no other order of these items is better. */
  readonly isProved: boolean
  /** What no plan can do better than, whether or not one does so well. */
  readonly bound: PlanBound
  /** Items that no bench can ever hold: each part must fit one opening stretch, and one day's turning. */
  readonly impossible: readonly number[]
}

/**
 * A plan: the best one, proved, for up to 13 items on one bench; else the best that the search finds from good
 * starts in so many trials. Same input, same plan.
 * Goals by rank (as in a studio's own order of worries): every item placed, least weighted lateness, fewest moved where
 * places are kept, least set change, earliest ends. Refuses what `checkProblem` refuses.
 */
export function solvePlan(whole: PlanProblem, options: SolveOptions): Plan {
  checkProblem(whole)
  const impossible = whole.items.filter((item) => !canEverLie(whole, item)).map(({ id }) => id)
  const problem = { ...whole, items: whole.items.filter(({ id }) => !impossible.includes(id)) }
  const { best, isProved } = solvePossible(problem, options)
  return { ...best.schedule, isProved, bound: lowerBound(problem), impossible }
}

function solvePossible(problem: PlanProblem, options: SolveOptions): { best: Found; isProved: boolean } {
  const [first] = starts(problem)
  const start = first ?? found(problem, [])
  if (problem.items.length < 2) return { best: start, isProved: problem.benches.length === 1 }
  const { seed = 1, onProgress } = options
  const isSmall = problem.benches.length === 1 && problem.items.length <= mostProved
  // A short search first: the better the plan in hand, the more the proof can leave out.
  const trials = isSmall ? Math.min(options.trials, 100 * problem.items.length) : options.trials
  const best = search(
    problem,
    start,
    trials,
    seed,
    onProgress && ((done, at) => onProgress(done, at.schedule)),
  )
  if (!isSmall) return { best, isProved: false }
  const better = bestOrder(problem, best.schedule.cost)
  if (better === 'too large') return { best: search(problem, best, options.trials, seed), isProved: false }
  const proved = better ? found(problem, better) : best
  // The proof speaks of plans that place every item.
  return {
    best: compareCosts(proved.schedule.cost, best.schedule.cost) <= 0 ? proved : best,
    isProved: best.schedule.cost.unplaced === 0,
  }
}

function canEverLie({ benches, turningCapMin }: PlanProblem, { partsMin }: PlanItem): boolean {
  return benches.some(({ windows }, bench) => {
    const longest = Math.max(0, ...(partsMin[bench] ?? [Number.POSITIVE_INFINITY]))
    return (
      (turningCapMin === null || longest <= turningCapMin) &&
      windows.some(({ fromMin, toMin }) => toMin - fromMin >= longest)
    )
  })
}
