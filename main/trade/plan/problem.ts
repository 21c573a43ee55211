import { Refusal } from '../refusal.ts'

/**
 * A stretch in which a bench is free, in whole minutes from an instant the caller chooses, both days and fixed
 * blocks already cut out. `day` numbers the local day it lies in, for the cap on turning hours.
 */
export interface FreeWindow {
  readonly fromMin: number
  readonly toMin: number
  readonly day: number
  /** The rig that a fixed block leaves standing when this window begins; undefined where none lies before it. */
  readonly rigBefore?: number
  /** The rig that a fixed block after this window expects to find. */
  readonly rigAfter?: number
  /** Minutes that whoever stands here turns on this day in fixed blocks: they count towards the cap. */
  readonly turnedMin?: number
}

export interface PlanBench {
  /** In the order of time, none overlapping another. */
  readonly windows: readonly FreeWindow[]
  /** What stands there now; null for an empty bench. */
  readonly rig: number | null
  /** Why it is not free outside its windows, as far as that is known; only told, never planned with. */
  readonly shut?: readonly ShutSpan[]
}

/** A stretch in which a bench is not free: closed, nobody there who turns, or a block that stays. */
export interface ShutSpan extends Span {
  readonly why: 'closed' | 'nobody there' | 'booked'
}

export interface Span {
  readonly fromMin: number
  readonly toMin: number
}

/** One spin, or the spins that stay together, as the plan sees it. */
export interface PlanItem {
  readonly id: number
  /**
   * By bench: the minutes of each part that is never broken. One part, or one a row where it may break between
   * rows; null where the bench cannot hold it.
   */
  readonly partsMin: readonly (readonly number[] | null)[]
  /** When its goods are in. */
  readonly earliestMin: number
  readonly dueMin: number | null
  /** What a minute of lateness counts, 0 or more. */
  readonly weight: number
  readonly rig: number
  /** The id of an item that must be finished before: the first spin of its job. */
  readonly after?: number
  /** When a part of its rig is in repair or hired out. */
  readonly away?: readonly Span[]
  /** Equipment of which the studio has one, so that no other bench holds it at the same time. */
  readonly needs?: readonly number[]
  /** Where it stands in today's plan; on a bench that is not among those planned, null. */
  readonly now?: { readonly bench: number | null; readonly startMin: number; readonly endMin: number }
}

export interface PlanProblem {
  readonly items: readonly PlanItem[]
  readonly benches: readonly PlanBench[]
  /** People who can turn at the same time: two benches with one pair of hands are one bench. */
  readonly hands: number
  /** Minutes to change from one rig to another, from an empty bench by null; 0 where nothing differs. */
  readonly changeoverMin: (from: number | null, to: number) => number
  /** Turning minutes that one person does on one day at most; null for no cap. */
  readonly turningCapMin: number | null
  /** True where the plan should move as little of today's as the promised days allow. */
  readonly keepsPlaces?: boolean
}

/** A problem as plain data, so that it can be handed to another thread: the set changes as a table. */
export type PlanData = Omit<PlanProblem, 'changeoverMin'> & {
  /** Row 0 is the empty bench, row r + 1 the rig r; a column for each rig. */
  readonly changeMin: readonly (readonly number[])[]
}

/** The problem of its data. A rig that the table lacks asks for no set change. */
export function problemOf({ changeMin, ...rest }: PlanData): PlanProblem {
  return {
    ...rest,
    changeoverMin: (from, to) => (from === to ? 0 : (changeMin[(from ?? -1) + 1]?.[to] ?? 0)),
  }
}

/** The problem as it is for one of its benches alone, with hands of its own. */
export function benchAlone(problem: PlanProblem, at: number): PlanProblem {
  const items = problem.items.map(
    ({ now, partsMin, ...item }): PlanItem => ({
      ...item,
      partsMin: [partsMin[at] ?? null],
      ...(now ? { now: { ...now, bench: now.bench === at ? 0 : null } } : {}),
    }),
  )
  return { ...problem, items, benches: [problem.benches[at] as PlanBench], hands: 1 }
}

