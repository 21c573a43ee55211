import { dayOf } from '../main/trade/calendar.ts'
import { Refusal } from '../main/trade/refusal.ts'
import { studioZone } from './calendar.ts'
import type { Writing } from './events.ts'
import type { Id } from './ids.ts'
import { changing, type Job, type Priority } from './jobs.ts'
import { prepared } from './statement.ts'

/** Puts a job on hold until a day, with a reason; bookings and quotes are not touched. */
export function holdJob(writing: Writing, jobId: Id<'job'>, reason: string, until: string): void {
  const today = dayOf(writing.now, studioZone(writing.db))
  if (until < today) {
    throw new Refusal('hold-in-the-past', 'This day is past. Say until which day the job is held.', {
      field: 'until',
    })
  }
  changing(writing, jobId, 'put on hold', (job) => {
    refuseClosed(job)
    prepared<unknown[]>(writing.db, 'UPDATE job SET hold_reason = ?, hold_until = ? WHERE id = ?').run(
      reason,
      until,
      jobId,
    )
    return { reason, until }
  })
}

export function releaseJob(writing: Writing, jobId: Id<'job'>): void {
  changing(writing, jobId, 'hold released', () => {
    prepared<[number]>(writing.db, 'UPDATE job SET hold_reason = NULL, hold_until = NULL WHERE id = ?').run(
      jobId,
    )
  })
}

export function prioritiseJob(writing: Writing, jobId: Id<'job'>, priority: Priority): void {
  changing(writing, jobId, 'priority set', (job) => {
    refuseClosed(job)
    prepared<unknown[]>(writing.db, 'UPDATE job SET priority = ? WHERE id = ?').run(priority, jobId)
    return { priority }
  })
}

/**
 * Writes a job down as lost: why, and at what price where it is known (minor units). Refuses one whose quote was
 * accepted, which can only be cancelled.
 */
export function loseJob(writing: Writing, jobId: Id<'job'>, reason: string, priceMinor: number | null): void {
  changing(writing, jobId, 'job lost', (job) => {
    refuseClosed(job)
    const accepted = prepared<[number], { number: string }>(
      writing.db,
      `SELECT number FROM quote WHERE job_id = ? AND state = 'accepted'`,
    ).get(jobId)
    if (accepted) {
      throw new Refusal(
        'job-won',
        `The client accepted quote ${accepted.number}, so this job was not lost. Cancel it instead.`,
      )
    }
    prepared<unknown[]>(
      writing.db,
      'UPDATE job SET lost_reason = ?, lost_price_minor = ?, lost_at = ? WHERE id = ?',
    ).run(reason, priceMinor, writing.now, jobId)
    return { reason, priceMinor }
  })
}

/**
 * Cancels a job, with a reason, and frees the bench of its bookings to come. Samples stay on the shelf until
 * they go back; what was invoiced stays in the books.
 */
export function cancelJob(writing: Writing, jobId: Id<'job'>, reason: string): void {
  const { db, now } = writing
  changing(writing, jobId, 'job cancelled', (job) => {
    refuseClosed(job)
    prepared<unknown[]>(
      db,
      'UPDATE job SET cancelled_reason = ?, cancelled_at = ?, hold_reason = NULL, hold_until = NULL WHERE id = ?',
    ).run(reason, now, jobId)
    const freed = prepared<unknown[]>(
      db,
      `UPDATE booking SET cancelled_at = ?, changed_at = ?, sequence = sequence + 1
       WHERE job_id = ? AND cancelled_at IS NULL AND starts_at > ?`,
    ).run(now, now, jobId, now)
    return { reason, bookingsFreed: freed.changes }
  })
}

/** Takes a lost or cancelled job up again. Bookings that were freed have to be made anew. */
export function reopenJob(writing: Writing, jobId: Id<'job'>): void {
  changing(writing, jobId, 'job taken up again', (job) => {
    if (job.lostAt === null && job.cancelledAt === null) {
      throw new Refusal('job-open', `Job ${job.number} is open already.`)
    }
    prepared<[number]>(
      writing.db,
      `UPDATE job SET lost_reason = NULL, lost_price_minor = NULL, lost_at = NULL, cancelled_reason = NULL,
         cancelled_at = NULL WHERE id = ?`,
    ).run(jobId)
  })
}

function refuseClosed(job: Job): void {
  if (job.lostAt !== null || job.cancelledAt !== null) {
    const ending = job.lostAt !== null ? 'lost' : 'cancelled'
    throw new Refusal('job-closed', `Job ${job.number} was ${ending}. Take it up again first.`)
  }
}
