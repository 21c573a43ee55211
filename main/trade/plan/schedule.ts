import { type BenchState, type Busy, type HandState, type Placement, placeItem } from './placing.ts'
import type { PlacedItem, PlanItem, PlanProblem, Schedule, Step } from './problem.ts'

/**
 * The schedule of an order of work: each item as early as what was taken up before it allows, by the person
 * who is free first (by the bench's own where everyone has one). What an item waits for is taken up before it.
 */
export function scheduleOf(problem: PlanProblem, steps: readonly Step[]): Schedule {
  const run = startRun(problem)
  for (const step of firstsFirst(problem, steps)) takeUp(run, step)
  return finishRun(run)
}

/** The same order, but that an item which another waits for is taken up before it. */
function firstsFirst(problem: PlanProblem, steps: readonly Step[]): readonly Step[] {
  if (problem.items.every(({ after }) => after === undefined)) return steps
  const stepOf = new Map(steps.map((step) => [problem.items[step.item]?.id, step]))
  const ordered = new Set<Step>()
  const take = (step: Step): void => {
    const after = problem.items[step.item]?.after
    const before = after === undefined ? undefined : stepOf.get(after)
    if (before && !ordered.has(before)) take(before)
    ordered.add(step)
  }
  for (const step of steps) take(step)
  return [...ordered]
}

interface Run {
  readonly problem: PlanProblem
  readonly benches: BenchState[]
  readonly hands: HandState[]
  readonly busy: Busy[]
  readonly placed: PlacedItem[]
  readonly unplaced: number[]
  readonly endOf: Map<number, number>
  lateness: number
  moved: number
  changeover: number
  completion: number
}

const rested: HandState = { freeMin: Number.NEGATIVE_INFINITY, day: -1, turnedMin: 0 }

function startRun(problem: PlanProblem): Run {
  return {
    problem,
    benches: problem.benches.map(startOf),
    hands: Array.from({ length: Math.min(problem.hands, problem.benches.length) }, () => rested),
    busy: [],
    placed: [],
    unplaced: [],
    endOf: new Map(),
    lateness: 0,
    moved: 0,
    changeover: 0,
    completion: 0,
  }
}

/** A bench before its first item. */
export function startOf({ rig }: { readonly rig: number | null }): BenchState {
  return { freeMin: Number.NEGATIVE_INFINITY, window: -1, rig }
}

function takeUp(run: Run, step: Step): void {
  const { problem } = run
  const item = problem.items[step.item] as PlanItem
  const notBefore = waitsUntil(run, item)
  const hand = run.hands.length === run.benches.length ? step.bench : firstFree(run.hands)
  const place =
    notBefore === undefined
      ? undefined
      : placeItem(
          problem,
          item,
          step.bench,
          run.benches[step.bench] as BenchState,
          run.hands[hand] as HandState,
          notBefore,
          run.busy,
        )
  if (!place) {
    run.unplaced.push(item.id)
    return
  }
  run.benches[step.bench] = place.bench
  run.hands[hand] = place.hand
  keep(run, item, step.bench, place)
}

/** The end of what an item waits for; undefined where that found no place itself. */
function waitsUntil({ problem, endOf }: Run, { after }: PlanItem): number | undefined {
  if (after === undefined || !problem.items.some(({ id }) => id === after)) return Number.NEGATIVE_INFINITY
  return endOf.get(after)
}

function keep(run: Run, item: PlanItem, bench: number, place: Placement): void {
  const late = latenessMin(item, place.endMin)
  run.endOf.set(item.id, place.endMin)
  run.placed.push({
    id: item.id,
    bench,
    rigBefore: place.rigBefore,
    change: place.change,
    parts: place.parts,
    startMin: place.startMin,
    endMin: place.endMin,
    latenessMin: late,
  })
  if (run.benches.length > 1 && item.needs) {
    const fromMin = place.change?.fromMin ?? place.startMin
    for (const equipment of item.needs) run.busy.push({ equipment, bench, fromMin, toMin: place.endMin })
  }
  run.lateness += item.weight * late
  run.moved += movedFrom(run.problem, item, bench, place.startMin)
  run.changeover += place.changeoverMin
  run.completion += place.endMin
}

/** Minutes an item ends after it is due; 0 where it has no due day. */
export function latenessMin({ dueMin }: PlanItem, endMin: number): number {
  return dueMin === null ? 0 : Math.max(0, endMin - dueMin)
}

/** 1 where a plan that should move little moves this item, else 0. */
export function movedFrom(problem: PlanProblem, item: PlanItem, bench: number, startMin: number): 0 | 1 {
  if (!problem.keepsPlaces || !item.now) return 0
  return item.now.bench === bench && item.now.startMin === startMin ? 0 : 1
}

function firstFree(hands: readonly HandState[]): number {
  let first = 0
  for (let at = 1; at < hands.length; at += 1) {
    if ((hands[at] as HandState).freeMin < (hands[first] as HandState).freeMin) first = at
  }
  return first
}

function finishRun(run: Run): Schedule {
  return {
    placed: run.placed,
    unplaced: run.unplaced,
    cost: {
      unplaced: run.unplaced.length,
      weightedLatenessMin: run.lateness,
      moved: run.moved,
      changeoverMin: run.changeover,
      completionMin: run.completion,
    },
  }
}
