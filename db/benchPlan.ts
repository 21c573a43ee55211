import { hoursOn, type Stretch } from '../main/trade/bench.ts'
import { addDays, instantAt } from '../main/trade/calendar.ts'
import { closuresBetween, listBenches } from './benches.ts'
import { type BlockFacts, blockFacts, type GoodsMark, goodsMarks, noFacts } from './blockFacts.ts'
import { type Booking, bookingsBetween } from './bookings.ts'
import { studioZone } from './calendar.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import type { Page } from './page.ts'
import { rigNameOf, rigStandingAt } from './standingRig.ts'
import { prepared } from './statement.ts'

/** A bench's day: when it is open, why not, and what is booked. */
export interface BenchDay {
  readonly day: string
  readonly open: readonly Stretch[]
  /** Why it is closed on a day that it would be open, or null. */
  readonly closed: string | null
  readonly bookings: readonly PlanBlock[]
}

/** A block as the plan shows it. */
export interface PlanBlock extends Booking, BlockFacts {
  /** Of a set change: the rig that stands before it; null where none was booked. */
  readonly rigBefore: string | null
}

export interface BenchWeek {
  readonly benchId: Id<'bench'>
  readonly name: string
  readonly days: readonly BenchDay[]
}

/** Open jobs due on a day that still have work at the bench. */
export interface DueMark {
  readonly day: string
  readonly jobId: Id<'job'>
  readonly number: string
  readonly client: string
  readonly benchMsLeft: number
}

/** The benches over some days from the first, and the jobs due then. */
export function benchPlan(
  db: Db,
  firstDay: string,
  dayCount: number,
): {
  readonly benches: readonly BenchWeek[]
  readonly due: readonly DueMark[]
  readonly goods: readonly GoodsMark[]
} {
  const days = Array.from({ length: dayCount }, (_, index) => addDays(firstDay, index))
  const lastDay = days.at(-1) ?? firstDay
  const zone = studioZone(db)
  const closures = closuresBetween(db, firstDay, lastDay)
  const [from, to] = [firstDay, addDays(lastDay, 1)].map((day) => instantAt(day, 0, zone).toISOString())
  const read = listBenches(db).map((bench) => {
    // A block lies within one local day.
    const byDay = Map.groupBy(bookingsBetween(db, bench.id, from ?? '', to ?? ''), ({ day }) => day)
    return { bench, days: days.map((day) => ({ day, bookings: byDay.get(day) ?? [] })) }
  })
  const booked = read.flatMap((one) => one.days.flatMap(({ bookings }) => bookings))
  const facts = blockFacts(db, booked, zone)
  const benches = read.map(({ bench, days: benchDays }) => {
    const rigBefore = rigsBefore(
      db,
      bench.id,
      benchDays.flatMap(({ bookings }) => bookings),
    )
    return {
      benchId: bench.id,
      name: bench.name,
      days: benchDays.map(({ day, bookings }) => ({
        day,
        open: hoursOn(day, bench.openings),
        closed:
          closures.find(
            (closure) =>
              (closure.benchId === null || closure.benchId === bench.id) &&
              closure.fromDay <= day &&
              day <= closure.toDay,
          )?.reason ?? null,
        bookings: bookings.map((booking) => ({
          ...booking,
          ...(facts.get(booking.id) ?? noFacts),
          rigBefore: rigBefore.get(booking.id) ?? null,
        })),
      })),
    }
  })
  return {
    benches,
    due: dueBetween(db, firstDay, lastDay),
    goods: goodsMarks(db, booked, firstDay, lastDay, zone),
  }
}

/** By set change: the rig that stands before it, in the order of a bench's blocks. */
function rigsBefore(
  db: Db,
  benchId: Id<'bench'>,
  bookings: readonly Booking[],
): ReadonlyMap<Id<'booking'>, string | null> {
  const before = new Map<Id<'booking'>, string | null>()
  const first = bookings.find(({ kind }) => kind === 'set change')
  if (!first) return before
  const standing = rigStandingAt(db, benchId, first.startsAt)
  let rig = rigNameOf(db, standing?.rigRevisionId ?? null)
  for (const booking of bookings) {
    if (booking.startsAt < first.startsAt) continue
    if (booking.kind === 'set change') before.set(booking.id, rig)
    if (booking.kind === 'spins') rig = booking.rig ?? rig
  }
  return before
}

function dueBetween(db: Db, fromDay: string, toDay: string): readonly DueMark[] {
  return prepared<[string, string], DueMark>(
    db,
    `SELECT s.due_day AS day, job.id AS jobId, job.number, client.name AS client, s.bench_ms_left AS benchMsLeft
     FROM job_standing s JOIN job ON job.id = s.job_id JOIN client ON client.id = job.client_id
     WHERE s.is_open = 1 AND s.due_day BETWEEN ? AND ? AND s.at_samples_in + s.at_bench + s.at_takes > 0
     ORDER BY s.due_day, job.number`,
  ).all(fromDay, toDay)
}

/** Spins of a job on one rig that have no place on a bench yet. */
export interface WaitingGroup {
  readonly jobId: Id<'job'>
  readonly number: string
  readonly title: string
  readonly client: string
  readonly dueDay: string | null
  readonly holdUntil: string | null
  readonly rigRevisionId: Id<'rig_revision'> | null
  readonly rig: string | null
  readonly spins: number
  /** Of them, those with a sample that is not in. */
  readonly withoutSample: number
  readonly estimateMs: number
  /** How many of them had a block that passed without a take, and when the last of those blocks began. */
  readonly passed: number
  readonly passedAt: string | null
  readonly shootIds: readonly Id<'shoot'>[]
}

