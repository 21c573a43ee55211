import { Refusal } from '../main/trade/refusal.ts'
import { type Writing, writeEvent } from './events.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { prepared } from './statement.ts'

/** The job that a take belongs to. Refuses a take that the studio does not have. */
export function jobOfTake(db: Db, takeId: Id<'take'>): Id<'job'> {
  const row = prepared<[number], { jobId: Id<'job'> }>(
    db,
    'SELECT shoot.job_id AS jobId FROM take JOIN shoot ON shoot.id = take.shoot_id WHERE take.id = ?',
  ).get(takeId)
  if (!row) throw new Refusal('no-take', 'This take is not in the studio.')
  return row.jobId
}

/** Writes an event of a take into its job's history. Called inside the transaction of the change. */
export function tellOfTake(
  writing: Writing,
  takeId: Id<'take'>,
  jobId: Id<'job'>,
  what: string,
  detail: Readonly<Record<string, unknown>>,
): void {
  writeEvent(writing, { subject: 'take', subjectId: takeId, jobId, what, detail })
}
