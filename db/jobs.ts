import { dayOf } from '../main/trade/calendar.ts'
import { Refusal } from '../main/trade/refusal.ts'
import { copyBrief } from './briefs.ts'
import { studioZone } from './calendar.ts'
import { type Writing, writeEvent } from './events.ts'
import type { Id } from './ids.ts'
import { insertSpins, type SpinDraft } from './newSpins.ts'
import { takeNumber } from './numbers.ts'
import type { Db } from './open.ts'
import { refreshStanding } from './standing.ts'
import { inOneTransaction, newId, prepared } from './statement.ts'
import { theStudio } from './studio.ts'

export type Priority = 'low' | 'normal' | 'high'

/** One order by a client. Money in minor units of `currency`; the brief is the job's own copy. */
export interface Job {
  readonly id: Id<'job'>
  readonly number: string
  readonly clientId: Id<'client'>
  readonly contactId: Id<'contact'> | null
  readonly title: string
  readonly briefId: Id<'brief'>
  readonly currency: string
  readonly orderNumber: string | null
  readonly buyerReference: string | null
  readonly costCentre: string | null
  readonly enquiredDay: string
  readonly callBackDay: string | null
  /** Either a day, or a promise in working days after the last needed sample, or neither. */
  readonly dueDay: string | null
  readonly promiseWorkingDays: number | null
  readonly returnByDay: string | null
  readonly roundsIncluded: number
  readonly priority: Priority
  readonly holdReason: string | null
  readonly holdUntil: string | null
  readonly lostReason: string | null
  readonly lostPriceMinor: number | null
  readonly lostAt: string | null
  readonly cancelledReason: string | null
  readonly cancelledAt: string | null
  readonly note: string | null
}

/** A job as a person writes it. Null rounds mean 'as the studio'; a null enquiry day means today. */
export type JobDraft = Pick<
  Job,
  | 'contactId'
  | 'title'
  | 'orderNumber'
  | 'buyerReference'
  | 'costCentre'
  | 'callBackDay'
  | 'dueDay'
  | 'promiseWorkingDays'
  | 'returnByDay'
  | 'note'
> & { readonly enquiredDay: string | null; readonly roundsIncluded: number | null }

const jobColumns = `job.id, job.number, job.client_id AS clientId, job.contact_id AS contactId, job.title,
  job.brief_id AS briefId, job.currency, job.order_number AS orderNumber, job.buyer_reference AS buyerReference,
  job.cost_centre AS costCentre, job.enquired_day AS enquiredDay, job.call_back_day AS callBackDay,
  job.due_day AS dueDay, job.promise_working_days AS promiseWorkingDays, job.return_by_day AS returnByDay,
  job.rounds_included AS roundsIncluded, job.priority, job.hold_reason AS holdReason, job.hold_until AS holdUntil,
  job.lost_reason AS lostReason, job.lost_price_minor AS lostPriceMinor, job.lost_at AS lostAt,
  job.cancelled_reason AS cancelledReason, job.cancelled_at AS cancelledAt, job.note`

export function findJob(db: Db, jobId: Id<'job'>): Job | undefined {
  return prepared<[number], Job>(db, `SELECT ${jobColumns} FROM job WHERE id = ?`).get(jobId)
}

/** Refuses a job that is not in the studio. */
export function jobById(db: Db, jobId: Id<'job'>): Job {
  const job = findJob(db, jobId)
  if (!job) throw new Refusal('no-job', 'This job is not in the studio.')
  return job
}

/**
 * Adds a job with its spins: number, its own copy of the client's standing brief, the expected list. All of it
 * or nothing. Refuses an unknown client, a contact of another, and both a due day and a promise.
 */
