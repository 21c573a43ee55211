import { roundedQuotient } from '../main/trade/money.ts'
import { Refusal } from '../main/trade/refusal.ts'
import { addDraft, theInvoice } from './billing.ts'
import { creditedMinor, creditedOf, creditTotals } from './creditTotals.ts'
import type { Writing } from './events.ts'
import type { Id } from './ids.ts'
import {
  type Adjustment,
  adjustmentsOf,
  type Invoice,
  type InvoiceLineDraft,
  isStanding,
  linesOf,
} from './invoices.ts'
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
    const adjustments = part === null ? adjustmentsOf(db, invoiceId) : creditAdjustments(db, invoiceId, lines)
    const deposits = part === null ? invoice.prepaidMinor : 0
    const totals = creditTotals(db, { correctsId: invoiceId, prepaidMinor: deposits }, { lines, adjustments })
    refuseOverCredit(db, invoice, totals.taxInclusiveMinor + totals.roundingMinor)
    const content = { ...invoice, kind: 'credit note' as const, correctsId: invoiceId, note: reason }
    return addDraft(writing, { ...content, lines, adjustments, deposits: [], totals })
  })
}

/**
 * Refuses to credit more of an invoice than earlier credit notes have left; total with tax and what it is rounded by,
 * in minor units.
 */
export function refuseOverCredit(db: Db, invoice: Invoice, roundedMinor: number): void {
  const credited = creditedMinor(db, invoice.id)
  // Rounding down to coins is given back with the last part: until then the total itself may be reached.
  const mostMinor = invoice.totalMinor + Math.max(invoice.roundingMinor, 0)
  if (roundedMinor <= mostMinor - credited.totalMinor - credited.roundingMinor) return
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

/**
 * What of each allowance or charge on the whole document belongs to the lines that are credited: the share that they
 * are of the lines with its rate of tax, or of all lines where none has it. Over all parts it is the whole.
 */
function creditAdjustments(
  db: Db,
  invoiceId: Id<'invoice'>,
  credited: readonly InvoiceLineDraft[],
): readonly Adjustment[] {
  const lines = linesOf(db, invoiceId)
  const shares = lines.map((line) => {
    const before = Math.abs(creditedOf(db, line.id).quantityMilli)
    const now = credited.filter(({ correctsLineId }) => correctsLineId === line.id)
    const after = now.reduce((sum, { quantityMilli }) => sum + Math.abs(quantityMilli), before)
    const [weight, of] = [Math.abs(line.netMinor), Math.abs(line.quantityMilli)]
    return { line, weight, before: partOf(weight, before, of), after: partOf(weight, after, of) }
  })
  return adjustmentsOf(db, invoiceId).flatMap((adjustment) => {
    const alike = shares.filter(
      ({ line }) => line.category === adjustment.category && line.ratePpm === adjustment.ratePpm,
    )
    const base = alike.length > 0 ? alike : shares
    const sum = (of: 'weight' | 'before' | 'after') => base.reduce((total, each) => total + each[of], 0)
    // Lines that are all for nothing carry nothing: what stands on the document is then credited with the whole.
    if (sum('weight') === 0) return []
    const partAt = (of: 'before' | 'after') => partOf(adjustment.amountMinor, sum(of), sum('weight'))
    const amountMinor = partAt('after') - partAt('before')
    return amountMinor === 0 ? [] : [{ ...adjustment, amountMinor }]
  })
}

/** What of an amount belongs to a part of a quantity; over all parts it is the whole. */
function partOf(minor: number, part: number, whole: number): number {
  return whole === 0 ? minor : roundedQuotient(BigInt(minor) * BigInt(part), BigInt(whole))
}
