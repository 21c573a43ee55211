import type { Stretch } from '../main/trade/bench.ts'
import { dayOf, minutesOfDay } from '../main/trade/calendar.ts'
import { Refusal } from '../main/trade/refusal.ts'
import { studioZone } from './calendar.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { prepared } from './statement.ts'

export type BookingKind = 'spins' | 'set change' | 'other'

/** A booked stretch of a bench. Its local day and minutes are worked out in the studio's time zone. */
export interface Booking extends Stretch {
  readonly id: Id<'booking'>
  readonly benchId: Id<'bench'>
  readonly bench: string
  readonly kind: BookingKind
  readonly title: string | null
  readonly jobId: Id<'job'> | null
  readonly jobNumber: string | null
  readonly client: string | null
  readonly rigRevisionId: Id<'rig_revision'> | null
  readonly rig: string | null
  readonly revision: number | null
  readonly startsAt: string
  readonly endsAt: string
  readonly day: string
  readonly isFixed: boolean
  readonly overruledReason: string | null
  readonly uid: string
  readonly sequence: number
  /** When its block was last booked, moved or cancelled. */
  readonly changedAt: string
  /** Null while it stands. */
  readonly cancelledAt: string | null
  readonly spins: readonly { readonly shootId: Id<'shoot'>; readonly name: string }[]
  readonly people: readonly { readonly id: Id<'person'>; readonly name: string }[]
}

/** A block as a person books it, by the studio's clock. A day's end is minute 1440. */
export interface BlockDraft extends Stretch {
  readonly benchId: Id<'bench'>
  readonly kind: BookingKind
  readonly day: string
  /** The spins in the order they are turned; only for the kind 'spins'. */
  readonly shootIds: readonly Id<'shoot'>[]
  /** What it is; needed for the kind 'other'. */
  readonly title: string | null
  /** Minutes at the block's start that go to the set change, booked as a block of its own. */
  readonly setChangeMinutes: number
  readonly personIds: readonly Id<'person'>[]
  readonly isFixed: boolean
  /** Why it is right to go on against an objection about the world outside. */
  readonly overruledReason: string | null
}

/** Spins and people come as JSON within the row: a query apiece for every block would cost a week's plan dear. */
type BookingRow = Omit<Booking, 'fromMinute' | 'toMinute' | 'day' | 'isFixed' | 'spins' | 'people'> & {
  readonly isFixed: 0 | 1
  readonly spins: string
  readonly people: string
}

const bookingColumns = `b.id, b.bench_id AS benchId, bench.name AS bench, b.kind, b.title, b.job_id AS jobId,
  job.number AS jobNumber, client.name AS client, b.rig_revision_id AS rigRevisionId, rig.name AS rig, v.revision,
  b.starts_at AS startsAt, b.ends_at AS endsAt, b.is_fixed AS isFixed, b.overruled_reason AS overruledReason, b.uid,
  b.sequence, b.changed_at AS changedAt, b.cancelled_at AS cancelledAt,
  (SELECT json_group_array(json_object('shootId', shoot.id, 'name', shoot.name) ORDER BY bs.position)
    FROM booking_shoot bs JOIN shoot ON shoot.id = bs.shoot_id WHERE bs.booking_id = b.id) AS spins,
  (SELECT json_group_array(json_object('id', person.id, 'name', person.name) ORDER BY person.id)
    FROM booking_person bp JOIN person ON person.id = bp.person_id WHERE bp.booking_id = b.id) AS people`
const bookingFrom = `FROM booking b JOIN bench ON bench.id = b.bench_id LEFT JOIN job ON job.id = b.job_id
  LEFT JOIN client ON client.id = job.client_id LEFT JOIN rig_revision v ON v.id = b.rig_revision_id
  LEFT JOIN rig ON rig.id = v.rig_id`

