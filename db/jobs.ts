import { dayOf } from '../main/trade/calendar.ts'
import { Refusal } from '../main/trade/refusal.ts'
import type { JobStanding, SpinStation, Station } from '../main/trade/standing.ts'
import { copyBrief } from './briefs.ts'
import { studioZone } from './calendar.ts'
import { type Writing, writeEvent } from './events.ts'
import type { Id } from './ids.ts'
import { takeNumber } from './numbers.ts'
import type { Db } from './open.ts'
import { insertSpins, type SpinDraft } from './spinChanges.ts'
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

/** Where a job stands, as its last change left it. */
export interface KeptStanding extends Pick<JobStanding, 'isOpen' | 'waitsFor' | 'station'> {
  readonly dueDay: string | null
  readonly spins: number
  readonly spread: Readonly<Record<SpinStation, number>>
  /** Mean bench time of the spins not yet kept, in ms. */
  readonly benchMsLeft: number
  /** Before tax, in minor units of the job's currency. */
  readonly valueMinor: number
}

/** The columns of a standing, for every list that shows one; the table is `st`. */
export const standingColumns = `st.station, st.is_open AS isOpen, st.waits_for AS waitsFor, st.due_day AS dueDay,
  st.spins, st.at_samples_in AS atSamplesIn, st.at_bench AS atBench, st.at_takes AS atTakes, st.at_pick AS atPick,
  st.at_yes AS atYes, st.at_delivery AS atDelivery, st.delivered, st.bench_ms_left AS benchMsLeft,
  st.value_minor AS valueMinor`

/** What `standingColumns` reads. */
export interface StandingRecord {
  readonly station: Station | 'lost' | 'cancelled'
  readonly isOpen: 0 | 1
  readonly waitsFor: string
  readonly dueDay: string | null
  readonly spins: number
  readonly atSamplesIn: number
  readonly atBench: number
  readonly atTakes: number
  readonly atPick: number
  readonly atYes: number
  readonly atDelivery: number
  readonly delivered: number
  readonly benchMsLeft: number
  readonly valueMinor: number
}

export function toStanding(record: StandingRecord): KeptStanding {
  return {
    station: record.station,
    isOpen: record.isOpen === 1,
    waitsFor: record.waitsFor,
    dueDay: record.dueDay,
    spins: record.spins,
    spread: {
      'samples in': record.atSamplesIn,
      bench: record.atBench,
      takes: record.atTakes,
      pick: record.atPick,
      yes: record.atYes,
      delivery: record.atDelivery,
      delivered: record.delivered,
    },
    benchMsLeft: record.benchMsLeft,
    valueMinor: record.valueMinor,
  }
}

export function keptStanding(db: Db, jobId: Id<'job'>): KeptStanding {
  const record = prepared<[number], StandingRecord>(
    db,
    `SELECT ${standingColumns} FROM job_standing st WHERE st.job_id = ?`,
  ).get(jobId)
  if (!record) throw new Error(`Job ${jobId} has no standing.`)
  return toStanding(record)
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
      `UPDATE booking SET cancelled_at = ?, sequence = sequence + 1
       WHERE job_id = ? AND cancelled_at IS NULL AND starts_at > ?`,
    ).run(now, jobId, now)
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

function changing(
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

function refuseClosed(job: Job): void {
  if (job.lostAt !== null || job.cancelledAt !== null) {
    const ending = job.lostAt !== null ? 'lost' : 'cancelled'
    throw new Refusal('job-closed', `Job ${job.number} was ${ending}. Take it up again first.`)
  }
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
