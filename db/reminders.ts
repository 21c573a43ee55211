import { dayOf } from '../main/trade/calendar.ts'
import { lateInterestMinor } from '../main/trade/lateInterest.ts'
import { Refusal } from '../main/trade/refusal.ts'
import {
  levelToday,
  type RemindedInvoice,
  type ReminderContent,
  type ReminderLevel,
} from '../main/trade/reminder.ts'
import { studioZone } from './calendar.ts'
import { type Writing, writeEvent } from './events.ts'
import { grouped } from './grouped.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { inOneTransaction, newId, prepared } from './statement.ts'
import { theStudio } from './studio.ts'

/** The studio's levels of reminders, the first one first. */
export function reminderLevels(db: Db): readonly ReminderLevel[] {
  return prepared<
    [],
    { level: number; daysAfterDue: number; daysBetween: number; withInterest: 0 | 1; withLumpSum: 0 | 1 }
  >(
    db,
    `SELECT level, days_after_due AS daysAfterDue, days_between AS daysBetween, with_interest AS withInterest,
       with_lump_sum AS withLumpSum FROM reminder_level ORDER BY level`,
  )
    .all()
    .map((row) => ({ ...row, withInterest: row.withInterest === 1, withLumpSum: row.withLumpSum === 1 }))
}

/** Replaces the levels. Refuses none, and a level that comes no later than the one before. */
export function changeReminderLevels(
  writing: Writing,
  levels: readonly Omit<ReminderLevel, 'level'>[],
): void {
  const { db } = writing
  const wrong = levels.findIndex(
    (level, index) => index > 0 && level.daysAfterDue <= (levels[index - 1]?.daysAfterDue ?? 0),
  )
  if (wrong >= 0) {
    throw new Refusal(
      'level-order',
      `Reminder ${wrong + 1} comes no later than the one before it. Enter more days after the due day.`,
    )
  }
  inOneTransaction(db, () => {
    db.exec('DELETE FROM reminder_level')
    levels.forEach(({ daysAfterDue, daysBetween, withInterest, withLumpSum }, index) => {
      prepared<unknown[]>(db, 'INSERT INTO reminder_level VALUES (?, ?, ?, ?, ?)').run(
        index + 1,
        daysAfterDue,
        daysBetween,
        withInterest ? 1 : 0,
        withLumpSum ? 1 : 0,
      )
    })
    writeEvent(writing, { subject: 'studio', subjectId: 1, what: 'reminder levels changed' })
  })
}

interface LateInvoice {
  readonly invoiceId: Id<'invoice'>
  readonly clientId: Id<'client'>
  readonly clientName: string
  readonly currency: string
  readonly number: string
  readonly issueDay: string
  readonly dueDay: string
  readonly paymentReference: string | null
  readonly openMinor: number
  readonly lastLevel: number
  readonly lastDay: string | null
  readonly hadLumpSum: 0 | 1
}

function lateInvoices(db: Db, today: string): readonly LateInvoice[] {
  return prepared<[string], LateInvoice>(
    db,
    `SELECT i.id AS invoiceId, i.client_id AS clientId, (SELECT name FROM client WHERE client.id = i.client_id) AS clientName,
       i.currency, i.number, i.issue_day AS issueDay, a.due_day AS dueDay, i.payment_reference AS paymentReference,
       a.open_minor AS openMinor,
       (SELECT ifnull(max(r.level), 0) FROM reminder_invoice r WHERE r.invoice_id = i.id) AS lastLevel,
       (SELECT max(m.day) FROM reminder_invoice r JOIN reminder m ON m.id = r.reminder_id WHERE r.invoice_id = i.id) AS lastDay,
       EXISTS (SELECT 1 FROM reminder_invoice r JOIN reminder m ON m.id = r.reminder_id
         WHERE r.invoice_id = i.id AND m.lump_sum_minor > 0) AS hadLumpSum
     FROM invoice_account a JOIN invoice i ON i.id = a.invoice_id
     WHERE a.open_minor <> 0 AND a.open_minor > 0 AND a.due_day < ? ORDER BY a.due_day, i.id`,
  ).all(today)
}

/** What could be reminded of today, of one client in one currency, with what the level proposes besides. */
export interface ReminderProposal {
  readonly clientId: Id<'client'>
  readonly clientName: string
  readonly currency: string
  readonly invoices: readonly (RemindedInvoice & {
    readonly invoiceId: Id<'invoice'>
    readonly lastDay: string | null
  })[]
  /** For each of its invoices that no reminder has asked it for yet. */
  readonly lumpSumMinor: number
}

/**
 * What could be reminded of today by the studio's levels, by client and currency, the oldest first; and how many late
 * invoices must wait or have had the last reminder. Nothing is sent or written.
 */
