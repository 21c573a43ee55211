import { addDays, dayOf, daysBetween, instantAt } from '../main/trade/calendar.ts'
import { blocksOf, type PlanBlock } from '../main/trade/plan/blocks.ts'
import { type HandsNeeded, sharedHands, type Turner } from '../main/trade/plan/hands.ts'
import type { PlacedItem, Span } from '../main/trade/plan/problem.ts'
import { absencesBetween } from './absences.ts'
import { studioZone } from './calendar.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import type { StayingBlock } from './planWindows.ts'
import { prepared } from './statement.ts'

/** Who is booked for a spin today, and where. */
export interface BookedHands {
  readonly bench: number | null
  readonly fromMin: number
  readonly personIds: readonly Id<'person'>[]
}

/** What the people of a plan are shared out by. */
export interface HandsGround {
  readonly people: readonly Turner[]
  readonly booked: ReadonlyMap<Id<'shoot'>, BookedHands>
}

/** Who stands at a block, and who changes the set where that lies apart from it; nobody where it cannot be shared out. */
export interface BlockHands {
  readonly personIds: readonly Id<'person'>[]
  readonly changePersonIds: readonly Id<'person'>[]
}

interface HandsRequest {
  readonly personIds: readonly Id<'person'>[]
  readonly days: number
  readonly now: string
  readonly baseMs: number
  readonly benchIds: readonly Id<'bench'>[]
  readonly replanned: readonly Id<'booking'>[]
  readonly staying: readonly StayingBlock[]
}

/** When each of the people can be at a bench, and who is booked for what is planned anew. */
export function handsGround(db: Db, request: HandsRequest): HandsGround {
  const zone = studioZone(db)
  const today = dayOf(request.now, zone)
  const absences = absencesBetween(db, today, addDays(today, request.days))
  const minuteOn = (day: string, minute: number) =>
    Math.round((instantAt(day, minute, zone).getTime() - request.baseMs) / 60_000)
  const people = request.personIds.map((id): Turner => {
    const own = request.staying.filter(({ personIds }) => personIds.includes(id))
    const turnedMin = new Map<number, number>()
    for (const { isTurning, fromMin, toMin } of own) {
      if (!isTurning) continue
      const day = dayNumber(request.baseMs, fromMin, zone)
      turnedMin.set(day, (turnedMin.get(day) ?? 0) + toMin - fromMin)
    }
    const away = absences
      .filter(({ personId }) => personId === id)
      .map(({ fromDay, toDay }): Span => ({ fromMin: minuteOn(fromDay, 0), toMin: minuteOn(toDay, 1440) }))
    return { id, away: [...away, ...own], turnedMin }
  })
  return { people, booked: bookedHands(db, request) }
}

/** The number of the local day in which a minute lies, counted from the day on which minutes begin. */
function dayNumber(baseMs: number, minute: number, zone: string): number {
  return daysBetween(dayOf(new Date(baseMs), zone), dayOf(new Date(baseMs + minute * 60_000), zone))
}

function bookedHands(
  db: Db,
  { replanned, benchIds, personIds, baseMs }: HandsRequest,
): ReadonlyMap<Id<'shoot'>, BookedHands> {
  const rows = prepared<
    [string],
    { shootId: Id<'shoot'>; benchId: Id<'bench'>; startsAt: string; people: string }
  >(
    db,
    `SELECT bs.shoot_id AS shootId, b.bench_id AS benchId, b.starts_at AS startsAt,
       (SELECT json_group_array(person_id) FROM booking_person WHERE booking_id = b.id) AS people
     FROM booking b JOIN booking_shoot bs ON bs.booking_id = b.id
     WHERE b.id IN (SELECT value FROM json_each(?)) ORDER BY b.starts_at, bs.position`,
  ).all(JSON.stringify(replanned))
  const booked = new Map<Id<'shoot'>, BookedHands>()
  for (const { shootId, benchId, startsAt, people } of rows) {
    const named = JSON.parse(people) as Id<'person'>[]
    // Whoever was not chosen for the plan turns none of it.
    if (booked.has(shootId) || !named.every((id) => personIds.includes(id))) continue
    const at = benchIds.indexOf(benchId)
    booked.set(shootId, {
      bench: at < 0 ? null : at,
      fromMin: Math.round((Date.parse(startsAt) - baseMs) / 60_000),
      personIds: named,
    })
  }
  return booked
}