export function addJob(
  writing: Writing,
  clientId: Id<'client'>,
  draft: JobDraft,
  spins: readonly SpinDraft[],
): { readonly jobId: Id<'job'>; readonly number: string } {
  const { db, now } = writing
  return inOneTransaction(db, () => {
    const client = prepared<[number], { briefId: Id<'brief'>; currency: string }>(
      db,
      'SELECT standing_brief_id AS briefId, currency FROM client WHERE id = ?',
    ).get(clientId)
    if (!client) {
      throw new Refusal('no-client', 'This client is not in the studio.', { field: 'clientId' })
    }
    refuseDraft(db, clientId, draft)
    const today = dayOf(now, studioZone(db))
    const number = takeNumber(writing, 'job', Number(today.slice(0, 4)))
    const jobId = newId<Id<'job'>>(
      prepared<unknown[]>(
        db,
        `INSERT INTO job (contact_id, title, order_number, buyer_reference, cost_centre, enquired_day, call_back_day,
           due_day, promise_working_days, return_by_day, rounds_included, note, client_id, number, currency, brief_id,
           created_at) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
      ).run(
        ...draftValues(db, draft, today),
        clientId,
        number,
        client.currency,
        copyBrief(db, client.briefId),
        now,
      ),
    )
    const shootIds = insertSpins(writing, jobId, spins)
    writeEvent(writing, {
      subject: 'job',
      subjectId: jobId,
      jobId,
      clientId,
      what: 'job added',
      detail: { number, title: draft.title, spins: shootIds.length },
    })
    refreshStanding(writing, jobId)
    return { jobId, number }
  })
}

/** Changes what is agreed about a job; its client, number and currency stay. */
export function changeJob(writing: Writing, jobId: Id<'job'>, draft: JobDraft): void {
  changing(writing, jobId, 'job changed', (job) => {
    refuseDraft(writing.db, job.clientId, draft)
    prepared<unknown[]>(
      writing.db,
      `UPDATE job SET contact_id = ?, title = ?, order_number = ?, buyer_reference = ?, cost_centre = ?,
         enquired_day = ?, call_back_day = ?, due_day = ?, promise_working_days = ?, return_by_day = ?,
         rounds_included = ?, note = ? WHERE id = ?`,
    ).run(...draftValues(writing.db, draft, job.enquiredDay), jobId)
    return whatChanged(job, draft)
  })
}

/** Changes a job in one transaction: the change, its event with what `change` gives, and the standing. */
export function changing(
  writing: Writing,
  jobId: Id<'job'>,
  what: string,
  change: (job: Job) => Readonly<Record<string, unknown>> | undefined | undefined,
): void {
  inOneTransaction(writing.db, () => {
    const job = jobById(writing.db, jobId)
    const detail = change(job)
    writeEvent(writing, {
      subject: 'job',
      subjectId: jobId,
      jobId,
      clientId: job.clientId,
      what,
      ...(detail ? { detail } : {}),
    })
    refreshStanding(writing, jobId)
  })
}

function refuseDraft(db: Db, clientId: Id<'client'>, draft: JobDraft): void {
  if (draft.dueDay !== null && draft.promiseWorkingDays !== null) {
    throw new Refusal(
      'due-twice',
      'A job has either a due day or a promise in working days, not both. Empty one of them.',
      { field: 'promiseWorkingDays' },
    )
  }
  if (draft.contactId === null) return
  const contact = prepared<[number], { clientId: number }>(
    db,
    'SELECT client_id AS clientId FROM contact WHERE id = ?',
  ).get(draft.contactId)
  if (contact?.clientId !== clientId) {
    throw new Refusal(
      'contact-of-another',
      'This person is not with this client. Choose a contact of theirs.',
      {
        field: 'contactId',
      },
    )
  }
}

function draftValues(db: Db, draft: JobDraft, enquiredDay: string): readonly unknown[] {
  return [
    draft.contactId,
    draft.title,
    draft.orderNumber,
    draft.buyerReference,
    draft.costCentre,
    draft.enquiredDay ?? enquiredDay,
    draft.callBackDay,
    draft.dueDay,
    draft.promiseWorkingDays,
    draft.returnByDay,
    draft.roundsIncluded ?? theStudio(db).roundsIncluded,
    draft.note,
  ]
}

/** Only what differs, from and to, so that the history can tell it. */
function whatChanged(job: Job, draft: JobDraft): Readonly<Record<string, unknown>> {
  const changes = Object.entries(draft).flatMap(([key, to]) => {
    const from = job[key as keyof JobDraft]
    return to === from || (to === null && (key === 'enquiredDay' || key === 'roundsIncluded'))
      ? []
      : [[key, { from, to }] as const]
  })
  return { changes: Object.fromEntries(changes) }
}
