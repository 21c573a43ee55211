import { dayOf, type WorkingWeek } from '../main/trade/calendar.ts'
import { lateSamples, type PromisedDay, type PromisedSample, promisedDay } from '../main/trade/promise.ts'
import { studioZone, workingWeek } from './calendar.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { prepared } from './statement.ts'

/** The samples that a job's promise counts from: needed, and waited for by at least one of its spins. */
function promisedSamples(db: Db, jobId: Id<'job'>): readonly PromisedSample[] {
  const zone = studioZone(db)
  return prepared<
    [number],
    { code: string; arrivedAt: string | null; expectedDay: string | null; isIn: 0 | 1 }
  >(
    db,
    // A sample is no longer waited for once every spin of it goes on without it.
    `SELECT product.code, arrived_at AS arrivedAt, expected_day AS expectedDay,
       state NOT IN ('expected', 'missing', 'wrong', 'broken') AS isIn
     FROM sample JOIN product ON product.id = sample.product_id
     WHERE job_id = ? AND is_needed = 1 AND EXISTS (SELECT 1 FROM shoot_product sp
       JOIN shoot s ON s.id = sp.shoot_id WHERE sp.product_id = sample.product_id AND s.job_id = sample.job_id
       AND s.cancelled_at IS NULL AND s.without_sample_reason IS NULL) ORDER BY sample.id`,
  )
    .all(jobId)
    .map(({ code, arrivedAt, expectedDay, isIn }) => ({
      code,
      expectedDay,
      arrivedDay: isIn === 1 && arrivedAt !== null ? dayOf(arrivedAt, zone) : null,
    }))
}

/** The day that a job's promise falls on, as its samples stand; null without a promise and where no day can be said. */
export function promiseOfJob(
  db: Db,
  jobId: Id<'job'>,
  week: WorkingWeek = workingWeek(db),
): PromisedDay | null {
  const row = prepared<[number], { workingDays: number | null }>(
    db,
    'SELECT promise_working_days AS workingDays FROM job WHERE id = ?',
  ).get(jobId)
  if (!row || row.workingDays === null) return null
  return promisedDay(promisedSamples(db, jobId), row.workingDays, week)
}

/** What a job's samples page says of its promise. */
export interface JobPromise {
  readonly workingDays: number | null
  readonly promised: PromisedDay | null
  /** Expected before today and not in. */
  readonly late: readonly {
    readonly code: string
    readonly expectedDay: string | null
    readonly daysLate: number
  }[]
}

export function jobPromise(db: Db, jobId: Id<'job'>, now: string): JobPromise {
  const row = prepared<[number], { workingDays: number | null }>(
    db,
    'SELECT promise_working_days AS workingDays FROM job WHERE id = ?',
  ).get(jobId)
  return {
    workingDays: row?.workingDays ?? null,
    promised: promiseOfJob(db, jobId),
    late: lateSamples(promisedSamples(db, jobId), dayOf(now, studioZone(db))).map(
      ({ code, expectedDay, daysLate }) => ({ code, expectedDay, daysLate }),
    ),
  }
}