/** The blocks of a bench that touch the time from one instant to another, in their order. */
export function bookingsBetween(db: Db, benchId: Id<'bench'>, from: string, to: string): readonly Booking[] {
  const zone = studioZone(db)
  // A block lies within one local day, so nothing that began two days before can still run.
  const earliest = new Date(Date.parse(from) - 2 * 86_400_000).toISOString()
  return prepared<[number, string, string, string], BookingRow>(
    db,
    `SELECT ${bookingColumns} ${bookingFrom}
     WHERE b.bench_id = ? AND b.cancelled_at IS NULL AND b.starts_at > ? AND b.starts_at < ? AND b.ends_at > ?
     ORDER BY b.starts_at`,
  )
    .all(benchId, earliest, to, from)
    .map((row) => toBooking(row, zone))
}

/** Which blocks a calendar holds: of one bench or of all (null), that touch a time, and what was cancelled lately of it. */
export interface CalendarSpan {
  readonly benchId: Id<'bench'> | null
  readonly from: string
  readonly to: string
  /** Cancelled blocks are named until they were cancelled before this; null names none. */
  readonly cancelledSince: string | null
}

/** The blocks for a calendar in the order of their time, those that were cancelled lately among them. */
export function calendarBookings(db: Db, span: CalendarSpan): readonly Booking[] {
  const zone = studioZone(db)
  const asked = { ...span, earliest: new Date(Date.parse(span.from) - 2 * 86_400_000).toISOString() }
  const found = (which: string) =>
    prepared<[typeof asked], BookingRow>(
      db,
      `SELECT ${bookingColumns} ${bookingFrom} WHERE ${which} AND b.starts_at < @to AND b.ends_at > @from
         AND (@benchId IS NULL OR b.bench_id = @benchId)`,
    ).all(asked)
  const standing = found('b.cancelled_at IS NULL AND b.starts_at > @earliest')
  const cancelled = span.cancelledSince === null ? [] : found('b.cancelled_at >= @cancelledSince')
  return [...standing, ...cancelled]
    .sort((a, b) => (a.startsAt < b.startsAt ? -1 : a.startsAt > b.startsAt ? 1 : a.id - b.id))
    .map((row) => toBooking(row, zone))
}

/** The blocks of a job that are not cancelled, in their order. */
export function bookingsOfJob(db: Db, jobId: Id<'job'>): readonly Booking[] {
  const zone = studioZone(db)
  return prepared<[number], BookingRow>(
    db,
    `SELECT ${bookingColumns} ${bookingFrom} WHERE b.job_id = ? AND b.cancelled_at IS NULL ORDER BY b.starts_at`,
  )
    .all(jobId)
    .map((row) => toBooking(row, zone))
}

/** One block, or undefined where there is none or it is cancelled. */
export function findBooking(db: Db, bookingId: Id<'booking'>): Booking | undefined {
  const row = prepared<[number], BookingRow>(
    db,
    `SELECT ${bookingColumns} ${bookingFrom} WHERE b.id = ? AND b.cancelled_at IS NULL`,
  ).get(bookingId)
  return row && toBooking(row, studioZone(db))
}

function toBooking(row: BookingRow, zone: string): Booking {
  const day = dayOf(row.startsAt, zone)
  return {
    ...row,
    isFixed: row.isFixed === 1,
    day,
    fromMinute: minutesOfDay(row.startsAt, zone),
    // A block that ends at midnight ends its own day.
    toMinute: day === dayOf(row.endsAt, zone) ? minutesOfDay(row.endsAt, zone) : 1440,
    spins: JSON.parse(row.spins) as Booking['spins'],
    people: JSON.parse(row.people) as Booking['people'],
  }
}

export function theBooking(db: Db, bookingId: Id<'booking'>): Booking {
  const booking = findBooking(db, bookingId)
  if (!booking) throw new Refusal('no-booking', 'This block is not booked any more.')
  return booking
}

/** The set change that makes way for a block of spins: the same job's, ending where the block starts. */
export function setChangeBefore(
  db: Db,
  booking: Booking,
): { readonly id: Id<'booking'>; readonly startsAt: string } | undefined {
  if (booking.kind !== 'spins') return undefined
  return prepared<[number, string, number | null], { id: Id<'booking'>; startsAt: string }>(
    db,
    `SELECT id, starts_at AS startsAt FROM booking
     WHERE bench_id = ? AND ends_at = ? AND job_id IS ? AND kind = 'set change' AND cancelled_at IS NULL`,
  ).get(booking.benchId, booking.startsAt, booking.jobId)
}
