import type { Writing } from './events.ts'
import { writeEvent } from './events.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { inOneTransaction, prepared } from './statement.ts'

export type ClientPaperKind = 'order confirmation' | 'goods receipt' | 'statement of account'

/** A paper that a client was given beside quotes and invoices. It stays as it was written. */
export interface ClientPaper {
  readonly kind: ClientPaperKind
  readonly attachmentId: Id<'attachment'>
  readonly name: string
  readonly writtenAt: string
}

/** The papers of a job, the newest first. */
export function papersOfJob(db: Db, jobId: Id<'job'>): readonly ClientPaper[] {
  return prepared<[number], ClientPaper>(
    db,
    `SELECT p.kind, p.attachment_id AS attachmentId, a.name, p.written_at AS writtenAt
     FROM client_paper p JOIN attachment a ON a.id = p.attachment_id WHERE p.job_id = ? ORDER BY p.id DESC`,
  ).all(jobId)
}

/** Keeps a paper with its client and job; the same paper written again is kept once. */
export function keepClientPaper(
  writing: Writing,
  of: {
    readonly kind: ClientPaperKind
    readonly clientId: Id<'client'>
    readonly jobId: Id<'job'> | null
    readonly attachmentId: Id<'attachment'>
  },
): void {
  const { db, now } = writing
  inOneTransaction(db, () => {
    const { changes } = prepared<unknown[]>(
      db,
      `INSERT INTO client_paper (client_id, job_id, kind, attachment_id, written_at) VALUES (?, ?, ?, ?, ?)
       ON CONFLICT (attachment_id) DO NOTHING`,
    ).run(of.clientId, of.jobId, of.kind, of.attachmentId, now)
    if (changes === 0) return
    writeEvent(writing, {
      subject: of.jobId === null ? 'client' : 'job',
      subjectId: of.jobId ?? of.clientId,
      jobId: of.jobId,
      clientId: of.clientId,
      what: `${of.kind} written`,
    })
  })
}
