import { type BillTotals, billTotals } from '../main/trade/bill.ts'
import type { Id } from './ids.ts'
import { type Adjustment, findInvoice, type InvoiceLineDraft, linesOf } from './invoices.ts'
import type { Db } from './open.ts'
import { prepared } from './statement.ts'

/** What issued credit notes have taken back of an invoice: its total with tax and its rounding, in minor units. */
export function creditedMinor(
  db: Db,
  invoiceId: Id<'invoice'>,
): { readonly totalMinor: number; readonly roundingMinor: number; readonly notes: number } {
  const row = prepared<[number], { totalMinor: number; roundingMinor: number; notes: number }>(
    db,
    `SELECT ifnull(sum(total_minor), 0) AS totalMinor, ifnull(sum(rounding_minor), 0) AS roundingMinor,
       count(*) AS notes
     FROM invoice WHERE corrects_id = ? AND state = 'issued'`,
  ).get(invoiceId)
  return row ?? { totalMinor: 0, roundingMinor: 0, notes: 0 }
}

/**
 * The sums of a credit note. It is not rounded to coins by itself: the one that takes back the rest of the invoice
 * takes back what its invoice was rounded by, and the cents by which tax rounded part for part differs from tax rounded
 * once, so that nothing stays open and nothing is given back twice.
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
  const leftMinor = invoice.totalMinor - credited.totalMinor
  const roundingMinor = leftMinor + invoice.roundingMinor - credited.roundingMinor - totals.taxInclusiveMinor
  const isRest =
    totals.taxInclusiveMinor === leftMinor ||
    (takesEveryLine(db, invoice.id, of.lines) &&
      // Each line, allowance, charge and tax of each credit note was rounded by less than one.
      Math.abs(roundingMinor - invoice.roundingMinor + credited.roundingMinor) <=
        (credited.notes + 1) * (of.lines.length + of.adjustments.length + totals.taxes.length))
  return isRest ? billTotals({ ...draft, roundingMinor }) : totals
}

/** Whether these lines take back all that earlier credit notes have left of every line. */
function takesEveryLine(db: Db, invoiceId: Id<'invoice'>, lines: readonly InvoiceLineDraft[]): boolean {
  return linesOf(db, invoiceId).every(({ id, quantityMilli }) => {
    const now = lines.filter(({ correctsLineId }) => correctsLineId === id)
    const taken = now.reduce((sum, line) => sum + line.quantityMilli, creditedOf(db, id).quantityMilli)
    return taken === quantityMilli
  })
}

interface Credited {
  readonly quantityMilli: number
  readonly allowanceMinor: number
  readonly chargeMinor: number
}

/** What issued credit notes have taken back of a line. */
export function creditedOf(db: Db, lineId: Id<'invoice_line'>): Credited {
  const nothing = { quantityMilli: 0, allowanceMinor: 0, chargeMinor: 0 }
  return (
    prepared<[number], Credited>(
      db,
      `SELECT ifnull(sum(l.quantity_milli), 0) AS quantityMilli, ifnull(sum(l.allowance_minor), 0) AS allowanceMinor,
         ifnull(sum(l.charge_minor), 0) AS chargeMinor
       FROM invoice_line l JOIN invoice i ON i.id = l.invoice_id
       WHERE l.corrects_line_id = ? AND i.state = 'issued'`,
    ).get(lineId) ?? nothing
  )
}
