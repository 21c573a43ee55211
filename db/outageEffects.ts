import { addDays, addWorkingDays, dayOf, instantAt } from '../main/trade/calendar.ts'
import { daysLate, type OutDays } from '../main/trade/outage.ts'
import { Refusal } from '../main/trade/refusal.ts'
import { type Bench, listBenches } from './benches.ts'
import { waitingSpins } from './benchPlan.ts'
import { type Booking, findBooking } from './bookings.ts'
import { studioZone, workingWeek } from './calendar.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { type OtherRigs, otherRigsFinder } from './otherRigs.ts'
import { lackingAt, type RigNeeds, rigNeeds } from './rigNeeds.ts'
import { prepared } from './statement.ts'
import { type Room, roomFinder } from './waitingRoom.ts'

/** What could be out: a piece of equipment, a platter, or a person. */
export type OutThing =
  | { readonly kind: 'equipment'; readonly id: Id<'equipment'> }
  | { readonly kind: 'platter'; readonly id: Id<'platter'> }
  | { readonly kind: 'person'; readonly id: Id<'person'> }

/** What the spins of a block or of a job that waits have in common. */
interface OutWork {
  readonly jobId: Id<'job'>
  readonly jobNumber: string
  readonly client: string
  readonly dueDay: string | null
  readonly rigRevisionId: Id<'rig_revision'> | null
  readonly rig: string | null
  readonly shootIds: readonly Id<'shoot'>[]
  /** Other rigs that could do it; null where no rig is planned or none is asked for. */
  readonly others: OtherRigs | null
}

/** A booked block that falls into the outage. */
export interface OutBlock extends OutWork {
  readonly bookingId: Id<'booking'>
  readonly benchId: Id<'bench'>
  readonly bench: string
  readonly day: string
  readonly fromMinute: number
  readonly toMinute: number
  readonly isFixed: boolean
  readonly names: readonly string[]
  /** Where it would find room once the thing is back, with its set change; null where nobody knows when. */
  readonly room: Room | null
  /** Days late if it waits for that room; the last of its spins counts. */
  readonly daysLate: number
}

/** Spins without a place whose rig needs the thing. */
export interface OutWaiting extends OutWork {
  readonly spins: number
  readonly estimateMs: number
  /** Days late if they are turned on the first working day after it is back; at the least. */
  readonly daysLate: number
}

export interface OutageEffects {
  readonly name: string
  /** How many of it the studio has. */
  readonly count: number
  readonly fromDay: string
  readonly toDay: string | null
  /** True where exactly this is noted already; else it is only asked about. */
  readonly isNoted: boolean
  /** The first working day after it is back; null where nobody knows. */
  readonly firstDayBack: string | null
  /** Those due first, so many as a person can go through; `blocksTouched` counts them all. */
  readonly blocks: readonly OutBlock[]
  readonly blocksTouched: number
  readonly spinsTouched: number
  readonly waiting: readonly OutWaiting[]
  /** True where more waits than is listed. */
  readonly moreWaiting: boolean
}

const mostGroups = 20
/** Finding room and other rigs takes about two milliseconds a block, and nobody reads more at once. */
const mostBlocks = 40

/**
 * What it means that a thing is out on some days, noted or only asked about: blocks booked then whose rig would lack
 * it, with where they would find room afterwards and how late that is, spins that wait for such a rig, and for
 * each which other rigs could do it. Of several pieces one is out; where enough are left beside what other benches have
 * at that time, nothing is touched. Nothing is stored. Refuses what is not in the studio.
 */
