import type { BillAdjustment, BillTax, NamedRate, TaxCategory } from '../main/trade/bill.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { prepared } from './statement.ts'

export type InvoiceKind = 'invoice' | 'deposit' | 'credit note'

/** Who sells or buys, frozen on the paper as it was on the day of issue. */
export interface Party {
  readonly name: string
  readonly street: string | null
  readonly postalCode: string | null
  readonly city: string | null
  readonly region: string | null
  readonly country: string
  readonly taxNumber: string | null
  readonly companyNumber: string | null
  readonly email: string | null
  readonly iban: string | null
  readonly bic: string | null
}

export interface InvoiceLine {
  readonly id: Id<'invoice_line'>
  readonly text: string
  readonly quantityMilli: number
  readonly unit: 'C62' | 'HUR' | 'DAY' | 'LS'
  readonly priceMinor: number
  readonly baseMilli: number
  readonly netMinor: number
  readonly category: TaxCategory
  readonly ratePpm: number
  readonly namedRates: readonly NamedRate[]
  readonly exemptionReason: string | null
  /** What is taken off and put on this line alone, with why; 0 for nothing. */
  readonly allowanceMinor: number
  readonly allowanceReason: string | null
  readonly chargeMinor: number
  readonly chargeReason: string | null
  readonly quoteLineId: Id<'quote_line'> | null
  readonly extraLineId: Id<'extra_line'> | null
  /** The cost that it passes on to the client. */
  readonly jobCostId: Id<'job_cost'> | null
  readonly correctsLineId: Id<'invoice_line'> | null
  /** The job it bills; null where it bills none, or bills that of its invoice. */
  readonly jobId: Id<'job'> | null
}

export type InvoiceLineDraft = Omit<InvoiceLine, 'id' | 'netMinor'>

export interface Adjustment extends BillAdjustment {
  readonly kind: 'allowance' | 'charge'
  readonly reason: string
  readonly namedRates: readonly NamedRate[]
  readonly exemptionReason: string | null
}

/** An invoice, deposit invoice or credit note. Money in minor units; a credit note's amounts are positive. */
export interface Invoice {
  readonly id: Id<'invoice'>
  readonly kind: InvoiceKind
  readonly clientId: Id<'client'>
  readonly jobId: Id<'job'> | null
  readonly number: string | null
  readonly correctsId: Id<'invoice'> | null
  readonly state: 'draft' | 'issued'
  readonly currency: string
  readonly language: 'en' | 'de'
  readonly issueDay: string | null
  readonly dueDay: string | null
  readonly serviceFrom: string | null
  readonly serviceTo: string | null
  readonly orderNumber: string | null
  readonly buyerReference: string | null
  readonly costCentre: string | null
  readonly seller: Party | null
  readonly buyer: Party | null
  readonly note: string | null
  readonly linesMinor: number
  readonly allowanceMinor: number
  readonly chargeMinor: number
  readonly netMinor: number
  readonly taxMinor: number
  readonly totalMinor: number
  readonly prepaidMinor: number
  readonly roundingMinor: number
  readonly payableMinor: number
  readonly paymentReference: string | null
}

type InvoiceRow = Omit<Invoice, 'seller' | 'buyer'> & {
  readonly seller: string | null
  readonly buyer: string | null
}

const invoiceColumns = `id, kind, client_id AS clientId, job_id AS jobId, number, corrects_id AS correctsId, state,
  currency, language, issue_day AS issueDay, due_day AS dueDay, service_from AS serviceFrom, service_to AS serviceTo,
  order_number AS orderNumber, buyer_reference AS buyerReference, cost_centre AS costCentre, seller, buyer, note,
  lines_minor AS linesMinor, allowance_minor AS allowanceMinor, charge_minor AS chargeMinor, net_minor AS netMinor,
  tax_minor AS taxMinor, total_minor AS totalMinor, prepaid_minor AS prepaidMinor, rounding_minor AS roundingMinor,
  payable_minor AS payableMinor, payment_reference AS paymentReference`

function toInvoice(row: InvoiceRow): Invoice {
  return {
    ...row,
    seller: row.seller === null ? null : (JSON.parse(row.seller) as Party),
    buyer: row.buyer === null ? null : (JSON.parse(row.buyer) as Party),
  }
}

