import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { prepared } from './statement.ts'

/** Who writes, and when: handed to every function that changes the store. */
export interface Writing {
  readonly db: Db
  readonly now: string
  readonly who: { readonly personId: Id<'person'>; readonly deviceId: Id<'device'> }
}

/** What happened, for the log and for the job's history. */
export interface Happening {
  readonly subject: string
  readonly subjectId: number
  readonly jobId?: number | null
  readonly clientId?: number | null
  /** A short past-tense phrase: 'quote sent', 'sample arrived'. */
  readonly what: string
  readonly detail?: Readonly<Record<string, unknown>>
}

/** Appends to the event log; call it inside the transaction of the change it tells of. */
export function writeEvent({ db, now, who }: Writing, happening: Happening): void {
  prepared<unknown[]>(
    db,
    `INSERT INTO event (at, person_id, device_id, subject, subject_id, job_id, client_id, what, detail)
     VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)`,
  ).run(
    now,
    who.personId,
    who.deviceId,
    happening.subject,
    happening.subjectId,
    happening.jobId ?? null,
    happening.clientId ?? null,
    happening.what,
    JSON.stringify(happening.detail ?? {}),
  )
}

export interface HistoryEntry {
  readonly id: number
  readonly at: string
  readonly person: string
  readonly what: string
  readonly detail: Readonly<Record<string, unknown>>
}

/** A job's history, newest first, a page at a time: entries older than `beforeId`. */
export function jobHistory(
  db: Db,
  jobId: Id<'job'>,
  beforeId: number | null,
  limit: number,
): readonly HistoryEntry[] {
  return prepared<
    [number, number, number],
    { id: number; at: string; person: string; what: string; detail: string }
  >(
    db,
    `SELECT event.id, event.at, person.name AS person, event.what, event.detail
     FROM event JOIN person ON person.id = event.person_id
     WHERE event.job_id = ? AND event.id < ? ORDER BY event.id DESC LIMIT ?`,
  )
    .all(jobId, beforeId ?? Number.MAX_SAFE_INTEGER, limit)
    .map((row) => ({ ...row, detail: JSON.parse(row.detail) as Record<string, unknown> }))
}
