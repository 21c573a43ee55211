import { changesNeeded, shortestMin } from './bound.ts'
import { type BenchState, type HandState, placeItem } from './placing.ts'
import { compareCosts, type PlanCost, type PlanItem, type PlanProblem, type Step } from './problem.ts'
import { latenessMin, movedFrom, startOf } from './schedule.ts'

/** A way to have done a set of items, the last one named: what it costs, and where it leaves bench and person. */
interface Label {
  readonly item: number
  readonly before: Label | undefined
  readonly bench: BenchState
  readonly hand: HandState
  readonly cost: PlanCost
}

const nothing: PlanCost = {
  unplaced: 0,
  weightedLatenessMin: 0,
  moved: 0,
  changeoverMin: 0,
  completionMin: 0,
}

/** Labels kept before the search for a proof is given up: some hundred megabytes. */
const mostLabels = 1_500_000

/**
 * The best order on one bench, by dynamic programming over the subsets of items done (after Held and Karp
 * 1962). Where goods-in, opening hours and lateness meet, one figure a subset is not enough: every label that no
 * other beats both in cost and in time is kept (Pareto labels), and one that cannot end below `atMost` is
 * dropped. Undefined where nothing is better than `atMost`, 'too large' where the labels run over.
 */
export function bestOrder(problem: PlanProblem, atMost: PlanCost): readonly Step[] | undefined | 'too large' {
  const { items } = problem
  const hasFixed = problem.benches[0]?.windows.some(
    ({ rigBefore, rigAfter }) => (rigBefore ?? rigAfter) !== undefined,
  )
  const done = (1 << items.length) - 1
  const kept: Label[][][] = Array.from({ length: done + 1 }, () => [])
  const root: Label = {
    item: -1,
    before: undefined,
    bench: startOf(problem.benches[0] as { rig: number | null }),
    hand: { freeMin: Number.NEGATIVE_INFINITY, day: -1, turnedMin: 0 },
    cost: nothing,
  }
  kept[0] = [[root]]
  let labels = 0
  for (let set = 0; set < done; set += 1) {
    const open = restOf(problem, set)
    // Labels with one last item have one rig up, so that they need the same set changes at least.
    for (const same of kept[set] as Label[][]) {
      const changeMin = same?.[0] ? changesLeft(problem, same[0], open) : 0
      for (const label of same ?? []) {
        if (!canEndBelow(problem, label, open, changeMin, atMost)) continue
        for (const index of open) {
          const next = extend(problem, label, index, set)
          if (next) labels += keepLabel(kept[set | (1 << index)] as Label[][], next, hasFixed)
        }
      }
    }
    kept[set] = []
    if (labels > mostLabels) return 'too large'
  }
  const best = (kept[done] as Label[][])
    .flat()
    .reduce<Label | undefined>(
      (low, label) => (low && compareCosts(low.cost, label.cost) <= 0 ? low : label),
      undefined,
    )
  return best && compareCosts(best.cost, atMost) < 0 ? orderOf(best) : undefined
}

function restOf({ items }: PlanProblem, set: number): readonly number[] {
  return items.flatMap((_, index) => (set & (1 << index) ? [] : [index]))
}

function extend(problem: PlanProblem, label: Label, index: number, set: number): Label | undefined {
  const item = problem.items[index] as PlanItem
  if (item.after !== undefined) {
    const first = problem.items.findIndex(({ id }) => id === item.after)
    if (first >= 0 && !(set & (1 << first))) return undefined
  }
  // The item waited for is done on this one bench, so that nothing more than the bench's own time holds it up.
  const place = placeItem(problem, item, 0, label.bench, label.hand, Number.NEGATIVE_INFINITY)
  if (!place) return undefined
  const { cost } = label
  return {
    item: index,
    before: label,
    bench: place.bench,
    hand: place.hand,
    cost: {
      unplaced: 0,
      weightedLatenessMin: cost.weightedLatenessMin + item.weight * latenessMin(item, place.endMin),
      moved: cost.moved + movedFrom(problem, item, 0, place.startMin),
      changeoverMin: cost.changeoverMin + place.changeoverMin,
      completionMin: cost.completionMin + place.endMin,
    },
  }
}

/** Keeps a label unless one of the same last item beats it; drops those it beats. Gives by how many there are more. */
function keepLabel(byLast: Label[][], next: Label, hasFixed = false): number {
  const same = byLast[next.item]
  if (!same) {
    byLast[next.item] = [next]
    return 1
  }
  for (const label of same) if (beats(label, next, hasFixed)) return 0
  const left = same.filter((label) => !beats(next, label, hasFixed))
  left.push(next)
  byLast[next.item] = left
  return left.length - same.length
}

/**
 * True where whatever follows the second can follow the first no worse: it is no dearer, no later, and, within
 * one window and day, has turned no more. In an earlier window a fixed block may still come between, so that
 * only labels of one window are compared where blocks leave rigs standing.
 */
function beats(a: Label, b: Label, hasFixed: boolean): boolean {
  return (
    a.bench.freeMin <= b.bench.freeMin &&
    (!hasFixed || a.bench.window === b.bench.window) &&
    (a.hand.day !== b.hand.day || a.hand.turnedMin <= b.hand.turnedMin) &&
    compareCosts(a.cost, b.cost) <= 0
  )
}

/** Set change minutes that what is still open needs at least, from the rig that a label leaves up. */
function changesLeft(problem: PlanProblem, label: Label, open: readonly number[]): number {
  const benches = problem.benches.map((bench) => ({ ...bench, rig: label.bench.rig }))
  return changesNeeded(
    { ...problem, benches },
    open.map((index) => (problem.items[index] as PlanItem).rig),
  )
}

/** False where even the rest each alone from here on, with no set changes but the needed ones, ends above `atMost`. */
function canEndBelow(
  problem: PlanProblem,
  { bench, cost }: Label,
  open: readonly number[],
  changeMin: number,
  atMost: PlanCost,
): boolean {
  let { weightedLatenessMin, completionMin } = cost
  const opensMin = problem.benches[0]?.windows[0]?.fromMin ?? 0
  for (const index of open) {
    const item = problem.items[index] as PlanItem
    const endMin = Math.max(item.earliestMin, bench.freeMin, opensMin) + shortestMin(item)
    weightedLatenessMin += item.weight * latenessMin(item, endMin)
    completionMin += endMin
  }
  const changeoverMin = cost.changeoverMin + changeMin
  return compareCosts({ ...cost, weightedLatenessMin, changeoverMin, completionMin }, atMost) < 0
}

function orderOf(label: Label): readonly Step[] {
  const steps: Step[] = []
  for (let at: Label | undefined = label; at && at.item >= 0; at = at.before)
    steps.push({ item: at.item, bench: 0 })
  return steps.reverse()
}