export function remindersToday(
  db: Db,
  today: string,
): { readonly proposals: readonly ReminderProposal[]; readonly waiting: number; readonly exhausted: number } {
  const levels = reminderLevels(db)
  const last = levels.at(-1)?.level ?? 0
  const late = lateInvoices(db, today)
  const studio = theStudio(db)
  const ready = late.flatMap((invoice) => {
    const level = levelToday(invoice, levels, today)
    if (!level) return []
    const interestMinor = level.withInterest ? interestOn(db, invoice, studio.lateInterestPpm, today) : 0
    // The lump sum is set in the studio's own currency; in another one a person says what it is.
    const asksLumpSum = level.withLumpSum && invoice.hadLumpSum === 0 && invoice.currency === studio.currency
    return [{ ...invoice, level: level.level, interestMinor, lumpSum: asksLumpSum ? studio.lateFeeMinor : 0 }]
  })
  const proposals = [
    ...grouped(ready, ({ clientId, currency }) => `${clientId} ${currency}`).values(),
  ].flatMap((invoices) => {
    const [first] = invoices
    if (!first) return []
    const { clientId, clientName, currency } = first
    const lumpSumMinor = invoices.reduce((sum, { lumpSum }) => sum + lumpSum, 0)
    return [{ clientId, clientName, currency, invoices, lumpSumMinor }]
  })
  const exhausted = late.filter(({ lastLevel }) => lastLevel >= last).length
  return { proposals, waiting: late.length - ready.length - exhausted, exhausted }
}

function interestOn(db: Db, invoice: LateInvoice, ratePpm: number, today: string): number {
  if (ratePpm === 0) return 0
  const { dueDay, openMinor } = invoice
  const paidLate = prepared<[number, string], { day: string; minor: number }>(
    db,
    `SELECT p.day, s.amount_minor AS minor FROM payment_share s JOIN payment p ON p.id = s.payment_id
     WHERE s.invoice_id = ? AND p.day > ?`,
  ).all(invoice.invoiceId, dueDay)
  return lateInterestMinor({ dueDay, openMinor, paidLate }, ratePpm, today)
}

/** A reminder as a person decided it: which invoices, and what is asked for besides. */
export interface ReminderChoice {
  readonly clientId: Id<'client'>
  readonly currency: string
  readonly invoices: readonly { readonly invoiceId: Id<'invoice'>; readonly interestMinor: number }[]
  readonly lumpSumMinor: number
}

/** What a reminder of these invoices would say. Refuses one that cannot be reminded of today. */
export function reminderContent(db: Db, choice: ReminderChoice, today: string): ReminderContent {
  const { clientId, currency, lumpSumMinor } = choice
  const proposal = remindersToday(db, today).proposals.find(
    (each) => each.clientId === clientId && each.currency === currency,
  )
  const invoices = choice.invoices.map(({ invoiceId, interestMinor }) => {
    const invoice = proposal?.invoices.find((each) => each.invoiceId === invoiceId)
    if (!invoice) {
      throw new Refusal(
        'reminder-not-today',
        'One of these invoices is paid, or was reminded of meanwhile. Look at the list again.',
      )
    }
    return { ...invoice, interestMinor }
  })
  const openMinor = invoices.reduce((sum, invoice) => sum + invoice.openMinor, 0)
  const interestMinor = invoices.reduce((sum, invoice) => sum + invoice.interestMinor, 0)
  return {
    clientId,
    currency,
    day: today,
    level: Math.max(...invoices.map(({ level }) => level)),
    invoices,
    openMinor,
    interestMinor,
    lumpSumMinor,
    totalMinor: openMinor + interestMinor + lumpSumMinor,
  }
}

/** Writes down that a reminder was sent, with its paper. Refuses what cannot be reminded of today. */
export function markReminded(
  writing: Writing,
  choice: ReminderChoice,
  paperId: Id<'attachment'> | null,
): Id<'reminder'> {
  const { db, now } = writing
  return inOneTransaction(db, () => {
    const content = reminderContent(db, choice, dayOf(now, studioZone(db)))
    const reminderId = newId<Id<'reminder'>>(
      prepared<unknown[]>(
        db,
        'INSERT INTO reminder (client_id, currency, day, lump_sum_minor, paper_id) VALUES (?, ?, ?, ?, ?)',
      ).run(content.clientId, content.currency, content.day, content.lumpSumMinor, paperId),
    )
    for (const { invoiceId, level, openMinor, interestMinor } of content.invoices) {
      prepared<unknown[]>(db, 'INSERT INTO reminder_invoice VALUES (?, ?, ?, ?, ?)').run(
        reminderId,
        invoiceId,
        level,
        openMinor,
        interestMinor,
      )
    }
    writeEvent(writing, {
      subject: 'client',
      subjectId: choice.clientId,
      clientId: choice.clientId,
      what: 'reminder sent',
      detail: {
        numbers: content.invoices.map(({ number }) => number),
        level: content.level,
        totalMinor: content.totalMinor,
        currency: content.currency,
      },
    })
    return reminderId
  })
}

/** The reminders that an invoice has had, the first one first. */
export function remindersOn(db: Db, invoiceId: Id<'invoice'>) {
  return prepared<
    [number],
    { readonly level: number; readonly day: string; readonly paperId: Id<'attachment'> | null }
  >(
    db,
    `SELECT r.level, m.day, m.paper_id AS paperId FROM reminder_invoice r JOIN reminder m ON m.id = r.reminder_id
     WHERE r.invoice_id = ? ORDER BY r.level`,
  ).all(invoiceId)
}