export function findInvoice(db: Db, invoiceId: Id<'invoice'>): Invoice | undefined {
  const row = prepared<[number], InvoiceRow>(db, `SELECT ${invoiceColumns} FROM invoice WHERE id = ?`).get(
    invoiceId,
  )
  return row && toInvoice(row)
}

/** SQL: the ids of the invoices that bill a job, by themselves or by some of their lines; binds `@jobId`. */
export const invoiceIdsOfJob = `SELECT id FROM invoice WHERE job_id = @jobId
  UNION SELECT invoice_id FROM invoice_line WHERE job_id = @jobId`

/** The jobs an invoice bills: its own, or those of its lines. */
export function jobsOfInvoice(db: Db, invoiceId: Id<'invoice'>): readonly Id<'job'>[] {
  return prepared<[number, number], { jobId: Id<'job'> }>(
    db,
    `SELECT job_id AS jobId FROM invoice WHERE id = ? AND job_id IS NOT NULL
     UNION SELECT job_id FROM invoice_line WHERE invoice_id = ? AND job_id IS NOT NULL ORDER BY 1`,
  )
    .all(invoiceId, invoiceId)
    .map(({ jobId }) => jobId)
}

export function invoicesOfJob(db: Db, jobId: Id<'job'>): readonly Invoice[] {
  return prepared<object, InvoiceRow>(
    db,
    `SELECT ${invoiceColumns} FROM invoice WHERE id IN (${invoiceIdsOfJob}) ORDER BY id`,
  )
    .all({ jobId })
    .map(toInvoice)
}

type WithNamedRates<T> = Omit<T, 'namedRates'> & { readonly namedRates: string }

function withNamedRates<T>(row: WithNamedRates<T>): T {
  return { ...row, namedRates: JSON.parse(row.namedRates) as readonly NamedRate[] } as T
}

export function linesOf(db: Db, invoiceId: Id<'invoice'>): readonly InvoiceLine[] {
  return prepared<[number], WithNamedRates<InvoiceLine>>(
    db,
    `SELECT id, text, quantity_milli AS quantityMilli, unit, price_minor AS priceMinor, base_milli AS baseMilli,
       net_minor AS netMinor, category, rate_ppm AS ratePpm, named_rates AS namedRates,
       exemption_reason AS exemptionReason, allowance_minor AS allowanceMinor, allowance_reason AS allowanceReason,
       charge_minor AS chargeMinor, charge_reason AS chargeReason,
       quote_line_id AS quoteLineId, extra_line_id AS extraLineId, job_cost_id AS jobCostId, corrects_line_id AS correctsLineId,
       job_id AS jobId
     FROM invoice_line WHERE invoice_id = ? ORDER BY position`,
  )
    .all(invoiceId)
    .map(withNamedRates<InvoiceLine>)
}

export function adjustmentsOf(db: Db, invoiceId: Id<'invoice'>): readonly Adjustment[] {
  return prepared<[number], WithNamedRates<Adjustment>>(
    db,
    `SELECT kind, reason, amount_minor AS amountMinor, category, rate_ppm AS ratePpm, named_rates AS namedRates,
       exemption_reason AS exemptionReason
     FROM invoice_adjustment WHERE invoice_id = ? ORDER BY id`,
  )
    .all(invoiceId)
    .map(withNamedRates<Adjustment>)
}

export interface InvoiceTax extends BillTax {
  readonly exemptionReason: string | null
}

export function taxesOf(db: Db, invoiceId: Id<'invoice'>): readonly InvoiceTax[] {
  return prepared<[number], InvoiceTax>(
    db,
    `SELECT category, rate_ppm AS ratePpm, name, base_minor AS baseMinor, tax_minor AS taxMinor,
       exemption_reason AS exemptionReason
     FROM invoice_tax WHERE invoice_id = ? ORDER BY category, rate_ppm DESC, name`,
  ).all(invoiceId)
}

/** A deposit that a final invoice deducts, with its own figures for the paper. */
export interface DeductedDeposit {
  readonly depositId: Id<'invoice'>
  readonly number: string
  readonly issueDay: string
  readonly netMinor: number
  readonly taxMinor: number
  readonly amountMinor: number
}

