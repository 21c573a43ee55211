import { shortestMin } from './bound.ts'
import { compareCosts, type PlanItem, type PlanProblem, type Schedule, type Step } from './problem.ts'
import { scheduleOf } from './schedule.ts'

export interface Found {
  readonly steps: readonly Step[]
  readonly schedule: Schedule
}

/**
 * Orders to begin from, the best first: by due day, by goods-in, always the nearest rig, today's, and by the
 * urgency that weighs length, slack and set change (after Lee, Bhaskaran and Pinedo 1997).
 */
export function starts(problem: PlanProblem): readonly Found[] {
  const due = ordered(problem, dueOf)
  const orders = [
    due,
    ordered(problem, ({ earliestMin }) => earliestMin),
    ordered(problem, (item) => item.now?.startMin ?? dueOf(item)),
    nearestRig(problem, due),
    byUrgency(problem),
  ]
  return orders
    .map((order) => found(problem, spread(problem, order)))
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

/** Apparent urgency: weight over length, fading with slack and with the set change that it asks for. */
function byUrgency(problem: PlanProblem): readonly number[] {
  const { items } = problem
  const lengths = items.map((item) => Math.max(1, shortestMin(item)))
  const mean = lengths.reduce((sum, min) => sum + min, 0) / Math.max(1, items.length)
  const left = items.map((_, index) => index)
  const chosen: number[] = []
  let rig = problem.benches[0]?.rig ?? null
  let at = Math.min(...items.map(({ earliestMin }) => earliestMin))
  while (left.length > 0) {
    let best = 0
    let most = -1
    for (let slot = 0; slot < left.length; slot += 1) {
      const index = left[slot] as number
      const item = items[index] as PlanItem
      const length = lengths[index] as number
      const slack = Math.max(0, (item.dueMin ?? at + 100 * mean) - length - Math.max(at, item.earliestMin))
      const wait = Math.max(0, item.earliestMin - at)
      const change = problem.changeoverMin(rig, item.rig)
      const urgency =
        (Math.max(item.weight, 1e-3) / length) * Math.exp(-slack / (2 * mean) - change / mean - wait / mean)
      if (urgency > most) {
        most = urgency
        best = slot
      }
    }
    const [next] = left.splice(best, 1) as [number]
    at = Math.max(at, items[next]?.earliestMin ?? at) + (lengths[next] as number)
    rig = items[next]?.rig ?? null
    chosen.push(next)
  }
  return chosen
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

/** How many of its own past costs the search looks back at: it may get worse for so long, and then not. */
const memory = 40

/**
 * Betters an order by local search with late acceptance (after Burke and Bykov 2017): an item moved to another
 * place or bench, two exchanged, a run of two or three moved together. Seeded, so that the same input gives the same
 * plan; its budget is a number of trials, never seconds. `onTrial` hears of progress and ends the search by false.
 */
export function search(
  problem: PlanProblem,
  from: Found,
  trials: number,
  seed: number,
  onTrial: (done: number, best: Found) => boolean = () => true,
): Found {
  const random = seeded(seed)
  const past = Array.from({ length: memory }, () => from.schedule.cost)
  let best = from
  let at = from
  for (let trial = 0; trial < trials; trial += 1) {
    if (trial % 256 === 0 && !onTrial(trial, best)) break
    const next = found(problem, moved(problem, at.steps, random))
    const slot = trial % memory
    const isNoWorse = compareCosts(next.schedule.cost, at.schedule.cost) <= 0
    if (isNoWorse || compareCosts(next.schedule.cost, past[slot] ?? at.schedule.cost) <= 0) at = next
    if (compareCosts(at.schedule.cost, best.schedule.cost) < 0) best = at
    past[slot] = at.schedule.cost
  }
  return best
}

function moved(problem: PlanProblem, steps: readonly Step[], random: () => number): readonly Step[] {
  const next = [...steps]
  const pick = (below: number) => Math.floor(random() * below)
  const kind = random()
  if (kind < 0.3 && next.length > 1) {
    const [a, b] = [pick(next.length), pick(next.length)]
    ;[next[a], next[b]] = [next[b] as Step, next[a] as Step]
    return next
  }
  const length = kind < 0.65 ? 1 : 2 + pick(2)
  const start = pick(Math.max(1, next.length - length + 1))
  const run = next.splice(start, length).map((step) => elsewhere(problem, step, random))
  next.splice(pick(next.length + 1), 0, ...run)
  return next
}

/** The same item, now and then on another bench that can hold it. */
function elsewhere({ benches, items }: PlanProblem, step: Step, random: () => number): Step {
  if (benches.length === 1 || random() < 0.5) return step
  const able = benches.flatMap((_, bench) => (items[step.item]?.partsMin[bench] ? [bench] : []))
  return able.length === 0 ? step : { ...step, bench: able[Math.floor(random() * able.length)] as number }
}

/** Mulberry32: a small generator whose row of numbers is the same on every machine. */
function seeded(seed: number): () => number {
  let state = seed >>> 0
  return () => {
    state = (state + 0x6d2b79f5) >>> 0
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state)
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296
  }
}
