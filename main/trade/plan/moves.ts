import type { PlacedItem, PlanItem, PlanProblem, Schedule, ShutSpan, Step } from './problem.ts'
import { scheduleOf } from './schedule.ts'

/** Why an item does not stay where it is booked today: only what can be shown from the question itself. */
export type MoveReason =
  | { readonly why: 'bench not planned' | 'bench cannot hold it' | ShutSpan['why'] }
  | { readonly why: 'goods not in' | 'equipment away'; readonly untilMin: number }
  | { readonly why: 'first spin'; readonly firstId: number }
  /** What lies in its old place now; due earlier, or so many minutes less late by weight in all. */
  | {
      readonly why: 'made room'
      readonly forId: number
      readonly isDueEarlier: boolean
      readonly savesLateMin: number
    }
  /** Left in its old place in the order, the whole would be so much later by weight, or change sets for longer. */
  | { readonly why: 'less late' | 'less set change'; readonly savesMin: number }
  | { readonly why: 'starts sooner'; readonly byMin: number }
  | { readonly why: 'better order' }

/** An item that a plan takes from its place of today; `to` is null where it found none. */
export interface Move {
  readonly id: number
  readonly from: { readonly bench: number | null; readonly startMin: number }
  readonly to: { readonly bench: number; readonly startMin: number } | null
  readonly reason: MoveReason
}

/**
 * What a plan moves from its place of today, and why. First comes what makes the old place impossible, then what lies
 * there now, then what it would cost to put the item back into the order where it was; where none of it shows
 * anything, it is a better order of the whole and nothing more is claimed.
 */
export function movesOf(problem: PlanProblem, plan: Pick<Schedule, 'placed' | 'cost'>): readonly Move[] {
  const places = new Map(plan.placed.map((place) => [place.id, place]))
  return problem.items.flatMap((item): readonly Move[] => {
    const { now } = item
    if (!now) return []
    const place = places.get(item.id)
    if (place && place.bench === now.bench && place.startMin === now.startMin) return []
    const to = place ? { bench: place.bench, startMin: place.startMin } : null
    const from = { bench: now.bench, startMin: now.startMin }
    return [{ id: item.id, from, to, reason: reasonOf(problem, plan, places, item, now) }]
  })
}

type Now = NonNullable<PlanItem['now']>

function reasonOf(
  problem: PlanProblem,
  plan: Pick<Schedule, 'placed' | 'cost'>,
  places: ReadonlyMap<number, PlacedItem>,
  item: PlanItem,
  now: Now,
): MoveReason {
  const gone = whyGone(problem, places, item, now)
  if (gone) return gone
  const place = places.get(item.id)
  if (!place) return { why: 'better order' }
  const back = putBack(problem, plan, item, now)
  const savesLateMin = Math.max(0, back.weightedLatenessMin - plan.cost.weightedLatenessMin)
  const guest = guestAt(problem, plan, item, now)
  if (guest) {
    const isDueEarlier = (guest.dueMin ?? Infinity) < (item.dueMin ?? Infinity)
    if (isDueEarlier || savesLateMin > 0) {
      return { why: 'made room', forId: guest.id, isDueEarlier, savesLateMin }
    }
  }
  if (savesLateMin > 0) return { why: 'less late', savesMin: savesLateMin }
  const savesMin = back.changeoverMin - plan.cost.changeoverMin
  if (back.unplaced === plan.cost.unplaced && savesMin > 0) return { why: 'less set change', savesMin }
  if (place.startMin < now.startMin) return { why: 'starts sooner', byMin: now.startMin - place.startMin }
  return { why: 'better order' }
}

/** What makes an item's old place impossible, whatever the order; undefined where nothing does. */
function whyGone(
  { benches, items }: PlanProblem,
  places: ReadonlyMap<number, PlacedItem>,
  item: PlanItem,
  { bench, startMin, endMin }: Now,
): MoveReason | undefined {
  if (bench === null) return { why: 'bench not planned' }
  if (!item.partsMin[bench]) return { why: 'bench cannot hold it' }
  const meets = (span: { readonly fromMin: number; readonly toMin: number }) =>
    span.fromMin < endMin && startMin < span.toMin
  const shut = benches[bench]?.shut?.find(meets)
  if (shut) return { why: shut.why }
  if (startMin < item.earliestMin) return { why: 'goods not in', untilMin: item.earliestMin }
  const away = item.away?.find(meets)
  if (away) return { why: 'equipment away', untilMin: away.toMin }
  const first = item.after === undefined ? undefined : places.get(item.after)
  if (first && first.endMin > startMin && items.some(({ id }) => id === first.id)) {
    return { why: 'first spin', firstId: first.id }
  }
  return undefined
}

/** The item that lies, with its set change, for the longest in another's old place. */
function guestAt(
  { items }: PlanProblem,
  { placed }: Pick<Schedule, 'placed'>,
  item: PlanItem,
  { bench, startMin, endMin }: Now,
): PlanItem | undefined {
  let most = 0
  let guest: number | undefined
  for (const place of placed) {
    if (place.bench !== bench || place.id === item.id) continue
    const fromMin = Math.max(startMin, place.change?.fromMin ?? place.startMin)
    const shared = Math.min(endMin, place.endMin) - fromMin
    if (shared > most) {
      most = shared
      guest = place.id
    }
  }
  return items.find(({ id }) => id === guest)
}

/** What the plan would cost with one item back in the order where it lies today: before what follows it there. */
function putBack(
  problem: PlanProblem,
  { placed }: Pick<Schedule, 'placed'>,
  item: PlanItem,
  { bench, startMin }: Now,
): Schedule['cost'] {
  const indexes = new Map(problem.items.map(({ id }, index) => [id, index]))
  const rest = placed.filter(({ id }) => id !== item.id)
  const follows = (place: PlacedItem) => {
    const today = problem.items[indexes.get(place.id) as number]?.now
    return place.bench === bench && (today?.bench === bench ? today.startMin : place.startMin) >= startMin
  }
  const found = rest.findIndex(follows)
  const at = found < 0 ? rest.length : found
  const steps = rest.map(({ id, bench: on, startMin: at }): Step => {
    const index = indexes.get(id) as number
    const today = problem.items[index]?.now
    const isEarlier = today?.bench === on && at < today.startMin
    return { item: index, bench: on, ...(isEarlier ? { isFree: true as const } : {}) }
  })
  steps.splice(at, 0, { item: indexes.get(item.id) as number, bench: bench as number })
  return scheduleOf(problem, steps).cost
}
