import { roundedQuotient } from '../main/trade/money.ts'
import { Refusal } from '../main/trade/refusal.ts'
import { addDraft, theInvoice } from './billing.ts'
import { creditedMinor, creditTotals } from './creditTotals.ts'
import type { Writing } from './events.ts'
import type { Id } from './ids.ts'
import { adjustmentsOf, type Invoice, type InvoiceLineDraft, isStanding, linesOf } from './invoices.ts'
import type { Db } from './open.ts'
import { inOneTransaction, prepared } from './statement.ts'

/** Lines of an invoice to be credited, with how much of each. */
export type CreditPart = readonly { readonly lineId: Id<'invoice_line'>; readonly quantityMilli: number }[]

/**
 * Makes the draft of a credit note on an issued invoice: the whole of it, or parts of its lines. The amounts
 * are positive, as on any credit note. Refuses more than what is left after earlier credit notes, and a deposit
 * that a standing invoice has deducted: its money would be given back twice.
 */
export function draftCredit(
  writing: Writing,
  invoiceId: Id<'invoice'>,
  reason: string,
  part: CreditPart | null,
): Id<'invoice'> {
  const { db } = writing
  return inOneTransaction(db, () => {
    const invoice = theInvoice(db, invoiceId)
    if (invoice.state !== 'issued' || invoice.kind === 'credit note') {
      throw new Refusal(
        'not-creditable',
        'Only an issued invoice can be credited. Change or throw away a draft instead.',
      )
    }
    refuseSecondCreditDraft(db, invoiceId)
    refuseDeducted(db, invoice)
    const lines = creditLines(db, invoiceId, part)
    const adjustments = part === null ? adjustmentsOf(db, invoiceId) : []
    const deposits = part === null ? invoice.prepaidMinor : 0
    const totals = creditTotals(db, { correctsId: invoiceId, prepaidMinor: deposits }, { lines, adjustments })
    refuseOverCredit(db, invoice, totals.taxInclusiveMinor)
    const content = { ...invoice, kind: 'credit note' as const, correctsId: invoiceId, note: reason }
    return addDraft(writing, { ...content, lines, adjustments, deposits: [], totals })
  })
}

/** Refuses to credit more of an invoice than earlier credit notes have left; total with tax, in minor units. */
export function refuseOverCredit(db: Db, invoice: Invoice, totalMinor: number): void {
  if (totalMinor <= invoice.totalMinor - creditedMinor(db, invoice.id).totalMinor) return
  throw new Refusal(
    'credit-too-much',
    `Less than that is left of ${invoice.number} after earlier credit notes. Credit fewer lines.`,
  )
}

function refuseDeducted(db: Db, invoice: Invoice): void {
  const deductedBy = prepared<[number], { number: string }>(
    db,
    `SELECT i.number FROM invoice_deposit x JOIN invoice i ON i.id = x.invoice_id
     WHERE x.deposit_id = ? AND i.state = 'issued' AND ${isStanding}`,
  ).get(invoice.id)
  if (!deductedBy) return
  throw new Refusal(
    'deposit-deducted',
    `The deposit ${invoice.number} is deducted from ${deductedBy.number}. Credit ${deductedBy.number} as a whole first.`,
  )
}

function refuseSecondCreditDraft(db: Db, invoiceId: Id<'invoice'>): void {
  const draft = prepared<[number], { id: number }>(
    db,
    `SELECT id FROM invoice WHERE corrects_id = ? AND state = 'draft'`,
  ).get(invoiceId)
  if (draft)
    throw new Refusal(
      'draft-exists',
      'There is already a draft of a credit note on this invoice. Issue it, or throw it away.',
    )
}

function creditLines(db: Db, invoiceId: Id<'invoice'>, part: CreditPart | null): readonly InvoiceLineDraft[] {
  const lines = linesOf(db, invoiceId)
  const wanted = part ?? lines.map(({ id, quantityMilli }) => ({ lineId: id, quantityMilli }))
  return wanted.map(({ lineId, quantityMilli }) => {
    const line = lines.find(({ id }) => id === lineId)
    if (!line) throw new Refusal('no-line', 'A line to be credited is not on this invoice.')
    const left = line.quantityMilli - creditedOf(db, lineId).quantityMilli
    if (
      Math.abs(quantityMilli) > Math.abs(left) ||
      Math.sign(quantityMilli) !== Math.sign(line.quantityMilli)
    ) {
      throw new Refusal('credit-too-much', `Of '${line.text}' only ${left / 1000} is left to credit.`)
    }
    const done = creditedOf(db, lineId)
    const share = (minor: number, taken: number) =>
      partOf(minor, Math.abs(done.quantityMilli + quantityMilli), Math.abs(line.quantityMilli)) - taken
    return {
      ...line,
      quantityMilli,
      allowanceMinor: share(line.allowanceMinor, done.allowanceMinor),
      chargeMinor: share(line.chargeMinor, done.chargeMinor),
      correctsLineId: lineId,
    }
  })
}

/** What of a line's allowance or charge belongs to a part of its quantity; over all parts it is the whole. */
function partOf(minor: number, quantityMilli: number, ofMilli: number): number {
  return ofMilli === 0 ? minor : roundedQuotient(BigInt(minor) * BigInt(quantityMilli), BigInt(ofMilli))
}

interface Credited {
  readonly quantityMilli: number
  readonly allowanceMinor: number
  readonly chargeMinor: number
}

function creditedOf(db: Db, lineId: Id<'invoice_line'>): Credited {
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