/** Where an item came to lie. */
export interface PlacedItem {
  readonly id: number
  readonly bench: number
  /** Which pair of hands the plan counts it with, from 0. */
  readonly hand: number
  /** What stood on its bench before; null for an empty bench. */
  readonly rigBefore: number | null
  /** The set change before it; it may end on the evening before, since a rig left standing costs nothing. */
  readonly change: Span | null
  readonly parts: readonly Span[]
  readonly startMin: number
  readonly endMin: number
  readonly latenessMin: number
}

/** What a plan costs, the first figure counting before the second and so on. */
export interface PlanCost {
  readonly unplaced: number
  /** Sum of weight times minutes late. */
  readonly weightedLatenessMin: number
  /** Items that lie elsewhere than today, where the plan should move little; else 0. */
  readonly moved: number
  readonly changeoverMin: number
  /** Sum of the minutes at which the items end. */
  readonly completionMin: number
}

export interface Schedule {
  readonly placed: readonly PlacedItem[]
  /** Items for which no window was left. */
  readonly unplaced: readonly number[]
  readonly cost: PlanCost
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

/** Minutes an item ends after it is due; 0 where it has no due day. */
export function latenessMin({ dueMin }: PlanItem, endMin: number): number {
  return dueMin === null ? 0 : Math.max(0, endMin - dueMin)
}

/** The order of work: the items as they are taken up, each with its bench. */
export interface Step {
  /** Index in the problem's items. */
  readonly item: number
  readonly bench: number
  /**
   * Where places are kept: taken up as early as it can be, also before its place of today. It counts as moved wherever it
   * comes to lie.
   */
  readonly isFree?: true
}

/** Refuses a problem that has no meaning: unknown benches, minutes that are no numbers, a circle of items before each other. */
export function checkProblem({ items, benches, hands, turningCapMin }: PlanProblem): void {
  if (benches.length === 0)
    throw new Refusal('no-bench', 'There is no bench to plan on. Add one under Studio.')
  if (!Number.isInteger(hands) || hands < 1)
    throw new Refusal('no-hands', 'Nobody is there to turn. Add a person who works at the bench.')
  if (turningCapMin !== null && !(turningCapMin > 0))
    throw new Refusal(
      'no-turning-time',
      `A cap of ${turningCapMin} minutes a day leaves no time to turn. Enter more than 0.`,
    )
  for (const item of items) checkItem(item, benches.length)
  checkOrder(items)
}

function checkItem({ id, partsMin, earliestMin, dueMin, weight }: PlanItem, benches: number): void {
  const figures = [earliestMin, dueMin ?? 0, weight, ...partsMin.flatMap((parts) => parts ?? [])]
  if (partsMin.length !== benches)
    throw new Error(`Item ${id} speaks of ${partsMin.length} benches of ${benches}.`)
  if (
    !figures.every(Number.isFinite) ||
    weight < 0 ||
    partsMin.some((parts) => parts?.some((min) => min < 0))
  ) {
    throw new Refusal(
      'no-time',
      `Item ${id} has a time or weight that is no number of 0 or more. Look at its estimate and due day.`,
    )
  }
}

function checkOrder(items: readonly PlanItem[]): void {
  const before = new Map(items.map(({ id, after }) => [id, after]))
  if (before.size !== items.length) throw new Error('Two items have one id.')
  for (const { id } of items) {
    let steps = 0
    for (let at = before.get(id); at !== undefined; at = before.get(at)) {
      steps += 1
      if (steps > items.length) throw new Error(`Item ${id} waits for itself.`)
    }
  }
}

/** Less than 0 where the first plan is the better one. */
export function compareCosts(a: PlanCost, b: PlanCost): number {
  return (
    a.unplaced - b.unplaced ||
    near(a.weightedLatenessMin - b.weightedLatenessMin) ||
    a.moved - b.moved ||
    a.changeoverMin - b.changeoverMin ||
    a.completionMin - b.completionMin
  )
}

/** Weights may be fractions: sums that differ by less than a millionth of a minute are the same. */
function near(difference: number): number {
  return Math.abs(difference) < 1e-6 ? 0 : difference
}
