import type { PlanCost, PlanItem, PlanProblem } from './problem.ts'

/** What no plan can do better than; weaker than the best plan, but found at once. */
export type PlanBound = Pick<PlanCost, 'weightedLatenessMin' | 'changeoverMin'>

/**
 * A lower bound. Of lateness the larger of two: every item alone on its best bench, and all items that are
 * due by some instant shared out over the hands, broken where need be, which makes the last of them at least so late (after Jackson's
 * rule: one machine, preemption allowed). Of set changes: each rig must come up once on some bench where it
 * does not stand already, by the shortest change that leads to it.
 */
export function lowerBound(problem: PlanProblem): PlanBound {
  return {
    weightedLatenessMin: Math.max(aloneLateness(problem), queueLateness(problem)),
    changeoverMin: changesNeeded(
      problem,
      problem.items.map(({ rig }) => rig),
    ),
  }
}

function aloneLateness({ items }: PlanProblem): number {
  let sum = 0
  for (const item of items)
    sum += item.weight * Math.max(0, item.earliestMin + shortestMin(item) - (item.dueMin ?? Infinity))
  return sum
}

/**
 * The items due by an instant fill the hands from their first goods on: the work left over at that instant is
 * late by at least its length, at the smallest weight among them.
 */
function queueLateness({ items, benches, hands }: PlanProblem): number {
  const due = items.filter(({ dueMin }) => dueMin !== null).sort((a, b) => (a.dueMin ?? 0) - (b.dueMin ?? 0))
  const opens = Math.min(...benches.map(({ windows }) => windows[0]?.fromMin ?? Infinity))
  const workers = Math.min(hands, benches.length)
  let most = 0
  let work = 0
  let first = Infinity
  let least = Infinity
  for (const item of due) {
    work += shortestMin(item)
    first = Math.min(first, item.earliestMin)
    least = Math.min(least, item.weight)
    const endMin = Math.max(first, opens) + work / workers
    most = Math.max(most, least * Math.max(0, endMin - (item.dueMin ?? 0)))
  }
  return most
}

/** The shortest time of an item on any bench that holds it. */
export function shortestMin({ partsMin }: PlanItem): number {
  let shortest = Infinity
  for (const parts of partsMin) {
    if (parts)
      shortest = Math.min(
        shortest,
        parts.reduce((sum, min) => sum + min, 0),
      )
  }
  return Number.isFinite(shortest) ? shortest : 0
}

/** Set change minutes that the rigs of these items need at least. */
export function changesNeeded({ benches, changeoverMin }: PlanProblem, rigs: readonly number[]): number {
  const distinct = new Set(rigs)
  const standing = new Set<number>()
  const starts: (number | null)[] = []
  for (const { rig, windows } of benches) {
    for (const left of [rig, ...windows.map(({ rigBefore }) => rigBefore)]) {
      if (left === undefined) continue
      starts.push(left)
      if (left !== null) standing.add(left)
    }
  }
  let sum = 0
  for (const rig of distinct) {
    if (standing.has(rig)) continue
    const ways = [...starts, ...distinct]
      .filter((from) => from !== rig)
      .map((from) => changeoverMin(from, rig))
    sum += Math.min(...ways)
  }
  return sum
}
