import { dayOf } from '../main/trade/calendar.ts'
import { Refusal } from '../main/trade/refusal.ts'
import { openOf, refreshAccount } from './accounts.ts'
import { theInvoice } from './billing.ts'
import { studioZone } from './calendar.ts'
import { type Writing, writeEvent } from './events.ts'
import type { Id } from './ids.ts'
import { type Invoice, jobsOfInvoice } from './invoices.ts'
import type { Db } from './open.ts'
import { refreshStanding } from './standing.ts'
import { inOneTransaction, prepared } from './statement.ts'

/**
 * Gives up a part or the whole of what is open on an invoice, with why. Refuses a draft, a credit note, nothing, and
 * more than is open. What it means for the tax an accountant decides.
 */
export function writeOff(
  writing: Writing,
  invoiceId: Id<'invoice'>,
  amountMinor: number,
  reason: string,
): void {
  const { db } = writing
  inOneTransaction(db, () => {
    const invoice = theInvoice(db, invoiceId)
    if (invoice.state !== 'issued' || invoice.kind === 'credit note') {
      throw new Refusal('not-payable', 'Only what is open on an issued invoice can be written off.')
    }
    const open = openOf(db, invoiceId)
    if (!(amountMinor > 0) || amountMinor > open) {
      throw new Refusal(
        'write-off-amount',
        open > 0
          ? 'A write-off is more than 0 and no more than is open. Enter a part of it, or the whole.'
          : 'Nothing is open on this invoice, so there is nothing to write off.',
        { field: 'amountMinor' },
      )
    }
    insertWriteOff(writing, invoice, { amountMinor, reason, reversesId: null })
  })
}

/** Takes a write-off back by its opposite, with why. Refuses one that was taken back already. */
export function reverseWriteOff(writing: Writing, writeOffId: Id<'write_off'>, reason: string): void {
  const { db } = writing
  inOneTransaction(db, () => {
    const row = prepared<[number], { invoiceId: Id<'invoice'>; amountMinor: number }>(
      db,
      `SELECT invoice_id AS invoiceId, amount_minor AS amountMinor FROM write_off w WHERE id = ? AND amount_minor > 0
         AND NOT EXISTS (SELECT 1 FROM write_off r WHERE r.reverses_id = w.id)`,
    ).get(writeOffId)
    if (!row) throw new Refusal('not-reversible', 'This write-off was taken back already.')
    insertWriteOff(writing, theInvoice(db, row.invoiceId), {
      amountMinor: -row.amountMinor,
      reason,
      reversesId: writeOffId,
    })
  })
}

function insertWriteOff(
  writing: Writing,
  invoice: Invoice,
  row: { readonly amountMinor: number; readonly reason: string; readonly reversesId: Id<'write_off'> | null },
): void {
  const { db, now } = writing
  prepared<unknown[]>(
    db,
    'INSERT INTO write_off (invoice_id, amount_minor, day, reason, reverses_id) VALUES (?, ?, ?, ?, ?)',
  ).run(invoice.id, row.amountMinor, dayOf(now, studioZone(db)), row.reason, row.reversesId)
  refreshAccount(db, invoice.id)
  for (const jobId of jobsOfInvoice(db, invoice.id)) refreshStanding(writing, jobId)
  writeEvent(writing, {
    subject: 'invoice',
    subjectId: invoice.id,
    jobId: invoice.jobId,
    clientId: invoice.clientId,
    what: row.reversesId === null ? 'written off' : 'write-off taken back',
    detail: {
      number: invoice.number,
      amountMinor: Math.abs(row.amountMinor),
      currency: invoice.currency,
      reason: row.reason,
    },
  })
}

export interface WriteOff {
  readonly id: Id<'write_off'>
  readonly day: string
  /** Less than 0 where it takes one back. */
  readonly amountMinor: number
  readonly reason: string
  readonly isTakenBack: boolean
}

export function writeOffsOn(db: Db, invoiceId: Id<'invoice'>): readonly WriteOff[] {
  return prepared<[number], Omit<WriteOff, 'isTakenBack'> & { isTakenBack: 0 | 1 }>(
    db,
    `SELECT id, day, amount_minor AS amountMinor, reason,
       EXISTS (SELECT 1 FROM write_off r WHERE r.reverses_id = w.id) AS isTakenBack
     FROM write_off w WHERE invoice_id = ? ORDER BY id`,
  )
    .all(invoiceId)
    .map((row) => ({ ...row, isTakenBack: row.isTakenBack === 1 }))
}