export function depositsDeductedBy(db: Db, invoiceId: Id<'invoice'>): readonly DeductedDeposit[] {
  return prepared<[number], DeductedDeposit>(
    db,
    `SELECT d.id AS depositId, d.number, d.issue_day AS issueDay, d.net_minor AS netMinor, d.tax_minor AS taxMinor,
       x.amount_minor AS amountMinor
     FROM invoice_deposit x JOIN invoice d ON d.id = x.deposit_id WHERE x.invoice_id = ? ORDER BY d.id`,
  ).all(invoiceId)
}

/** The tax of a deposit by category and rate, less what its credit notes have taken back. */
export function depositTaxesOf(db: Db, depositId: Id<'invoice'>): readonly BillTax[] {
  return prepared<object, BillTax>(
    db,
    `SELECT t.category, t.rate_ppm AS ratePpm, t.name,
       sum(t.base_minor * CASE i.kind WHEN 'credit note' THEN -1 ELSE 1 END) AS baseMinor,
       sum(t.tax_minor * CASE i.kind WHEN 'credit note' THEN -1 ELSE 1 END) AS taxMinor
     FROM invoice i JOIN invoice_tax t ON t.invoice_id = i.id
     WHERE i.id = :depositId OR (i.corrects_id = :depositId AND i.state = 'issued')
     GROUP BY t.category, t.rate_ppm, t.name HAVING baseMinor <> 0
     ORDER BY t.category, t.rate_ppm DESC, t.name`,
  ).all({ depositId })
}

/** True of an issued invoice `i` that no credit note has undone as a whole. */
export const isStanding = `NOT EXISTS (SELECT 1 FROM invoice c
  WHERE c.corrects_id = i.id AND c.state = 'issued' AND c.total_minor >= i.total_minor)`

/**
 * Issued deposits of a job that no standing invoice has deducted yet; the amount is what earlier credit notes have
 * left of each.
 */
export function openDepositsOf(db: Db, jobId: Id<'job'>): readonly DeductedDeposit[] {
  return prepared<[number], DeductedDeposit>(
    db,
    `SELECT d.id AS depositId, d.number, d.issue_day AS issueDay, d.net_minor AS netMinor, d.tax_minor AS taxMinor,
       d.total_minor - (SELECT ifnull(sum(c.total_minor), 0) FROM invoice c
         WHERE c.corrects_id = d.id AND c.state = 'issued') AS amountMinor
     FROM invoice d WHERE d.job_id = ? AND d.kind = 'deposit' AND d.state = 'issued' AND amountMinor > 0
       AND NOT EXISTS (SELECT 1 FROM invoice_deposit x JOIN invoice i ON i.id = x.invoice_id
         WHERE x.deposit_id = d.id AND i.state = 'issued' AND ${isStanding})
     ORDER BY d.id`,
  ).all(jobId)
}

export function invoicePaper(db: Db, invoiceId: Id<'invoice'>): Id<'attachment'> | undefined {
  return prepared<[number], { id: Id<'attachment'> }>(
    db,
    'SELECT attachment_id AS id FROM invoice_paper WHERE invoice_id = ?',
  ).get(invoiceId)?.id
}

export function keepInvoicePaper(db: Db, invoiceId: Id<'invoice'>, attachmentId: Id<'attachment'>): void {
  prepared<[number, number]>(db, 'INSERT OR IGNORE INTO invoice_paper VALUES (?, ?)').run(
    invoiceId,
    attachmentId,
  )
}

export function invoiceUbl(db: Db, invoiceId: Id<'invoice'>): Id<'attachment'> | undefined {
  return prepared<[number], { id: Id<'attachment'> }>(
    db,
    'SELECT attachment_id AS id FROM invoice_ubl WHERE invoice_id = ?',
  ).get(invoiceId)?.id
}

export function keepInvoiceUbl(db: Db, invoiceId: Id<'invoice'>, attachmentId: Id<'attachment'>): void {
  prepared<[number, number]>(db, 'INSERT OR IGNORE INTO invoice_ubl VALUES (?, ?)').run(
    invoiceId,
    attachmentId,
  )
}
