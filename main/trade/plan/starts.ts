import { aroundToday } from './aroundToday.ts'
import {
  compareCosts,
  type PlanItem,
  type PlanProblem,
  type Schedule,
  type Step,
  shortestMin,
} from './problem.ts'
import { type Standing, scheduleOf, startOf, takeUp, waitsOf } from './schedule.ts'

export interface Found {
  readonly steps: readonly Step[]
  readonly schedule: Schedule
}

/**
 * Orders to begin from, the best first: by due day, by goods-in, always the nearest rig, today's, and by the
 * urgency that weighs length, slack and set change, with several factors.
 */
export function starts(problem: PlanProblem): readonly Found[] {
  const due = ordered(problem, dueOf)
  const orders = [
    due,
    ordered(problem, ({ earliestMin }) => earliestMin),
    ordered(problem, (item) => item.now?.startMin ?? dueOf(item)),
    nearestRig(problem, due),
  ].map((order) => spread(problem, order))
  const today = problem.items.some(({ now }) => now) ? [aroundToday(problem)] : []
  // Dispatching takes the square of the items: many are dispatched in few ways.
  const slacks = problem.items.length > mostDispatched ? slackFactors.slice(-1) : slackFactors
  const dispatched = slacks.flatMap((slack) =>
    changeFactors.map((change) => byUrgency(problem, slack, change)),
  )
  return [...orders, ...today, ...dispatched]
    .map((steps) => found(problem, steps))
    .sort((a, b) => compareCosts(a.schedule.cost, b.schedule.cost))
}

/** The order by due day alone: what a plan is compared with. */
export function byDueDay(problem: PlanProblem): Found {
  return found(problem, spread(problem, ordered(problem, dueOf)))
}

/** Always the item with the shortest set change next, the earliest due among equals: what a plan is compared with. */
export function byNearestRig(problem: PlanProblem): Found {
  return found(problem, spread(problem, nearestRig(problem, ordered(problem, dueOf))))
}

/** The items by a figure of theirs, the smallest first; equals as they came. */
function ordered({ items }: PlanProblem, key: (item: PlanItem) => number): readonly number[] {
  return items
    .map((_, index) => index)
    .sort((a, b) => key(items[a] as PlanItem) - key(items[b] as PlanItem) || a - b)
}

function dueOf({ dueMin }: PlanItem): number {
  return dueMin ?? Number.MAX_SAFE_INTEGER
}

function nearestRig(problem: PlanProblem, order: readonly number[]): readonly number[] {
  const left = [...order]
  const chosen: number[] = []
  let rig = problem.benches[0]?.rig ?? null
  while (left.length > 0) {
    let best = 0
    for (let at = 1; at < left.length; at += 1) {
      if (changeTo(problem, rig, left[at]) < changeTo(problem, rig, left[best])) best = at
    }
    const [next] = left.splice(best, 1) as [number]
    rig = problem.items[next]?.rig ?? null
    chosen.push(next)
  }
  return chosen
}

function changeTo(
  { items, changeoverMin }: PlanProblem,
  rig: number | null,
  index: number | undefined,
): number {
  return changeoverMin(rig, (items[index as number] as PlanItem).rig)
}

/** How strongly slack and set change count in an item's urgency, in mean lengths and mean changes: a few of each. */
const slackFactors = [0.5, 1, 2, 4]
const changeFactors = [0.2, 0.5, 2]
const mostDispatched = 400

/**
 * Dispatching by apparent urgency (after Lee, Bhaskaran and Pinedo 1997): whichever bench is free first takes the item of
 * most weight over length, fading with the slack it has, the set change it asks for, and the wait for its goods. All
 * of it by the calendar: slack counts as bench time.
 */