export function outageEffects(db: Db, thing: OutThing, days: OutDays, now: string): OutageEffects {
  const known = thingOf(db, thing)
  const zone = studioZone(db)
  const isNoted = isAlreadyNoted(db, thing, days)
  const from = latest(instantAt(days.fromDay, 0, zone).toISOString(), now)
  const to = days.toDay === null ? '9999' : instantAt(days.toDay, 1440, zone).toISOString()
  const extra = thing.kind === 'equipment' && !isNoted ? { ...days, equipmentId: thing.id } : null
  const needs = rigNeeds(db, from, to, extra)
  const find = otherRigsFinder(db, needs, thing.kind === 'platter' ? thing.id : null)
  const benches = new Map(listBenches(db).map((bench) => [bench.id, bench]))
  const backOn = days.toDay === null ? null : latest(addDays(days.toDay, 1), dayOf(now, zone))
  const firstDayBack = backOn === null ? null : addWorkingDays(addDays(backOn, -1), 1, workingWeek(db))
  const touched = touchedBlocks(db, thing, needs, { from, to, zone })
  const rooms = roomFinder(db, benches, backOn, now)
  const waiting = waitingWork(db, thing, days, needs, now)
  return {
    ...known,
    ...days,
    isNoted,
    firstDayBack,
    blocks: touched.slice(0, mostBlocks).map((block) => outBlock(block, benches, rooms, find)),
    blocksTouched: touched.length,
    spinsTouched: touched.reduce((sum, { booking }) => sum + booking.spins.length, 0),
    waiting: waiting.groups.map((group) => ({
      jobId: group.jobId,
      jobNumber: group.number,
      client: group.client,
      dueDay: group.dueDay,
      rigRevisionId: group.rigRevisionId,
      rig: group.rig,
      shootIds: group.shootIds,
      spins: group.spins,
      estimateMs: group.estimateMs,
      daysLate: firstDayBack === null ? 0 : daysLate(firstDayBack, group.dueDay),
      others:
        group.rigRevisionId === null
          ? null
          : find({
              shootIds: group.shootIds,
              rigRevisionId: group.rigRevisionId,
              rig: group.rig ?? '',
              bench: null,
              times: daysToLookAt(days, needs).map((day) => ({ day, block: null })),
            }),
    })),
    moreWaiting: waiting.more,
  }
}

function latest(a: string, b: string): string {
  return a > b ? a : b
}

function thingOf(db: Db, { kind, id }: OutThing): { readonly name: string; readonly count: number } {
  const sql = {
    equipment: 'SELECT name, count FROM equipment WHERE id = ?',
    platter: 'SELECT name, 1 AS count FROM platter WHERE id = ?',
    person: 'SELECT name, 1 AS count FROM person WHERE id = ?',
  }[kind]
  const known = prepared<[number], { name: string; count: number }>(db, sql).get(id)
  if (!known)
    throw new Refusal('not-in-studio', 'This is not in the studio. Choose what is out from the list.')
  return known
}

function isAlreadyNoted(db: Db, { kind, id }: OutThing, { fromDay, toDay }: OutDays): boolean {
  if (kind === 'platter') return false
  const sql =
    kind === 'equipment'
      ? 'SELECT 1 FROM equipment_outage WHERE equipment_id = ? AND from_day = ? AND to_day IS ?'
      : 'SELECT 1 FROM person_absence WHERE person_id = ? AND from_day = ? AND to_day IS ?'
  return prepared<[number, string, string | null]>(db, sql).get(id, fromDay, toDay) !== undefined
}

/** Blocks of spins in the outage that would lack the thing, those due first first. */
function touchedBlocks(
  db: Db,
  thing: OutThing,
  needs: RigNeeds,
  { from, to, zone }: { readonly from: string; readonly to: string; readonly zone: string },
): readonly TouchedBlock[] {
  const isTouched = (block: RigNeeds['blocks'][number]) => {
    if (thing.kind === 'platter') return block.platterId === thing.id
    const time = { day: dayOf(block.startsAt, zone), block }
    return thing.kind === 'equipment' && lackingAt(needs, block.rigRevisionId, time, thing.id) !== null
  }
  const ids =
    thing.kind === 'person'
      ? blocksOfPerson(db, thing.id, from, to)
      : needs.blocks.filter((block) => block.kind === 'spins' && isTouched(block)).map(({ id }) => id)
  return ids
    .flatMap((id) => {
      const booking = findBooking(db, id)
      return booking && booking.jobId !== null
        ? [{ booking, jobId: booking.jobId, dueDay: dueDayOf(db, booking.jobId) }]
        : []
    })
    .sort((a, b) => (a.dueDay ?? '9999').localeCompare(b.dueDay ?? '9999') || a.booking.id - b.booking.id)
}

