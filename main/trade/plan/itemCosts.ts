import { latenessMin, type PlacedItem, type PlanItem, type PlanProblem, type Schedule } from './problem.ts'

/** What one item costs where it lies: its lateness by weight, and the set change before it. */
export interface ItemCost {
  readonly id: number
  /** Null on a bench that is not among those planned. */
  readonly bench: number | null
  readonly startMin: number
  readonly endMin: number
  readonly latenessMin: number
  readonly weight: number
  /** Weight times minutes late: its share in the plan's first goal. */
  readonly weightedLatenessMin: number
  /** What stood there before, what it needs, and the minutes from one to the other. */
  readonly rigBefore: number | null
  readonly rig: number
  readonly changeoverMin: number
}

/** A plan in the figures by which a person compares it with another. */
export interface PlanSum {
  readonly placed: number
  readonly unplaced: number
  readonly lateItems: number
  readonly latenessMin: number
  readonly weightedLatenessMin: number
  readonly setChanges: number
  readonly changeoverMin: number
  /** Minutes of bench time in all: items and their set changes. */
  readonly bookedMin: number
  readonly lastEndMin: number | null
}

/** What each item of a plan costs, in the order of time. */
export function itemCosts(problem: PlanProblem, { placed }: Schedule): readonly ItemCost[] {
  const items = new Map(problem.items.map((item) => [item.id, item]))
  return [...placed]
    .sort((a, b) => a.startMin - b.startMin || a.bench - b.bench)
    .flatMap((place) => {
      const item = items.get(place.id)
      return item ? [costOf(item, place, place.rigBefore, changeMin(place))] : []
    })
}

/**
 * What each item costs where it is booked today, counted as a plan's items are. An item without a place today
 * is not among them; of one on a bench outside the plan the set change is not known and counts nothing.
 */
export function itemCostsToday(problem: PlanProblem): readonly ItemCost[] {
  const costs: ItemCost[] = []
  const ends = problem.benches.map(() => Number.NEGATIVE_INFINITY)
  const rigs = problem.benches.map(({ rig }) => rig)
  const booked = problem.items.flatMap((item) => (item.now ? [{ item, now: item.now }] : []))
  for (const { item, now } of booked.sort((a, b) => a.now.startMin - b.now.startMin)) {
    if (now.bench === null) {
      costs.push(costOf(item, now, item.rig, 0))
      continue
    }
    const left = rigLeft(problem, now.bench, ends[now.bench] as number, now.startMin)
    const rigBefore = left === undefined ? (rigs[now.bench] as number | null) : left
    costs.push(costOf(item, now, rigBefore, problem.changeoverMin(rigBefore, item.rig)))
    ends[now.bench] = now.endMin
    rigs[now.bench] = item.rig
  }
  return costs
}

/** The rig that the last block which stays leaves on a bench between two instants; undefined where none does. */
function rigLeft({ benches }: PlanProblem, bench: number, fromMin: number, toMin: number) {
  return benches[bench]?.windows.findLast(
    (window) => window.rigBefore !== undefined && window.fromMin >= fromMin && window.fromMin <= toMin,
  )?.rigBefore
}

function changeMin({ change }: PlacedItem): number {
  return change ? change.toMin - change.fromMin : 0
}

function costOf(
  item: PlanItem,
  place: Pick<PlacedItem, 'startMin' | 'endMin'> & { readonly bench: number | null },
  rigBefore: number | null,
  changeoverMin: number,
): ItemCost {
  const late = latenessMin(item, place.endMin)
  return {
    id: item.id,
    bench: place.bench,
    startMin: place.startMin,
    endMin: place.endMin,
    latenessMin: late,
    weight: item.weight,
    weightedLatenessMin: item.weight * late,
    rigBefore,
    rig: item.rig,
    changeoverMin,
  }
}

/** The figures of a plan, or of today's places, added up from its items. */
export function sumOf({ items }: PlanProblem, costs: readonly ItemCost[]): PlanSum {
  const total = (of: (cost: ItemCost) => number) => costs.reduce((sum, cost) => sum + of(cost), 0)
  const lengths = new Map(items.map((item) => [item.id, item]))
  return {
    placed: costs.length,
    unplaced: items.length - costs.length,
    lateItems: costs.filter((cost) => cost.latenessMin > 0).length,
    latenessMin: total((cost) => cost.latenessMin),
    weightedLatenessMin: total((cost) => cost.weightedLatenessMin),
    setChanges: costs.filter((cost) => cost.changeoverMin > 0).length,
    changeoverMin: total((cost) => cost.changeoverMin),
    bookedMin: total((cost) => cost.changeoverMin + turningMin(lengths.get(cost.id), cost)),
    lastEndMin: costs.length === 0 ? null : Math.max(...costs.map(({ endMin }) => endMin)),
  }
}

/** Minutes an item itself takes: its parts on that bench, else from start to end. */
function turningMin(item: PlanItem | undefined, { bench, startMin, endMin }: ItemCost): number {
  const parts = bench === null ? null : item?.partsMin[bench]
  return parts ? parts.reduce((sum, min) => sum + min, 0) : endMin - startMin
}