function byUrgency(problem: PlanProblem, slackFactor: number, changeFactor: number): readonly Step[] {
  const { items, benches } = problem
  const waits = waitsOf(problem)
  const lengths = items.map((item) => Math.max(1, shortestMin(item)))
  const meanMin = lengths.reduce((sum, min) => sum + min, 0) / Math.max(1, items.length)
  const changeMin = meanChange(problem)
  const open = benches.map(openShare)
  const left = new Set(items.keys())
  const ends = new Map<number, number>()
  const steps: Step[] = []
  let standing = startOf(problem)
  while (left.size > 0) {
    const bench = freeFirst(problem, standing, left)
    const at = Math.max(standing.benches[bench]?.freeMin ?? 0, benches[bench]?.windows[0]?.fromMin ?? 0)
    let next = -1
    let most = -1
    for (const index of left) {
      const item = items[index] as PlanItem
      const first = waits[index]
      if (!item.partsMin[bench] || (first !== undefined && left.has(first))) continue
      const readyMin = Math.max(at, item.earliestMin)
      const length = lengths[index] as number
      const slack = item.dueMin === null ? 100 * meanMin : Math.max(0, item.dueMin - readyMin - length)
      const share = open[bench] as number
      const urgency =
        (Math.max(item.weight, 1e-3) / length) *
        Math.exp(
          -(slack * share) / (slackFactor * meanMin) -
            problem.changeoverMin(standing.benches[bench]?.rig ?? null, item.rig) /
              (changeFactor * changeMin) -
            ((readyMin - at) * share) / meanMin,
        )
      if (urgency > most) {
        most = urgency
        next = index
      }
    }
    // Where urgencies are too small to tell apart, or only items of other benches are left, any comes next.
    if (next < 0) next = left.values().next().value as number
    left.delete(next)
    const step = {
      item: next,
      bench: items[next]?.partsMin[bench] ? bench : ableBench(items[next] as PlanItem),
    }
    steps.push(step)
    const first = waits[next]
    const taken = takeUp(
      problem,
      standing,
      step,
      (first === undefined ? undefined : ends.get(first)) ?? -Infinity,
    )
    if (!taken) continue
    standing = taken.standing
    ends.set(next, taken.place.endMin)
  }
  return steps
}

/** Of the benches that hold something still to be done, the one that is free first. */
function freeFirst({ items, benches }: PlanProblem, standing: Standing, left: ReadonlySet<number>): number {
  if (benches.length === 1) return 0
  let first = 0
  let soonest = Number.POSITIVE_INFINITY
  for (let bench = 0; bench < benches.length; bench += 1) {
    const opens = benches[bench]?.windows[0]?.fromMin ?? Number.POSITIVE_INFINITY
    const freeMin = Math.max(standing.benches[bench]?.freeMin ?? 0, opens)
    if (freeMin >= soonest) continue
    for (const index of left) {
      if (!items[index]?.partsMin[bench]) continue
      first = bench
      soonest = freeMin
      break
    }
  }
  return first
}

function ableBench({ partsMin }: PlanItem): number {
  return Math.max(0, partsMin.findIndex(Boolean))
}

/** How much of the time that a bench's windows reach over they are open. */
function openShare({ windows }: PlanProblem['benches'][number]): number {
  const span = (windows.at(-1)?.toMin ?? 0) - (windows[0]?.fromMin ?? 0)
  const openMin = windows.reduce((sum, { fromMin, toMin }) => sum + toMin - fromMin, 0)
  return span > 0 ? openMin / span : 1
}

/** Minutes of a set change between two of the rigs, on average; at least 1. */
export function meanChange({ items, changeoverMin }: PlanProblem): number {
  const rigs = [...new Set(items.map(({ rig }) => rig))]
  const changes = rigs.flatMap((from) =>
    rigs.filter((to) => to !== from).map((to) => changeoverMin(from, to)),
  )
  return Math.max(1, changes.reduce((sum, min) => sum + min, 0) / Math.max(1, changes.length))
}

/** Gives each item of an order the bench on which it ends first. */
function spread(problem: PlanProblem, order: readonly number[]): readonly Step[] {
  if (problem.benches.length === 1) return order.map((item) => ({ item, bench: 0 }))
  const steps: Step[] = []
  const load = problem.benches.map(() => 0)
  for (const item of order) {
    const { partsMin } = problem.items[item] as PlanItem
    let bench = -1
    for (let at = 0; at < load.length; at += 1) {
      if (partsMin[at] && (bench < 0 || (load[at] as number) < (load[bench] as number))) bench = at
    }
    if (bench < 0) bench = 0
    load[bench] = (load[bench] as number) + (partsMin[bench] ?? []).reduce((sum, min) => sum + min, 0)
    steps.push({ item, bench })
  }
  return steps
}

export function found(problem: PlanProblem, steps: readonly Step[]): Found {
  return { steps, schedule: scheduleOf(problem, steps) }
}
