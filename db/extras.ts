import { type BillTotals, billTotals } from '../main/trade/bill.ts'
import { dayOf } from '../main/trade/calendar.ts'
import type { ExtraState } from '../main/trade/extras.ts'
import { lineNetMinor } from '../main/trade/money.ts'
import { Refusal } from '../main/trade/refusal.ts'
import { studioZone } from './calendar.ts'
import { type Writing, writeEvent } from './events.ts'
import type { Id } from './ids.ts'
import { jobById } from './jobs.ts'
import type { Db } from './open.ts'
import { refreshStanding } from './standing.ts'
import { inOneTransaction, newId, prepared } from './statement.ts'
import { taxRateById } from './taxRates.ts'

/** A line of an extra; money in minor units of the job's currency, before tax. */
export interface ExtraLine {
  readonly text: string
  readonly quantityMilli: number
  readonly unit: 'C62' | 'HUR' | 'DAY' | 'LS'
  readonly priceMinor: number
  readonly baseMilli: number
  readonly taxRateId: Id<'tax_rate'>
}

/** An agreed or proposed change to an accepted quote, numbered within its job. */
export interface Extra {
  readonly id: Id<'extra'>
  readonly jobId: Id<'job'>
  readonly number: number
  readonly title: string
  readonly state: ExtraState
  /** Why it is proposed. */
  readonly why: string | null
  readonly newDueDay: string | null
  readonly contactId: Id<'contact'> | null
  readonly contactName: string | null
  readonly decidedDay: string | null
  readonly decidedHow: string | null
}

export interface ExtraDraft extends Pick<Extra, 'title' | 'why' | 'newDueDay'> {
  readonly lines: readonly ExtraLine[]
}

/** What the client said to an extra: yes or no, on which day, by whom and how. */
export interface ExtraAnswer {
  readonly state: 'agreed' | 'declined'
  readonly day: string
  readonly contactId: Id<'contact'> | null
  readonly how: string
}

const extraColumns = `e.id, e.job_id AS jobId, e.number, e.title, e.state, e.why, e.new_due_day AS newDueDay,
  e.contact_id AS contactId, (SELECT name FROM contact WHERE contact.id = e.contact_id) AS contactName,
  e.decided_day AS decidedDay, e.decided_how AS decidedHow`

/** The extras of a job in their order. */
export function extrasOf(db: Db, jobId: Id<'job'>): readonly Extra[] {
  return prepared<[number], Extra>(
    db,
    `SELECT ${extraColumns} FROM extra e WHERE e.job_id = ? ORDER BY e.number`,
  ).all(jobId)
}

/** The extra, or a refusal: another window may have thrown it away. */
export function theExtra(db: Db, extraId: Id<'extra'>): Extra {
  const extra = prepared<[number], Extra>(db, `SELECT ${extraColumns} FROM extra e WHERE e.id = ?`).get(
    extraId,
  )
  if (!extra)
    throw new Refusal('no-extra', 'This extra is not in the studio any more. Look at the job again.')
  return extra
}

/** The lines of an extra with their net amounts, in their order. */
export function extraLines(
  db: Db,
  extraId: Id<'extra'>,
): readonly (ExtraLine & { readonly id: Id<'extra_line'>; readonly netMinor: number })[] {
  return prepared<[number], ExtraLine & { id: Id<'extra_line'>; netMinor: number }>(
    db,
    `SELECT id, text, quantity_milli AS quantityMilli, unit, price_minor AS priceMinor, base_milli AS baseMilli,
       net_minor AS netMinor, tax_rate_id AS taxRateId FROM extra_line WHERE extra_id = ? ORDER BY position`,
  ).all(extraId)
}

/** The sums of an extra with tax, as an invoice of it alone would have them. */
export function extraTotals(db: Db, lines: readonly ExtraLine[]): BillTotals {
  return billTotals({ lines: lines.map((line) => ({ ...line, ...taxRateById(db, line.taxRateId) })) })
}

/**
 * Proposes an extra to a job's order under the next number of the job. Refuses a job without an accepted quote, and
 * an extra with neither a line nor a new day.
 */
export function proposeExtra(writing: Writing, jobId: Id<'job'>, draft: ExtraDraft): Id<'extra'> {
  const { db, now } = writing
  return inOneTransaction(db, () => {
    refuseWithoutOrder(db, jobId)
    refuseEmpty(db, draft)
    const extraId = newId<Id<'extra'>>(
      prepared<unknown[]>(
        db,
        `INSERT INTO extra (job_id, number, title, why, new_due_day, proposed_at)
         VALUES (?, (SELECT ifnull(max(number), 0) + 1 FROM extra WHERE job_id = ?), ?, ?, ?, ?)`,
      ).run(jobId, jobId, draft.title, draft.why, draft.newDueDay, now),
    )
    writeLines(db, extraId, draft.lines)
    tell(writing, extraId, 'extra proposed')
    return extraId
  })
}

