import { type BenchState, type Busy, type HandState, type Placement, placeItem } from './placing.ts'
import {
  latenessMin,
  type PlacedItem,
  type PlanCost,
  type PlanItem,
  type PlanProblem,
  type Schedule,
  type Step,
} from './problem.ts'

/** Where benches, people and scarce equipment stand after some steps. */
export interface Standing {
  readonly benches: readonly BenchState[]
  readonly hands: readonly HandState[]
  readonly busy: readonly Busy[]
}

/** What taking an item up takes, what it leaves and what it costs. */
export interface Taken {
  readonly place: Placement
  /** Index of the pair of hands that does it. */
  readonly hand: number
  readonly standing: Standing
  readonly cost: PlanCost
}

export const noCost: PlanCost = {
  unplaced: 0,
  weightedLatenessMin: 0,
  moved: 0,
  changeoverMin: 0,
  completionMin: 0,
}

/** What an item costs that finds no place. */
export const costUnplaced: PlanCost = { ...noCost, unplaced: 1 }

export function costsAdded(a: PlanCost, b: PlanCost): PlanCost {
  return {
    unplaced: a.unplaced + b.unplaced,
    weightedLatenessMin: a.weightedLatenessMin + b.weightedLatenessMin,
    moved: a.moved + b.moved,
    changeoverMin: a.changeoverMin + b.changeoverMin,
    completionMin: a.completionMin + b.completionMin,
  }
}

const rested: HandState = { freeMin: Number.NEGATIVE_INFINITY, day: -1, turnedMin: 0 }

/** Before the first item. */
export function startOf({ benches, hands }: PlanProblem): Standing {
  return {
    benches: benches.map(({ rig }) => ({ freeMin: Number.NEGATIVE_INFINITY, window: -1, rig })),
    hands: Array.from({ length: Math.min(hands, benches.length) }, () => rested),
    busy: [],
  }
}

/**
 * Takes an item up as early as what was taken up before it allows, by the person who is free first (by the
 * bench's own where everyone has one), and not before `notBeforeMin`. Undefined where it finds no place.
 */
export function takeUp(
  problem: PlanProblem,
  standing: Standing,
  step: Step,
  notBeforeMin: number,
): Taken | undefined {
  const { item: index, bench } = step
  const item = problem.items[index] as PlanItem
  const { benches, hands, busy } = standing
  const hand = hands.length === benches.length ? bench : firstFree(hands)
  const place = placeItem(
    problem,
    item,
    bench,
    benches[bench] as BenchState,
    hands[hand] as HandState,
    Math.max(notBeforeMin, keptFromMin(problem, item, step)),
    busy,
  )
  if (!place) return undefined
  return {
    place,
    hand,
    standing: {
      benches: replaced(benches, bench, place.bench),
      hands: replaced(hands, hand, place.hand),
      busy: benches.length > 1 && item.needs?.length ? [...busy, ...busyBy(item, bench, place)] : busy,
    },
    cost: {
      unplaced: 0,
      weightedLatenessMin: item.weight * latenessMin(item, place.endMin),
      moved: movedFrom(problem, item, step, place.startMin),
      changeoverMin: place.changeoverMin,
      completionMin: place.endMin,
    },
  }
}

function replaced<T>(all: readonly T[], at: number, by: T): readonly T[] {
  if (all.length === 1) return [by]
  const next = all.slice()
  next[at] = by
  return next
}

function busyBy(
  { needs }: PlanItem,
  bench: number,
  { change, startMin, endMin }: Placement,
): readonly Busy[] {
  const fromMin = change?.fromMin ?? startMin
  return (needs ?? []).map((equipment) => ({ equipment, bench, fromMin, toMin: endMin }))
}

function firstFree(hands: readonly HandState[]): number {
  let first = 0
  for (let at = 1; at < hands.length; at += 1) {
    if ((hands[at] as HandState).freeMin < (hands[first] as HandState).freeMin) first = at
  }
  return first
}

/**
 * The schedule of an order of work: each item is taken up after those before it, and what an item waits for before
 * it. An item whose first spin finds no place finds none either.
 */
export function scheduleOf(problem: PlanProblem, steps: readonly Step[]): Schedule {
  const placed: PlacedItem[] = []
  const unplaced: number[] = []
  const waits = waitsOf(problem)
  const ends = new Map<number, number>()
  let standing = startOf(problem)
  let cost = noCost
  for (const step of firstsFirst(steps, waits)) {
    const item = problem.items[step.item] as PlanItem
    const first = waits[step.item]
    const notBeforeMin = first === undefined ? Number.NEGATIVE_INFINITY : ends.get(first)
    const taken = notBeforeMin === undefined ? undefined : takeUp(problem, standing, step, notBeforeMin)
    if (!taken) {
      unplaced.push(item.id)
      cost = costsAdded(cost, costUnplaced)
      continue
    }
    const { place } = taken
    ends.set(step.item, place.endMin)
    standing = taken.standing
    cost = costsAdded(cost, taken.cost)
    placed.push({
      id: item.id,
      bench: step.bench,
      hand: taken.hand,
      rigBefore: place.rigBefore,
      change: place.change,
      parts: place.parts,
      startMin: place.startMin,
      endMin: place.endMin,
      latenessMin: latenessMin(item, place.endMin),
    })
  }
  return { placed, unplaced, cost }
}

/** By item, the index of the one it waits for; undefined where it waits for none of these items. */
export function waitsOf({ items }: PlanProblem): readonly (number | undefined)[] {
  if (items.every(({ after }) => after === undefined)) return []
  const indexes = new Map(items.map(({ id }, index) => [id, index]))
  return items.map(({ after }) => (after === undefined ? undefined : indexes.get(after)))
}

/** The same order, but that an item which another waits for is taken up before it. */
export function firstsFirst(steps: readonly Step[], waits: readonly (number | undefined)[]): readonly Step[] {
  if (waits.length === 0) return steps
  const stepOf = new Map(steps.map((step) => [step.item, step]))
  const ordered = new Set<Step>()
  const take = (step: Step): void => {
    const first = waits[step.item]
    const before = first === undefined ? undefined : stepOf.get(first)
    if (before && !ordered.has(before)) take(before)
    ordered.add(step)
  }
  for (const step of steps) take(step)
  return [...ordered]
}

/** Where places are kept an item waits for its place of today, unless it is free to go before it. */
function keptFromMin({ keepsPlaces }: PlanProblem, { now }: PlanItem, { bench, isFree }: Step): number {
  return keepsPlaces && !isFree && now?.bench === bench ? now.startMin : Number.NEGATIVE_INFINITY
}

/** 1 where a plan that should move little moves this item, else 0. */
function movedFrom(
  { keepsPlaces }: PlanProblem,
  item: PlanItem,
  { bench, isFree }: Step,
  startMin: number,
): 0 | 1 {
  if (!keepsPlaces || !item.now) return 0
  // Always, or a later start would now and then be the better one, and no proof could leave it out.
  if (isFree) return 1
  return item.now.bench === bench && item.now.startMin === startMin ? 0 : 1
}
