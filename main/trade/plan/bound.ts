import { leastAssignment } from './assignment.ts'
import { type OpenProfile, openProfile, soonestEnds } from './openProfile.ts'
import { latenessMin, type PlanCost, type PlanItem, type PlanProblem, shortestMin } from './problem.ts'

/** What no plan can do better than; weaker than the best plan, but found at once. */
export type PlanBound = Pick<PlanCost, 'weightedLatenessMin' | 'changeoverMin'>

/**
 * A lower bound. Of lateness the largest of three: every item alone on its best bench (in its own window); all items that
 * are due by some instant one after the other, broken where need be, the last of them late by so much (after Jackson's rule: one
 * machine, preemption allowed); and the items shared out to the soonest instants by which one, two, three … of them can
 * be done at all (`soonestEnds`), in the cheapest way. Of set changes: each rig must come up once on some bench where it
 * does not stand already, by the shortest change that leads to it.
 */
export function lowerBound(problem: PlanProblem): PlanBound {
  const profile = openProfile(problem)
  return {
    weightedLatenessMin: Math.max(
      aloneLateness(problem),
      queueLateness(problem, profile),
      sharedLateness(problem, profile),
    ),
    changeoverMin: changesNeeded(
      problem,
      problem.items.map(({ rig }) => rig),
    ),
  }
}

function aloneLateness({ items, benches }: PlanProblem): number {
  return items.reduce((sum, item) => sum + item.weight * latenessMin(item, soonestAlone(benches, item)), 0)
}

/** When an item ends at the soonest with nothing else to do: in one window where it is whole. */
function soonestAlone(benches: PlanProblem['benches'], item: PlanItem): number {
  let soonest = Number.POSITIVE_INFINITY
  for (const [at, { windows }] of benches.entries()) {
    const parts = item.partsMin[at]
    if (!parts) continue
    const [first = 0, ...others] = parts
    const place = windows.find(({ fromMin, toMin }) => Math.max(fromMin, item.earliestMin) + first <= toMin)
    if (!place) continue
    const rest = others.reduce((sum, min) => sum + min, 0)
    soonest = Math.min(soonest, Math.max(place.fromMin, item.earliestMin) + first + rest)
  }
  return Number.isFinite(soonest) ? soonest : item.earliestMin + shortestMin(item)
}

/** The items due by an instant, from their first goods on: the last is late at the smallest weight among them. */
function queueLateness({ items }: PlanProblem, profile: OpenProfile): number {
  const due = items.filter(({ dueMin }) => dueMin !== null).sort((a, b) => (a.dueMin ?? 0) - (b.dueMin ?? 0))
  let most = 0
  let work = 0
  let first = Infinity
  let least = Infinity
  for (const item of due) {
    work += shortestMin(item)
    first = Math.min(first, item.earliestMin)
    least = Math.min(least, item.weight)
    most = Math.max(most, least * latenessMin(item, profile.instantOf(profile.openBefore(first) + work)))
  }
  return most
}

/** Items above which the sharing out would take longer than the search. */
const mostShared = 400

/** Each item takes one of the instants by which so many items can be done at the soonest, but none before its own. */
function sharedLateness(problem: PlanProblem, profile: OpenProfile): number {
  const { items, benches } = problem
  if (items.length === 0 || items.length > mostShared) return 0
  const ends = soonestEnds(items, profile)
  const costs = items.map((item) => {
    const alone = soonestAlone(benches, item)
    return ends.map((endMin) => item.weight * latenessMin(item, Math.max(endMin, alone)))
  })
  return leastAssignment(costs)
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