interface TouchedBlock {
  readonly booking: Booking
  readonly jobId: Id<'job'>
  readonly dueDay: string | null
}

function blocksOfPerson(db: Db, personId: Id<'person'>, from: string, to: string): readonly Id<'booking'>[] {
  return prepared<[string, string, number], { id: Id<'booking'> }>(
    db,
    `SELECT b.id FROM booking b WHERE b.cancelled_at IS NULL AND b.kind = 'spins' AND b.starts_at < ? AND b.ends_at > ?
       AND EXISTS (SELECT 1 FROM booking_person bp WHERE bp.booking_id = b.id AND bp.person_id = ?) ORDER BY b.starts_at`,
  )
    .all(to, from, personId)
    .map(({ id }) => id)
}

function dueDayOf(db: Db, jobId: Id<'job'>): string | null {
  return (
    prepared<[number], { dueDay: string | null }>(
      db,
      'SELECT due_day AS dueDay FROM job_standing WHERE job_id = ?',
    ).get(jobId)?.dueDay ?? null
  )
}

function outBlock(
  { booking, jobId, dueDay }: TouchedBlock,
  benches: ReadonlyMap<Id<'bench'>, Bench>,
  rooms: (booking: Booking) => Room | null,
  find: ReturnType<typeof otherRigsFinder>,
): OutBlock {
  const room = rooms(booking)
  const { rigRevisionId, rig, day, fromMinute, toMinute, isFixed } = booking
  const shootIds = booking.spins.map(({ shootId }) => shootId)
  return {
    bookingId: booking.id,
    benchId: booking.benchId,
    bench: booking.bench,
    day,
    fromMinute,
    toMinute,
    isFixed,
    names: booking.spins.map(({ name }) => name),
    jobId,
    jobNumber: booking.jobNumber ?? '',
    client: booking.client ?? '',
    dueDay,
    rigRevisionId,
    rig,
    shootIds,
    room,
    daysLate: room === null ? 0 : daysLate(room.day, dueDay),
    others:
      rigRevisionId === null || rig === null
        ? null
        : find({
            shootIds,
            rigRevisionId,
            rig,
            bench: benches.get(booking.benchId) ?? null,
            times: [{ day, block: booking }],
          }),
  }
}

/** The days on which a rig's parts are looked for: the outage's first, and each on which something more goes. */
function daysToLookAt({ fromDay, toDay }: OutDays, { outages }: RigNeeds): readonly string[] {
  const later = [...outages.values()]
    .flat()
    .map((outage) => outage.fromDay)
    .filter((day) => day > fromDay && (toDay === null || day <= toDay))
  return [fromDay, ...new Set(later)]
}

function waitingWork(db: Db, thing: OutThing, days: OutDays, needs: RigNeeds, now: string) {
  const rigRevisionIds = revisionsWithout(db, thing, days, needs)
  if (rigRevisionIds.length === 0) return { groups: [], more: false }
  return waitingSpins(db, { offset: 0, limit: mostGroups }, now, { rigRevisionIds })
}

/** Rig revisions that cannot stand while the thing is out. */
function revisionsWithout(
  db: Db,
  thing: OutThing,
  days: OutDays,
  needs: RigNeeds,
): readonly Id<'rig_revision'>[] {
  if (thing.kind === 'person') return []
  if (thing.kind === 'platter') {
    return prepared<[number], { id: Id<'rig_revision'> }>(
      db,
      'SELECT id FROM rig_revision WHERE platter_id = ?',
    )
      .all(thing.id)
      .map(({ id }) => id)
  }
  return [...needs.byRevision.keys()].filter((id) =>
    daysToLookAt(days, needs).some((day) => lackingAt(needs, id, { day, block: null }, thing.id) !== null),
  )
}