type WaitingRow = Omit<WaitingGroup, 'shootIds'> & { readonly shootIdList: string }

/**
 * What makes `shoot`, whose job's standing is `s`, wait for a place at the instant `@now`: ordered, open, without a block
 * that still runs or is to come, and not turned since it was last called for. A block that passed without a take
 * holds no place.
 */
export const waitsForPlace = `s.is_open = 1 AND s.at_samples_in + s.at_bench + s.at_takes > 0 AND shoot.cancelled_at IS NULL
  AND s.station NOT IN ('enquiry', 'quote')
  AND NOT EXISTS (SELECT 1 FROM booking_shoot bs JOIN booking b ON b.id = bs.booking_id
    WHERE bs.shoot_id = shoot.id AND b.cancelled_at IS NULL AND b.ends_at > @now)
  AND NOT EXISTS (SELECT 1 FROM take WHERE take.shoot_id = shoot.id
    AND take.started_at > ifnull((SELECT max(asked_at) FROM reshoot r WHERE r.shoot_id = shoot.id), ''))`

interface WaitingOf {
  readonly jobId?: Id<'job'> | null
  readonly rigRevisionIds?: readonly Id<'rig_revision'>[]
}

/**
 * The first jobs of which spins wait, the earliest due first. Each gives a group or more, so that so many jobs hold the
 * first so many groups, and no later job need be looked at.
 */
function waitingJobs(db: Db, of: ReturnType<typeof boundBy>, limit: number): readonly Id<'job'>[] {
  const found = (due: 'IS NULL' | 'IS NOT NULL', atMost: number) =>
    prepared<Record<string, unknown>, { jobId: Id<'job'> }>(
      db,
      `SELECT s.job_id AS jobId FROM job_standing s WHERE s.is_open = 1 AND s.due_day ${due}
         AND (@jobId IS NULL OR s.job_id = @jobId) AND EXISTS (SELECT 1 FROM shoot WHERE shoot.job_id = s.job_id
           AND (@rigs IS NULL OR shoot.rig_revision_id IN (SELECT value FROM json_each(@rigs))) AND ${waitsForPlace})
       ORDER BY s.due_day, s.job_id LIMIT @atMost`,
    )
      .all({ ...of, atMost })
      .map(({ jobId }) => jobId)
  const due = found('IS NOT NULL', limit)
  return due.length < limit ? [...due, ...found('IS NULL', limit - due.length)] : due
}

function boundBy({ jobId = null, rigRevisionIds }: WaitingOf, now: string) {
  return { now, jobId, rigs: rigRevisionIds ? JSON.stringify(rigRevisionIds) : null }
}

/**
 * Spins of accepted, open jobs that wait for a place. Grouped by job and rig, the earliest due first, a page of
 * groups at a time.
 */
export function waitingSpins(
  db: Db,
  page: Page,
  now: string,
  of: WaitingOf = {},
): { readonly groups: readonly WaitingGroup[]; readonly more: boolean } {
  const bound = boundBy(of, now)
  const jobIds = waitingJobs(db, bound, page.offset + page.limit + 1)
  const rows = prepared<Record<string, unknown>, WaitingRow>(
    db,
    `WITH waiting AS (SELECT shoot.*, s.due_day,
       (SELECT max(b.starts_at) FROM booking_shoot bs JOIN booking b ON b.id = bs.booking_id
         WHERE bs.shoot_id = shoot.id AND b.cancelled_at IS NULL
           AND b.ends_at > ifnull((SELECT max(asked_at) FROM reshoot r WHERE r.shoot_id = shoot.id), '')) AS passed_at
       FROM job_standing s JOIN shoot ON shoot.job_id = s.job_id
       WHERE s.job_id IN (SELECT value FROM json_each(@jobIds))
         AND (@rigs IS NULL OR shoot.rig_revision_id IN (SELECT value FROM json_each(@rigs)))
         AND ${waitsForPlace})
     SELECT job.id AS jobId, job.number, job.title, client.name AS client, shoot.due_day AS dueDay,
       job.hold_until AS holdUntil, shoot.rig_revision_id AS rigRevisionId, rig.name AS rig, count(*) AS spins,
       sum(shoot.estimate_ms) AS estimateMs, json_group_array(shoot.id ORDER BY shoot.position) AS shootIdList,
       sum(shoot.without_sample_reason IS NULL AND EXISTS (SELECT 1 FROM shoot_product sp
         LEFT JOIN sample ON sample.product_id = sp.product_id AND sample.job_id = shoot.job_id
         WHERE sp.shoot_id = shoot.id AND (sample.id IS NULL
           OR (sample.is_needed = 1 AND sample.state IN ('expected', 'missing', 'wrong'))))) AS withoutSample,
       count(shoot.passed_at) AS passed, max(shoot.passed_at) AS passedAt
     FROM waiting shoot JOIN job ON job.id = shoot.job_id JOIN client ON client.id = job.client_id
     LEFT JOIN rig_revision v ON v.id = shoot.rig_revision_id LEFT JOIN rig ON rig.id = v.rig_id
     GROUP BY job.id, shoot.rig_revision_id
     ORDER BY shoot.due_day IS NULL, shoot.due_day, job.id, min(shoot.position) LIMIT @limit OFFSET @offset`,
  ).all({
    now,
    rigs: bound.rigs,
    jobIds: JSON.stringify(jobIds),
    limit: page.limit + 1,
    offset: page.offset,
  })
  return {
    groups: rows.slice(0, page.limit).map(({ shootIdList, ...row }) => ({
      ...row,
      shootIds: JSON.parse(shootIdList) as Id<'shoot'>[],
    })),
    more: rows.length > page.limit,
  }
}
