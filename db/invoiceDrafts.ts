import type { BillTotals, TaxCategory } from '../main/trade/bill.ts'
import type { Id } from './ids.ts'
import type { Adjustment, InvoiceKind, InvoiceLineDraft, Party } from './invoices.ts'
import type { Db } from './open.ts'
import { newId, prepared } from './statement.ts'

/** What a draft is made of; its sums are worked out by `main/trade/bill` and given along. */
export interface InvoiceContent {
  readonly kind: InvoiceKind
  readonly clientId: Id<'client'>
  readonly jobId: Id<'job'> | null
  readonly correctsId: Id<'invoice'> | null
  readonly currency: string
  readonly language: 'en' | 'de'
  readonly serviceFrom: string | null
  readonly serviceTo: string | null
  readonly orderNumber: string | null
  readonly buyerReference: string | null
  readonly costCentre: string | null
  readonly note: string | null
  readonly lines: readonly InvoiceLineDraft[]
  readonly adjustments: readonly Adjustment[]
  readonly deposits: readonly { readonly depositId: Id<'invoice'>; readonly amountMinor: number }[]
  readonly totals: BillTotals
}

/** Writes a new draft with its parts. Call inside the caller's transaction. */
export function insertInvoiceDraft(db: Db, content: InvoiceContent, now: string): Id<'invoice'> {
  const invoiceId = newId<Id<'invoice'>>(
    prepared<unknown[]>(
      db,
      `INSERT INTO invoice (kind, client_id, job_id, corrects_id, currency, language, created_at) VALUES (?, ?, ?, ?, ?, ?, ?)`,
    ).run(
      content.kind,
      content.clientId,
      content.jobId,
      content.correctsId,
      content.currency,
      content.language,
      now,
    ),
  )
  rewriteInvoiceDraft(db, invoiceId, content)
  return invoiceId
}

/** Rewrites a draft and everything it is made of; an issued invoice is refused by its trigger. */
export function rewriteInvoiceDraft(db: Db, invoiceId: Id<'invoice'>, content: InvoiceContent): void {
  const { totals } = content
  prepared<unknown[]>(
    db,
    `UPDATE invoice SET service_from = ?, service_to = ?, order_number = ?, buyer_reference = ?, cost_centre = ?,
       note = ?, lines_minor = ?, allowance_minor = ?, charge_minor = ?, net_minor = ?, tax_minor = ?, total_minor = ?,
       prepaid_minor = ?, rounding_minor = ?, payable_minor = ? WHERE id = ?`,
  ).run(
    content.serviceFrom,
    content.serviceTo,
    content.orderNumber,
    content.buyerReference,
    content.costCentre,
    content.note,
    totals.netMinor,
    totals.allowanceMinor,
    totals.chargeMinor,
    totals.taxExclusiveMinor,
    totals.taxTotalMinor,
    totals.taxInclusiveMinor,
    totals.prepaidMinor,
    totals.roundingMinor,
    totals.payableMinor,
    invoiceId,
  )
  for (const part of ['invoice_line', 'invoice_adjustment', 'invoice_tax', 'invoice_deposit']) {
    prepared<[number]>(db, `DELETE FROM ${part} WHERE invoice_id = ?`).run(invoiceId)
  }
  insertLines(db, invoiceId, content)
  insertSums(db, invoiceId, content)
}

function insertLines(db: Db, invoiceId: Id<'invoice'>, content: InvoiceContent): void {
  content.lines.forEach((line, index) => {
    prepared<unknown[]>(
      db,
      `INSERT INTO invoice_line (invoice_id, position, text, quantity_milli, unit, price_minor, base_milli, net_minor,
         category, rate_ppm, named_rates, exemption_reason, allowance_minor, allowance_reason, charge_minor, charge_reason,
         quote_line_id, extra_line_id, job_cost_id, corrects_line_id, job_id)
       VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
    ).run(
      invoiceId,
      index + 1,
      line.text,
      line.quantityMilli,
      line.unit,
      line.priceMinor,
      line.baseMilli,
      content.totals.lineNets[index],
      line.category,
      line.ratePpm,
      JSON.stringify(line.namedRates),
      line.exemptionReason,
      line.allowanceMinor,
      line.allowanceReason,
      line.chargeMinor,
      line.chargeReason,
      line.quoteLineId,
      line.extraLineId,
      line.jobCostId,
      line.correctsLineId,
      line.jobId ?? content.jobId,
    )
  })
}

function insertSums(db: Db, invoiceId: Id<'invoice'>, content: InvoiceContent): void {
  for (const adjustment of content.adjustments) {
    prepared<unknown[]>(
      db,
      `INSERT INTO invoice_adjustment (invoice_id, kind, reason, amount_minor, category, rate_ppm, exemption_reason,
         named_rates) VALUES (?, ?, ?, ?, ?, ?, ?, ?)`,
    ).run(
      invoiceId,
      adjustment.kind,
      adjustment.reason,
      adjustment.amountMinor,
      adjustment.category,
      adjustment.ratePpm,
      adjustment.exemptionReason,
      JSON.stringify(adjustment.namedRates),
    )
  }
  for (const tax of content.totals.taxes) {
    prepared<unknown[]>(db, 'INSERT INTO invoice_tax VALUES (?, ?, ?, ?, ?, ?, ?)').run(
      invoiceId,
      tax.category,
      tax.ratePpm,
      tax.name,
      tax.baseMinor,
      tax.taxMinor,
      exemptionReasonOf(content, tax.category),
    )
  }
  for (const { depositId, amountMinor } of content.deposits) {
    prepared<unknown[]>(db, 'INSERT INTO invoice_deposit VALUES (?, ?, ?)').run(
      invoiceId,
      depositId,
      amountMinor,
    )
  }
}

/** Why a category bears no tax (BT-120): each reason of its lines and adjustments once; none where it bears tax. */
function exemptionReasonOf(content: InvoiceContent, category: TaxCategory): string | null {
  if (category === 'S' || category === 'Z') return null
  const reasons = [...content.lines, ...content.adjustments]
    .filter((taxed) => taxed.category === category)
    .flatMap(({ exemptionReason }) => exemptionReason ?? [])
  return [...new Set(reasons)].join(' ') || null
}

/** Freezes a draft: number, days, parties, reference. Nothing of it changes after this. */
export function freezeInvoice(
  db: Db,
  invoiceId: Id<'invoice'>,
  as: {
    readonly number: string
    readonly issueDay: string
    readonly dueDay: string
    readonly seller: Party
    readonly buyer: Party
    readonly paymentReference: string | null
    readonly issuedAt: string
  },
): void {
  prepared<unknown[]>(
    db,
    `UPDATE invoice SET state = 'issued', number = ?, issue_day = ?, due_day = ?, seller = ?, buyer = ?,
       payment_reference = ?, issued_at = ? WHERE id = ? AND state = 'draft'`,
  ).run(
    as.number,
    as.issueDay,
    as.dueDay,
    JSON.stringify(as.seller),
    JSON.stringify(as.buyer),
    as.paymentReference,
    as.issuedAt,
    invoiceId,
  )
}

/** Throws a draft away. An issued invoice is refused by its trigger. */
export function deleteInvoiceDraft(db: Db, invoiceId: Id<'invoice'>): void {
  prepared<[number]>(db, `DELETE FROM invoice WHERE id = ? AND state = 'draft'`).run(invoiceId)
}
