import { addDays, instantAt } from '../main/trade/calendar.ts'
import { studioZone } from './calendar.ts'
import { grouped } from './grouped.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { waitingShootIds } from './planWaiting.ts'
import { prepared } from './statement.ts'

/** A spin that may lie on the cards of some days. */
export interface SpinOnCards {
  readonly shootId: Id<'shoot'>
  readonly name: string
  readonly code: string | null
  readonly jobId: Id<'job'>
  readonly jobNumber: string
  /** Its place in the order of the days' blocks, and after them what waits, from 0; null where only a ticket names it. */
  readonly place: number | null
  readonly rows: readonly { readonly turnFrames: number; readonly toShoot: number }[]
}

/** No take lasts longer. */
const longestDays = 3

/** Of the spins that wait, and of those booked for later, so many may lie on a card: the earliest first. */
const mostOthers = 60

/**
 * The spins that frames shot on some days may show: those booked on these days in their order, then those that wait or
 * are booked for later, and those that tickets name. A ticket of a spin that the studio does not have names nothing.
 * @param days  days of the studio's calendar; none where nothing tells when the frames were shot
 */
export function spinsOnCards(
  db: Db,
  days: readonly string[],
  ticketed: readonly number[],
  now: string,
): readonly SpinOnCards[] {
  const expected = [
    ...new Set([
      ...days.flatMap((day) => bookedOn(db, day)),
      ...waitingShootIds(db, { jobId: null, shootIds: null }, mostOthers, now),
      ...bookedFrom(db, now),
    ]),
  ]
  const places = new Map(expected.map((shootId, place) => [shootId, place]))
  const ids = JSON.stringify([...new Set<number>([...expected, ...ticketed])])
  const rows = grouped(
    prepared<[string], { shootId: Id<'shoot'>; turnFrames: number; toShoot: number }>(
      db,
      `SELECT r.shoot_id AS shootId, r.frames_per_turn AS turnFrames, r.frames_per_turn + r.overlap_frames AS toShoot
       FROM json_each(?) named CROSS JOIN shoot_row r ON r.shoot_id = named.value ORDER BY r.shoot_id, r.row`,
    ).all(ids),
    ({ shootId }) => shootId,
  )
  return prepared<[string], Omit<SpinOnCards, 'place' | 'rows'>>(
    db,
    `SELECT s.id AS shootId, s.name, s.job_id AS jobId, job.number AS jobNumber,
       (SELECT p.code FROM shoot_product sp JOIN product p ON p.id = sp.product_id
        WHERE sp.shoot_id = s.id ORDER BY sp.position LIMIT 1) AS code
     FROM json_each(?) named CROSS JOIN shoot s ON s.id = named.value JOIN job ON job.id = s.job_id`,
  )
    .all(ids)
    .map((spin) => ({
      ...spin,
      place: places.get(spin.shootId) ?? null,
      rows: (rows.get(spin.shootId) ?? []).map(({ turnFrames, toShoot }) => ({ turnFrames, toShoot })),
    }))
}

/** What is booked for later may have been shot before its time. */
function bookedFrom(db: Db, now: string): readonly Id<'shoot'>[] {
  return prepared<[string, number], { shootId: Id<'shoot'> }>(
    db,
    `SELECT bs.shoot_id AS shootId FROM booking b JOIN booking_shoot bs ON bs.booking_id = b.id
     WHERE b.starts_at >= ? AND b.cancelled_at IS NULL ORDER BY b.starts_at, bs.position LIMIT ?`,
  )
    .all(now, mostOthers)
    .map(({ shootId }) => shootId)
}

function bookedOn(db: Db, day: string): readonly Id<'shoot'>[] {
  const zone = studioZone(db)
  return prepared<[string, string], { shootId: Id<'shoot'> }>(
    db,
    `SELECT bs.shoot_id AS shootId FROM booking b JOIN booking_shoot bs ON bs.booking_id = b.id
     WHERE b.starts_at >= ? AND b.starts_at < ? AND b.cancelled_at IS NULL ORDER BY b.starts_at, bs.position`,
  )
    .all(instantAt(day, 0, zone).toISOString(), instantAt(addDays(day, 1), 0, zone).toISOString())
    .map(({ shootId }) => shootId)
}

/**
 * The take that was written down from the files of a folder, by the instant of the first of them: its own first frame,
 * or one within where it went on in this folder.
 */
export function takeFromFiles(
  db: Db,
  folder: string,
  startedAt: string,
): { readonly number: number; readonly jobId: Id<'job'>; readonly shootId: Id<'shoot'> } | undefined {
  return prepared<{ folder: string; at: string; since: string }[], ReturnType<typeof takeFromFiles>>(
    db,
    `SELECT take.number, shoot.job_id AS jobId, shoot.id AS shootId FROM take JOIN shoot ON shoot.id = take.shoot_id
     WHERE take.started_at BETWEEN :since AND :at AND ((take.started_at = :at AND take.folder = :folder)
       OR (take.ended_at >= :at AND EXISTS (SELECT 1 FROM json_each(take.more_folders) more WHERE more.value = :folder)))`,
  ).get({ folder, at: startedAt, since: addDays(startedAt.slice(0, 10), -longestDays) })
}
