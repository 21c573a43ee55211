import { changesNeeded } from './bound.ts'
import type { BenchState, Busy, HandState } from './placing.ts'
import {
  compareCosts,
  latenessMin,
  type PlanCost,
  type PlanItem,
  type PlanProblem,
  type Step,
  shortestMin,
} from './problem.ts'
import { costsAdded, noCost, type Standing, startOf, takeUp, waitsOf } from './schedule.ts'

/** A way to have done a set of items: what it costs, and how it leaves benches and people. */
interface Label {
  readonly step: Step | undefined
  readonly before: Label | undefined
  readonly standing: Standing
  readonly cost: PlanCost
  /** When the items end that others wait for, in their order; minus infinity before. */
  readonly firstEnds: readonly number[]
}

/** Labels made before the search for a proof is given up: some hundred megabytes. */
const mostLabels = 1_500_000
/** Few labels that no other beats take long to hold against each other: a second or so, counted and not timed. */
const mostCompared = 20_000_000

interface Ground {
  readonly problem: PlanProblem
  readonly atMost: PlanCost
  readonly waits: readonly (number | undefined)[]
  /** Items that others wait for. */
  readonly firsts: readonly number[]
  /** By bench, the last window beside a fixed block that leaves or expects a rig; -1 for none. */
  readonly lastFixed: readonly number[]
  /** Labels held against each other so far. */
  readonly work: { compared: number }
}

/**
 * The best order of work, by dynamic programming over the subsets of items done (after Held and Karp 1962). Where
 * goods-in, opening hours and lateness meet, one figure a subset is not enough: of all ways that leave the same rigs up,
 * each that no other beats both in cost and in time is kept (Pareto labels), and one that cannot end below `atMost` is
 * dropped. Undefined where nothing is better than `atMost`, 'too large' where the labels, or the work of holding them
 * against each other, run over.
 * Speaks of plans that place every item; for several benches only where everyone has their own, or one person all.
 */
export function bestOrder(problem: PlanProblem, atMost: PlanCost): readonly Step[] | undefined | 'too large' {
  const { items } = problem
  const waits = waitsOf(problem)
  const firsts = [...new Set(waits.filter((first) => first !== undefined))]
  const lastFixed = problem.benches.map(lastFixedOf)
  const ground: Ground = { problem, atMost, waits, firsts, lastFixed, work: { compared: 0 } }
  const done = (1 << items.length) - 1
  const kept: Map<string, Label[]>[] = Array.from({ length: done + 1 }, () => new Map())
  const root: Label = {
    step: undefined,
    before: undefined,
    standing: startOf(problem),
    cost: noCost,
    firstEnds: firsts.map(() => Number.NEGATIVE_INFINITY),
  }
  kept[0]?.set('', [root])
  let labels = 0
  for (let set = 0; set < done; set += 1) {
    const open = restOf(problem, set)
    for (const same of kept[set]?.values() ?? []) {
      const changeMin = same[0] ? changesLeft(problem, same[0], open) : 0
      for (const label of same) {
        if (!canEndBelow(ground, label, open, changeMin)) continue
        for (const step of stepsFrom(ground, set, open)) {
          const next = extended(ground, label, step)
          if (next) labels += keepLabel(ground, kept[set | (1 << step.item)] as Map<string, Label[]>, next)
        }
        if (ground.work.compared > mostCompared) return 'too large'
      }
    }
    kept[set] = new Map()
    if (labels > mostLabels) return 'too large'
  }
  let best: Label | undefined
  for (const label of [...(kept[done]?.values() ?? [])].flat()) {
    if (!best || compareCosts(label.cost, best.cost) < 0) best = label
  }
  return best && compareCosts(best.cost, atMost) < 0 ? orderOf(best) : undefined
}

function lastFixedOf({ windows }: PlanProblem['benches'][number]): number {
  return windows.findLastIndex(({ rigBefore, rigAfter }) => (rigBefore ?? rigAfter) !== undefined)
}

function restOf({ items }: PlanProblem, set: number): readonly number[] {
  return items.flatMap((_, index) => (set & (1 << index) ? [] : [index]))
}

/** What can be done next: each open item whose first spin is done, on each bench that holds it. */
function stepsFrom({ problem, waits }: Ground, set: number, open: readonly number[]): readonly Step[] {
  return open.flatMap((item) => {
    const first = waits[item]
    if (first !== undefined && !(set & (1 << first))) return []
    const { partsMin, now } = problem.items[item] as PlanItem
    return partsMin.flatMap((parts, bench): readonly Step[] => {
      if (!parts) return []
      const step = { item, bench }
      return problem.keepsPlaces && now?.bench === bench ? [step, { ...step, isFree: true }] : [step]
    })
  })
}