/** Changes what is proposed. Refuses an extra that was decided. */
export function changeExtra(writing: Writing, extraId: Id<'extra'>, draft: ExtraDraft): void {
  const { db } = writing
  inOneTransaction(db, () => {
    refuseDecided(db, extraId)
    refuseEmpty(db, draft)
    prepared<unknown[]>(db, 'UPDATE extra SET title = ?, why = ?, new_due_day = ? WHERE id = ?').run(
      draft.title,
      draft.why,
      draft.newDueDay,
      extraId,
    )
    prepared<[number]>(db, 'DELETE FROM extra_line WHERE extra_id = ?').run(extraId)
    writeLines(db, extraId, draft.lines)
    tell(writing, extraId, 'extra changed')
  })
}

/** Throws away what was proposed; what it was to bill can be proposed again. Refuses an extra that was decided. */
export function discardExtra(writing: Writing, extraId: Id<'extra'>): void {
  inOneTransaction(writing.db, () => {
    refuseDecided(writing.db, extraId)
    tell(writing, extraId, 'extra thrown away')
    prepared<[number]>(writing.db, 'DELETE FROM extra WHERE id = ?').run(extraId)
  })
}

/**
 * Writes down the client's answer. A yes makes the extra part of the order, and its new day the job's due day.
 * Refuses an extra that was decided, a day that has not come, and a contact of another client.
 */
export function decideExtra(writing: Writing, extraId: Id<'extra'>, answer: ExtraAnswer): void {
  const { db, now } = writing
  inOneTransaction(db, () => {
    const extra = refuseDecided(db, extraId)
    const job = jobById(db, extra.jobId)
    if (answer.day > dayOf(now, studioZone(db))) {
      throw new Refusal('answer-in-future', `${answer.day} has not come yet. Enter the day of the answer.`, {
        field: 'day',
      })
    }
    refuseOthersContact(db, job.clientId, answer.contactId)
    prepared<unknown[]>(
      db,
      `UPDATE extra SET state = ?, contact_id = ?, decided_at = ?, decided_day = ?, decided_how = ? WHERE id = ?`,
    ).run(answer.state, answer.contactId, now, answer.day, answer.how, extraId)
    if (answer.state === 'agreed' && extra.newDueDay !== null) {
      prepared<unknown[]>(db, 'UPDATE job SET due_day = ?, promise_working_days = NULL WHERE id = ?').run(
        extra.newDueDay,
        extra.jobId,
      )
    }
    tell(writing, extraId, `extra ${answer.state}`)
    refreshStanding(writing, extra.jobId)
  })
}

/** Whether a job has an accepted quote that an extra can change. */
export function hasOrder(db: Db, jobId: Id<'job'>): boolean {
  const row = prepared<[number], { id: number }>(
    db,
    `SELECT id FROM quote WHERE job_id = ? AND state = 'accepted'`,
  ).get(jobId)
  return row !== undefined
}

function refuseWithoutOrder(db: Db, jobId: Id<'job'>): void {
  jobById(db, jobId)
  if (hasOrder(db, jobId)) return
  throw new Refusal(
    'no-order',
    'An extra changes an accepted quote, and this job has none. Change the quote, or have it accepted first.',
  )
}

function refuseEmpty(db: Db, draft: ExtraDraft): void {
  if (draft.lines.length === 0 && draft.newDueDay === null) {
    throw new Refusal('extra-empty', 'This extra changes nothing. Add a line, or a new day.', {
      field: 'lines',
    })
  }
  if (draft.lines.length > 0) extraTotals(db, draft.lines)
}

function refuseDecided(db: Db, extraId: Id<'extra'>): Extra {
  const extra = theExtra(db, extraId)
  if (extra.state === 'proposed') return extra
  throw new Refusal(
    'extra-decided',
    `The client’s answer to this extra is written down (${extra.state}), so it stays as it is. Propose another.`,
  )
}

function refuseOthersContact(db: Db, clientId: Id<'client'>, contactId: Id<'contact'> | null): void {
  if (contactId === null) return
  const row = prepared<[number], { clientId: number }>(
    db,
    'SELECT client_id AS clientId FROM contact WHERE id = ?',
  ).get(contactId)
  if (row?.clientId === clientId) return
  throw new Refusal(
    'contact-of-another',
    'This person is not with this client. Choose a contact of theirs.',
    {
      field: 'contactId',
    },
  )
}

function writeLines(db: Db, extraId: Id<'extra'>, lines: readonly ExtraLine[]): void {
  lines.forEach((line, index) => {
    prepared<unknown[]>(
      db,
      `INSERT INTO extra_line (extra_id, position, text, quantity_milli, unit, price_minor, base_milli, net_minor,
         tax_rate_id) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)`,
    ).run(
      extraId,
      index + 1,
      line.text,
      line.quantityMilli,
      line.unit,
      line.priceMinor,
      line.baseMilli,
      lineNetMinor(line.quantityMilli, line.priceMinor, line.baseMilli),
      line.taxRateId,
    )
  })
}

function tell(writing: Writing, extraId: Id<'extra'>, what: string): void {
  const { jobId, number, title, contactName, decidedDay, decidedHow, newDueDay } = theExtra(
    writing.db,
    extraId,
  )
  writeEvent(writing, {
    subject: 'extra',
    subjectId: extraId,
    jobId,
    what,
    detail: { number, title, newDueDay, by: contactName, day: decidedDay, how: decidedHow },
  })
}
