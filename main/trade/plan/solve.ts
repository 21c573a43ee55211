import { lowerBound, type PlanBound } from './bound.ts'
import { bestOrder } from './exact.ts'
import {
  benchAlone,
  checkProblem,
  compareCosts,
  type PlanCost,
  type PlanItem,
  type PlanProblem,
  type Schedule,
} from './problem.ts'
import { search } from './search.ts'
import { type Found, found, starts } from './starts.ts'

/** Items up to which a plan is proved: on one bench, and on several. */
const mostProved = 13
const mostProvedOnSeveral = 8

export interface SolveOptions {
  /** Orders tried by the search; the same number and seed give the same plan. */
  readonly trials: number
  readonly seed?: number
  /** Hears how many orders are tried and what the best plan costs; false ends the search with that. */
  readonly onProgress?: (done: number, best: PlanCost) => boolean
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
 * A plan: the best one, proved, for up to 13 items on one bench and up to 8 on several (where everyone has their own
 * bench, or one person all); else the best that the search finds from good starts in so many trials, on several benches also
 * from the best found for each bench alone. Same input, same plan.
 * Goals by rank (as in a studio's own order of worries): every item placed, least weighted lateness, fewest moved where
 * places are kept, least set change, earliest ends. Refuses what `checkProblem` refuses.
 */
export function solvePlan(whole: PlanProblem, options: SolveOptions): Plan {
  checkProblem(whole)
  const impossible = whole.items.filter((item) => !canEverLie(whole, item)).map(({ id }) => id)
  const problem = { ...whole, items: whole.items.filter(({ id }) => !impossible.includes(id)) }
  const bound = lowerBound(problem)
  const { best, isProved } = solvePossible(problem, options, bound)
  return { ...best.schedule, isProved, bound, impossible }
}

interface Solved {
  readonly best: Found
  readonly isProved: boolean
}

function solvePossible(problem: PlanProblem, options: SolveOptions, bound?: PlanBound): Solved {
  const { items, benches } = problem
  if (items.length === 0) return { best: found(problem, []), isProved: true }
  const { trials, seed = 1, onProgress } = options
  const isSmall = canBeProved(problem)
  // A short search first: the better the plan in hand, the more the proof can leave out.
  const first = isSmall ? Math.min(trials, 100 * items.length) : trials
  const alone = benches.length === 1 || trials < 2 ? [] : alonePlans(problem, options)
  const start = bestOf([...starts(problem), ...alone])
  const best = searched(problem, start, { trials: first, seed, ...(onProgress && { onProgress }) }, bound)
  if (!isSmall) return { best, isProved: false }
  const better = bestOrder(problem, best.schedule.cost)
  if (better === 'too large') {
    return { best: searched(problem, best, options, bound), isProved: false }
  }
  // The proof speaks of plans that place every item.
  return {
    best: better ? bestOf([found(problem, better), best]) : best,
    isProved: better !== undefined || best.schedule.cost.unplaced === 0,
  }
}

/**
 * The search; where places are kept a calm one before it, from which less moves, and one behind it, which puts back what
 * the search took elsewhere for nothing.
 */
function searched(
  problem: PlanProblem,
  start: Found,
  { trials, seed = 1, onProgress }: SolveOptions,
  bound: PlanBound | undefined,
): Found {
  const part = (from: Found, before: number, count: number, isCalm: boolean) => {
    const told = (done: number, best: PlanCost) => onProgress?.(before + done, best) ?? true
    return search(problem, from, count, seed, whileItHelps(count, bound, told), isCalm)
  }
  if (!problem.keepsPlaces) return part(start, 0, trials, false)
  const calm = Math.floor(trials / 4)
  const rest = trials - 2 * calm
  const settled = part(start, 0, calm, true)
  const best = part(settled, calm, rest, false)
  return part(best, calm + rest, calm, true)
}

/** Part of its trials that a search goes on without a better plan, where only earlier ends could still be found. */
const patience = 0.25

/**
 * Ends a search that is at its bound by the number of trials since its last better plan, never by time: the same input gives
 * the same plan. Any other is let go on: it finds its best when what is worse passes no longer.
 */
function whileItHelps(
  trials: number,
  bound: PlanBound | undefined,
  onTrial: (done: number, best: PlanCost) => boolean,
): (done: number, best: PlanCost) => boolean {
  let last: PlanCost | undefined
  let since = 0
  return (done, best) => {
    if (last === undefined || compareCosts(best, last) < 0) {
      last = best
      since = done
    }
    const isDone = bound !== undefined && isAtBound(best, bound) && done - since > patience * trials
    return onTrial(done, best) && !isDone
  }
}

/** True where no plan is better in any goal of which a bound is known: all but the earliest ends. */
function isAtBound(
  { unplaced, weightedLatenessMin, moved, changeoverMin }: PlanCost,
  bound: PlanBound,
): boolean {
  return (
    unplaced === 0 &&
    moved === 0 &&
    weightedLatenessMin <= bound.weightedLatenessMin + 1e-6 &&
    changeoverMin <= bound.changeoverMin
  )
}

function canBeProved({ items, benches, hands }: PlanProblem): boolean {
  if (benches.length === 1) return items.length <= mostProved
  return items.length <= mostProvedOnSeveral && (hands === 1 || hands >= benches.length)
}

/** The best plan found for each bench alone, as plans of the whole: with more benches none should be worse. */
function alonePlans(problem: PlanProblem, { trials, seed = 1 }: SolveOptions): readonly Found[] {
  return problem.benches.flatMap((_, at) => {
    const own = benchAlone(problem, at)
    if (own.items.some(({ partsMin }) => partsMin[0] === null)) return []
    const { best } = solvePossible(own, { trials: Math.ceil(trials / 10 / problem.benches.length), seed })
    return [
      found(
        problem,
        best.steps.map((step) => ({ ...step, bench: at })),
      ),
    ]
  })
}

function bestOf(all: readonly Found[]): Found {
  const [first, ...others] = all
  if (!first) throw new Error('There is no plan to choose from.')
  return others.reduce(
    (best, one) => (compareCosts(one.schedule.cost, best.schedule.cost) < 0 ? one : best),
    first,
  )
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
