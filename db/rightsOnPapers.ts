import type { RightOfUse } from '../main/trade/usageRights.ts'
import type { Writing } from './events.ts'
import type { Id } from './ids.ts'
import { findInvoice, jobsOfInvoice } from './invoices.ts'
import type { Db } from './open.ts'
import { prepared } from './statement.ts'
import {
  agreedRights,
  insertRight,
  rewriteRight,
  rightsOfJob,
  standingRights,
  worded,
} from './usageRights.ts'

/** The rights that a quote which is sent now carries, kept on it; call it in the transaction that sends. */
export function keepQuoteRights(db: Db, jobId: Id<'job'>, quoteId: Id<'quote'>): void {
  prepared<unknown[]>(db, 'UPDATE quote SET rights = ? WHERE id = ?').run(
    JSON.stringify(standingRights(db, jobId).map((right) => ({ id: right.id, ...worded(right) }))),
    quoteId,
  )
}

type QuotedRight = RightOfUse & { readonly id: Id<'usage_right'> }

/** What a quote says of rights: a draft what stands now, a sent one what stood when it was sent. */
export function rightsOfQuote(
  db: Db,
  quote: { readonly id: Id<'quote'>; readonly jobId: Id<'job'>; readonly state: string },
): readonly RightOfUse[] {
  return quote.state === 'draft' ? standingRights(db, quote.jobId) : quotedRights(db, quote.id)
}

function quotedRights(db: Db, quoteId: Id<'quote'>): readonly QuotedRight[] {
  const row = prepared<[number], { rights: string }>(db, 'SELECT rights FROM quote WHERE id = ?').get(quoteId)
  return JSON.parse(row?.rights ?? '[]') as readonly QuotedRight[]
}

/**
 * With the yes to a quote the rights on it are agreed, as they were sent: one that was changed since is put back,
 * one that was taken off comes again. Others stay proposed. Call it in the transaction that accepts.
 */
export function agreeQuotedRights(
  writing: Writing,
  quote: { readonly id: Id<'quote'>; readonly jobId: Id<'job'> },
): void {
  const { db, now } = writing
  const there = new Map(rightsOfJob(db, quote.jobId).map((right) => [right.id, right]))
  for (const right of quotedRights(db, quote.id)) {
    const known = there.get(right.id)
    if (!known) insertRight(db, quote.jobId, right, now)
    else if (known.agreedAt === null) rewriteRight(db, right.id, right, now)
  }
}

/** The agreed rights of every job that a document bills, frozen with it; none for a deposit or credit note. */
export function keepInvoiceRights(db: Db, invoiceId: Id<'invoice'>): void {
  prepared<unknown[]>(db, 'UPDATE invoice SET rights = ? WHERE id = ?').run(
    JSON.stringify(rightsToBill(db, invoiceId).map(worded)),
    invoiceId,
  )
}

/** What an invoice says of rights: a draft what is agreed now, an issued one what was when it was issued. */
export function rightsOfInvoice(
  db: Db,
  invoice: { readonly id: Id<'invoice'>; readonly state: string },
): readonly RightOfUse[] {
  if (invoice.state === 'draft') return rightsToBill(db, invoice.id)
  const row = prepared<[number], { rights: string }>(db, 'SELECT rights FROM invoice WHERE id = ?').get(
    invoice.id,
  )
  return JSON.parse(row?.rights ?? '[]') as readonly RightOfUse[]
}

function rightsToBill(db: Db, invoiceId: Id<'invoice'>): readonly RightOfUse[] {
  if (findInvoice(db, invoiceId)?.kind !== 'invoice') return []
  return jobsOfInvoice(db, invoiceId).flatMap((jobId) => agreedRights(db, jobId))
}
