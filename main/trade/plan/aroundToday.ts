import { type PlanItem, type PlanProblem, type Step, shortestMin } from './problem.ts'
import { type Standing, startOf, takeUp, waitsOf } from './schedule.ts'

/** How far an order is worked out. */
interface Reached {
  readonly problem: PlanProblem
  readonly waits: readonly (number | undefined)[]
  readonly steps: Step[]
  /** When what is taken up ends, by index. */
  readonly ends: Map<number, number>
  standing: Standing
}

/**
 * Today's order on today's benches, and round it what has no place yet: the earliest due first, each before the first item of
 * today that it does not push away, and what fits nowhere before them behind them, where it ends first.
 */
export function aroundToday(problem: PlanProblem): readonly Step[] {
  const { items } = problem
  const reached: Reached = {
    problem,
    waits: waitsOf(problem),
    steps: [],
    ends: new Map(),
    standing: startOf(problem),
  }
  const today = items
    .flatMap(({ now, partsMin }, item) =>
      now && now.bench !== null && partsMin[now.bench] ? [{ item, bench: now.bench, at: now.startMin }] : [],
    )
    .sort((a, b) => a.at - b.at || a.item - b.item)
  const placed = new Set(today.map(({ item }) => item))
  let open = [...items.keys()]
    .filter((item) => !placed.has(item))
    .sort((a, b) => dueOf(items[a]) - dueOf(items[b]) || a - b)
  for (const { item, bench } of today) {
    const step = { item, bench }
    open = open.filter((other) => !takenBefore(reached, { item: other, bench }, step))
    take(reached, step)
  }
  for (const item of open) take(reached, endsFirst(reached, item))
  return reached.steps
}

function dueOf(item: PlanItem | undefined): number {
  return item?.dueMin ?? Number.MAX_SAFE_INTEGER
}

/** Takes an item up before one of today where that one then begins no later than without it. */
function takenBefore(reached: Reached, step: Step, then: Step): boolean {
  const { problem, standing } = reached
  const { now } = problem.items[then.item] as PlanItem
  const isTooLong =
    shortestMin(problem.items[step.item] as PlanItem) > (now?.startMin ?? 0) - freeMin(standing, step)
  const first = reached.waits[step.item]
  if (isTooLong || (first !== undefined && !reached.ends.has(first))) return false
  const taken = takeUp(problem, standing, step, waitsUntil(reached, step.item))
  if (!taken) return false
  const notBefore = waitsUntil(reached, then.item)
  const after = takeUp(problem, taken.standing, then, notBefore)
  const alone = takeUp(problem, standing, then, notBefore)
  if (!after || !alone || after.place.startMin > alone.place.startMin) return false
  take(reached, step)
  return true
}

function freeMin({ benches }: Standing, { bench }: Step): number {
  return benches[bench]?.freeMin ?? Number.NEGATIVE_INFINITY
}

/** The step of an item on the bench where it ends first; on any where it finds no place. */
function endsFirst(reached: Reached, item: number): Step {
  const { partsMin } = reached.problem.items[item] as PlanItem
  let best: Step = { item, bench: Math.max(0, partsMin.findIndex(Boolean)) }
  let endMin = Number.POSITIVE_INFINITY
  for (const bench of partsMin.keys()) {
    const step = { item, bench }
    const taken = takeUp(reached.problem, reached.standing, step, waitsUntil(reached, item))
    if (!taken || taken.place.endMin >= endMin) continue
    best = step
    endMin = taken.place.endMin
  }
  return best
}

function waitsUntil({ waits, ends }: Reached, item: number): number {
  const first = waits[item]
  return (first === undefined ? undefined : ends.get(first)) ?? Number.NEGATIVE_INFINITY
}

function take(reached: Reached, step: Step): void {
  reached.steps.push(step)
  const taken = takeUp(reached.problem, reached.standing, step, waitsUntil(reached, step.item))
  if (!taken) return
  reached.standing = taken.standing
  reached.ends.set(step.item, taken.place.endMin)
}
