import { dayOf, daysBetween } from '../main/trade/calendar.ts'
import type { Booking } from './bookings.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { prepared } from './statement.ts'

/** What a block's job and its goods add to it. */
export interface BlockFacts {
  readonly dueDay: string | null
  /** Days from the due day to the day on which the block ends; 0 where it ends in time or nothing is due. */
  readonly lateDays: number
  /** Samples that its spins need and that are not in. */
  readonly goodsMissing: number
  /** The last day on which one of them is expected; null where one has no such day. */
  readonly goodsExpectedDay: string | null
}

export const noFacts: BlockFacts = { dueDay: null, lateDays: 0, goodsMissing: 0, goodsExpectedDay: null }

/** When the goods of a booked job are expected, or came. */
export interface GoodsMark {
  readonly day: string
  readonly jobId: Id<'job'>
  readonly number: string
  readonly client: string
  readonly samples: number
  readonly state: 'expected' | 'came'
}

/** The facts of blocks of spins; other blocks have none. */
export function blockFacts(
  db: Db,
  bookings: readonly Booking[],
  zone: string,
): ReadonlyMap<Id<'booking'>, BlockFacts> {
  const spins = bookings.filter(({ kind }) => kind === 'spins')
  const dueDays = dueDaysOf(db, spins)
  const missing = goodsMissing(db, spins)
  return new Map(
    spins.map((booking) => {
      const dueDay = dueDays.get(booking.jobId ?? 0) ?? null
      // What ends at midnight ends its own day.
      const endDay = dayOf(new Date(Date.parse(booking.endsAt) - 1), zone)
      const goods = missing.get(booking.id)
      return [
        booking.id,
        {
          dueDay,
          lateDays: dueDay === null ? 0 : Math.max(0, daysBetween(dueDay, endDay)),
          goodsMissing: goods?.missing ?? 0,
          goodsExpectedDay: goods && goods.expected === goods.missing ? goods.lastDay : null,
        },
      ]
    }),
  )
}

function jobIdsOf(bookings: readonly Booking[]): string {
  return JSON.stringify([...new Set(bookings.flatMap(({ jobId }) => jobId ?? []))])
}

function dueDaysOf(db: Db, bookings: readonly Booking[]): ReadonlyMap<number, string | null> {
  const rows = prepared<[string], { jobId: number; dueDay: string | null }>(
    db,
    'SELECT job_id AS jobId, due_day AS dueDay FROM job_standing WHERE job_id IN (SELECT value FROM json_each(?))',
  ).all(jobIdsOf(bookings))
  return new Map(rows.map(({ jobId, dueDay }) => [jobId, dueDay]))
}

interface MissingRow {
  readonly bookingId: number
  readonly missing: number
  readonly expected: number
  readonly lastDay: string | null
}

function goodsMissing(db: Db, bookings: readonly Booking[]): ReadonlyMap<number, MissingRow> {
  const rows = prepared<[string], MissingRow>(
    db,
    `SELECT bs.booking_id AS bookingId, count(*) AS missing, count(s.expected_day) AS expected,
       max(s.expected_day) AS lastDay
     FROM booking_shoot bs JOIN shoot ON shoot.id = bs.shoot_id JOIN shoot_product sp ON sp.shoot_id = shoot.id
     LEFT JOIN sample s ON s.product_id = sp.product_id AND s.job_id = shoot.job_id
     WHERE bs.booking_id IN (SELECT value FROM json_each(?)) AND shoot.without_sample_reason IS NULL
       AND (s.id IS NULL OR (s.is_needed = 1 AND s.state IN ('expected', 'missing', 'wrong')))
     GROUP BY bs.booking_id`,
  ).all(JSON.stringify(bookings.map(({ id }) => id)))
  return new Map(rows.map((row) => [row.bookingId, row]))
}

interface SampleRow {
  readonly jobId: Id<'job'>
  readonly number: string
  readonly client: string
  readonly expectedDay: string | null
  readonly arrivedAt: string | null
  readonly state: string
  readonly samples: number
}

/** The days among those shown on which goods of the blocks' jobs are expected or came, in the order of days and jobs. */
export function goodsMarks(
  db: Db,
  bookings: readonly Booking[],
  firstDay: string,
  lastDay: string,
  zone: string,
): readonly GoodsMark[] {
  const rows = prepared<[string], SampleRow>(
    db,
    `SELECT job.id AS jobId, job.number, client.name AS client, s.expected_day AS expectedDay,
       s.arrived_at AS arrivedAt, s.state, count(*) AS samples
     FROM job JOIN client ON client.id = job.client_id JOIN sample s ON s.job_id = job.id
     WHERE job.id IN (SELECT value FROM json_each(?)) AND s.is_needed = 1
     GROUP BY job.id, s.expected_day, s.arrived_at, s.state`,
  ).all(jobIdsOf(bookings))
  const marks = new Map<string, GoodsMark>()
  for (const { jobId, number, client, expectedDay, arrivedAt, state: sample, samples } of rows) {
    const isOut = sample === 'expected' || sample === 'missing' || sample === 'wrong'
    const day = isOut ? expectedDay : arrivedAt && dayOf(arrivedAt, zone)
    if (!day || day < firstDay || day > lastDay) continue
    const state = isOut ? 'expected' : 'came'
    const key = `${day} ${number} ${state}`
    marks.set(key, { day, jobId, number, client, state, samples: samples + (marks.get(key)?.samples ?? 0) })
  }
  return [...marks.entries()].sort(([a], [b]) => (a < b ? -1 : 1)).map(([, mark]) => mark)
}