interface HandsPlan {
  readonly placed: readonly PlacedItem[]
  readonly groupOf: (id: number) => string
  /** True where an item stays in the block of the one before it. */
  readonly staysWith: (before: number, id: number) => boolean
  readonly baseMs: number
  readonly turningCapMin: number | null
  readonly benches: number
}

/**
 * The blocks of a plan, each with who stands there. A block has one person from its begin to its end; on a day that cannot
 * be shared out so, a block ends where the plan goes on with another pair of hands, and the day is shared out anew.
 */
export function blocksWithHands(
  db: Db,
  ground: HandsGround,
  plan: HandsPlan,
): readonly { readonly block: PlanBlock; readonly hands: BlockHands }[] {
  const { placed, groupOf, staysWith } = plan
  const whole = blocksOf(placed, groupOf, { staysWith })
  const sharedWhole = blockHands(db, ground, whole, plan)
  const zone = studioZone(db)
  const dayAt = (minute: number) => dayNumber(plan.baseMs, minute, zone)
  const unshared = new Set(
    whole.filter((_, at) => sharedWhole[at]?.personIds.length === 0).map(({ fromMin }) => dayAt(fromMin)),
  )
  const placeOf = new Map(placed.map((place) => [place.id, place]))
  const isHandedOver = (before: number, id: number) => {
    const [one, other] = [placeOf.get(before), placeOf.get(id)]
    return one?.hand !== other?.hand && unshared.has(dayAt(other?.startMin ?? 0))
  }
  const blocks = unshared.size === 0 ? whole : blocksOf(placed, groupOf, { staysWith, isHandedOver })
  const shared = blocks === whole ? sharedWhole : blockHands(db, ground, blocks, plan)
  return blocks.map((block, at) => ({ block, hands: shared[at] as BlockHands }))
}

function blockHands(
  db: Db,
  ground: HandsGround,
  blocks: readonly PlanBlock[],
  plan: HandsPlan,
): readonly BlockHands[] {
  const zone = studioZone(db)
  const parts = new Map(plan.placed.map((item) => [item.id, item.parts]))
  const needed: HandsNeeded[] = []
  const places = blocks.map((block) => {
    const { bench, fromMin, toMin, changeApart, ids } = block
    const [first = 0] = ids
    const booked = ground.booked.get(first as Id<'shoot'>)
    const common = {
      bench,
      group: plan.groupOf(first),
      bookedFor: booked?.personIds ?? [],
      isKept: booked?.bench === bench && booked.fromMin === fromMin + block.setChangeMin,
    }
    const day = (minute: number) => dayNumber(plan.baseMs, minute, zone)
    const at = needed.push({
      ...common,
      fromMin,
      toMin,
      day: day(fromMin),
      turnMin: minutesWithin(
        ids.flatMap((id) => parts.get(id) ?? []),
        block,
      ),
    })
    const change = changeApart
      ? needed.push({ ...common, ...changeApart, day: day(changeApart.fromMin), turnMin: 0 })
      : 0
    return { block: at - 1, change: change - 1 }
  })
  const shared = sharedHands(needed, ground.people, plan.turningCapMin, plan.benches === 1)
  const idsAt = (at: number) => (shared[at] ?? []) as readonly Id<'person'>[]
  return places.map(({ block, change }) => ({ personIds: idsAt(block), changePersonIds: idsAt(change) }))
}

function minutesWithin(parts: readonly Span[], { fromMin, toMin }: Span): number {
  return parts
    .filter((part) => part.fromMin >= fromMin && part.toMin <= toMin)
    .reduce((sum, part) => sum + part.toMin - part.fromMin, 0)
}