function extended({ problem, waits, firsts }: Ground, label: Label, step: Step): Label | undefined {
  const first = waits[step.item]
  const notBeforeMin =
    first === undefined
      ? Number.NEGATIVE_INFINITY
      : (label.firstEnds[firsts.indexOf(first)] ?? Number.NEGATIVE_INFINITY)
  const taken = takeUp(problem, label.standing, step, notBeforeMin)
  if (!taken) return undefined
  const at = firsts.indexOf(step.item)
  return {
    step,
    before: label,
    standing: taken.standing,
    cost: costsAdded(label.cost, taken.cost),
    firstEnds: at < 0 ? label.firstEnds : label.firstEnds.with(at, taken.place.endMin),
  }
}

/** Keeps a label unless one with the same rigs up beats it; drops those it beats. Gives by how many there are more. */
function keepLabel(ground: Ground, byRigs: Map<string, Label[]>, next: Label): number {
  const rigs = next.standing.benches.map(({ rig }) => rig).join()
  const same = byRigs.get(rigs)
  if (!same) {
    byRigs.set(rigs, [next])
    return 1
  }
  ground.work.compared += same.length
  for (const label of same) if (beats(ground, label, next)) return 0
  const left = same.filter((label) => !beats(ground, next, label))
  left.push(next)
  byRigs.set(rigs, left)
  return left.length - same.length
}

/**
 * True where whatever follows the second can follow the first no worse: it is no dearer, no bench is free later, no person
 * later or, on the same day, more tired, nothing waited for ends later, no equipment is busy that the second has free.
 */
function beats({ lastFixed }: Ground, a: Label, b: Label): boolean {
  return (
    compareCosts(a.cost, b.cost) <= 0 &&
    a.standing.benches.every((bench, at) =>
      benchBeats(bench, b.standing.benches[at] as BenchState, lastFixed[at] as number),
    ) &&
    a.standing.hands.every((hand, at) => handBeats(hand, b.standing.hands[at] as HandState)) &&
    a.firstEnds.every((end, at) => end <= (b.firstEnds[at] as number)) &&
    busyBeats(a.standing, b.standing)
  )
}

/**
 * Before the last fixed block only the same standing counts as no worse: what comes later may meet the rig that a block
 * leaves and need no set change.
 */
function benchBeats(a: BenchState, b: BenchState, lastFixed: number): boolean {
  if (a.freeMin === b.freeMin && a.window === b.window) return true
  return a.freeMin <= b.freeMin && a.window >= lastFixed && b.window >= lastFixed
}

function handBeats(a: HandState, b: HandState): boolean {
  return a.freeMin <= b.freeMin && (a.day !== b.day || a.turnedMin <= b.turnedMin)
}

function busyBeats({ busy, benches }: Standing, { busy: others }: Standing): boolean {
  if (busy.length === 0) return true
  const from = Math.min(...benches.map(({ freeMin }) => freeMin))
  const isSame = (one: Busy, other: Busy) =>
    one.equipment === other.equipment &&
    one.bench === other.bench &&
    one.fromMin === other.fromMin &&
    one.toMin === other.toMin
  return busy.every((one) => one.toMin <= from || others.some((other) => isSame(one, other)))
}

/** Set change minutes that what is still open needs at least, from the rigs that a label leaves up. */
function changesLeft(problem: PlanProblem, { standing }: Label, open: readonly number[]): number {
  const benches = problem.benches.map((bench, at) => ({ ...bench, rig: standing.benches[at]?.rig ?? null }))
  return changesNeeded(
    { ...problem, benches },
    open.map((index) => (problem.items[index] as PlanItem).rig),
  )
}

/** False where even the rest each alone from here on, with no set changes but the needed ones, ends above `atMost`. */
function canEndBelow(
  { problem, atMost }: Ground,
  { standing, cost }: Label,
  open: readonly number[],
  changeMin: number,
): boolean {
  let { weightedLatenessMin, completionMin } = cost
  for (const index of open) {
    const item = problem.items[index] as PlanItem
    const endMin = soonestFree(problem, standing, item) + shortestMin(item)
    weightedLatenessMin += item.weight * latenessMin(item, endMin)
    completionMin += endMin
  }
  const changeoverMin = cost.changeoverMin + changeMin
  return compareCosts({ ...cost, weightedLatenessMin, changeoverMin, completionMin }, atMost) < 0
}

/** When a bench that holds an item, and hands, are free for it at the soonest. */
function soonestFree({ benches }: PlanProblem, standing: Standing, item: PlanItem): number {
  let soonest = Number.POSITIVE_INFINITY
  for (let at = 0; at < benches.length; at += 1) {
    if (!item.partsMin[at]) continue
    const opens = benches[at]?.windows[0]?.fromMin ?? 0
    soonest = Math.min(soonest, Math.max(opens, standing.benches[at]?.freeMin ?? opens))
  }
  const hands = Math.min(...standing.hands.map(({ freeMin }) => freeMin))
  return Math.max(item.earliestMin, soonest, hands)
}

function orderOf(label: Label): readonly Step[] {
  const steps: Step[] = []
  for (let at: Label | undefined = label; at?.step; at = at.before) steps.push(at.step)
  return steps.reverse()
}
