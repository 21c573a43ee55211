import { type BillTotals, billTotals } from '../main/trade/bill.ts'
import type { Id } from './ids.ts'
import { type Adjustment, findInvoice, type InvoiceLineDraft } from './invoices.ts'
import type { Db } from './open.ts'
import { prepared } from './statement.ts'

/** What issued credit notes have taken back of an invoice: its total with tax and its rounding, in minor units. */
export function creditedMinor(
  db: Db,
  invoiceId: Id<'invoice'>,
): { readonly totalMinor: number; readonly roundingMinor: number } {
  const row = prepared<[number], { totalMinor: number; roundingMinor: number }>(
    db,
    `SELECT ifnull(sum(total_minor), 0) AS totalMinor, ifnull(sum(rounding_minor), 0) AS roundingMinor
     FROM invoice WHERE corrects_id = ? AND state = 'issued'`,
  ).get(invoiceId)
  return row ?? { totalMinor: 0, roundingMinor: 0 }
}

/**
 * The sums of a credit note. It is not rounded to coins by itself: the one that takes back the rest of the invoice
 * takes back what its invoice was rounded by, so that nothing stays open.
 */
export function creditTotals(
  db: Db,
  credit: { readonly correctsId: Id<'invoice'> | null; readonly prepaidMinor: number },
  of: { readonly lines: readonly InvoiceLineDraft[]; readonly adjustments: readonly Adjustment[] },
): BillTotals {
  const draft = {
    lines: of.lines,
    allowances: of.adjustments.filter(({ kind }) => kind === 'allowance'),
    charges: of.adjustments.filter(({ kind }) => kind === 'charge'),
    prepaidMinor: credit.prepaidMinor,
  }
  const totals = billTotals(draft)
  const invoice = credit.correctsId === null ? undefined : findInvoice(db, credit.correctsId)
  if (!invoice) return totals
  const credited = creditedMinor(db, invoice.id)
  const takesTheRest = totals.taxInclusiveMinor === invoice.totalMinor - credited.totalMinor
  return takesTheRest
    ? billTotals({ ...draft, roundingMinor: invoice.roundingMinor - credited.roundingMinor })
    : totals
}
