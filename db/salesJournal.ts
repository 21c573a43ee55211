import type { Id } from './ids.ts'
import { depositsDeductedBy, depositTaxesOf, type InvoiceKind, type Party } from './invoices.ts'
import type { Db } from './open.ts'
import { prepared } from './statement.ts'

/** Days of a journal, both within. */
export interface JournalPeriod {
  readonly fromDay: string
  readonly toDay: string
}

/** Where the next part of a journal begins: after this document. */
export interface AfterDocument {
  readonly issueDay: string
  readonly id: number
}

/** An issued document of a period, as it was frozen. Money in minor units; a credit note's amounts are negative. */
export interface JournalDocument {
  readonly id: Id<'invoice'>
  readonly kind: InvoiceKind
  readonly number: string
  readonly issueDay: string
  readonly dueDay: string
  readonly corrects: string | null
  readonly buyer: Party
  readonly currency: string
  readonly netMinor: number
  readonly taxMinor: number
  readonly totalMinor: number
  readonly prepaidMinor: number
  readonly payableMinor: number
  /** Tax by category and rate, and by name where it has one. */
  readonly taxes: readonly JournalTax[]
  /** Tax of deposits that the document deducts: it was in the journal with the deposit, and counts once. */
  readonly deducted: readonly (JournalTax & { readonly number: string })[]
}

export interface JournalTax {
  readonly category: string
  readonly ratePpm: number
  readonly name: string
  readonly baseMinor: number
  readonly taxMinor: number
}

/** The next documents of a period by day and order of issue. */
export function journalDocuments(
  db: Db,
  period: JournalPeriod,
  after: AfterDocument | null,
  limit: number,
): readonly JournalDocument[] {
  const rows = prepared<
    object,
    Omit<JournalDocument, 'buyer' | 'taxes' | 'deducted'> & {
      buyer: string
      correctsId: Id<'invoice'> | null
    }
  >(
    db,
    `SELECT i.id, i.kind, i.number, i.issue_day AS issueDay, i.due_day AS dueDay, i.corrects_id AS correctsId,
       (SELECT c.number FROM invoice c WHERE c.id = i.corrects_id) AS corrects, i.buyer, i.currency,
       i.net_minor AS netMinor, i.tax_minor AS taxMinor, i.total_minor AS totalMinor, i.prepaid_minor AS prepaidMinor,
       i.payable_minor AS payableMinor
     FROM invoice i WHERE i.state = 'issued' AND (i.issue_day, i.id) > (:issueDay, :id) AND i.issue_day >= :fromDay
       AND i.issue_day <= :toDay ORDER BY i.issue_day, i.id LIMIT :limit`,
  ).all({ ...period, ...(after ?? { issueDay: '', id: 0 }), limit })
  return rows.map(({ correctsId, buyer, ...row }) => {
    const sign = row.kind === 'credit note' ? -1 : 1
    const signed = <T extends JournalTax>(tax: T): T => ({
      ...tax,
      baseMinor: sign * tax.baseMinor,
      taxMinor: sign * tax.taxMinor,
    })
    const deducting = row.prepaidMinor === 0 ? null : row.kind === 'credit note' ? correctsId : row.id
    return {
      ...row,
      buyer: JSON.parse(buyer) as Party,
      netMinor: sign * row.netMinor,
      taxMinor: sign * row.taxMinor,
      totalMinor: sign * row.totalMinor,
      prepaidMinor: sign * row.prepaidMinor,
      payableMinor: sign * row.payableMinor,
      taxes: taxRows(db, row.id).map(signed),
      deducted: deducting === null ? [] : deductedTaxes(db, deducting).map(signed),
    }
  })
}

function taxRows(db: Db, invoiceId: Id<'invoice'>): readonly JournalTax[] {
  return prepared<[number], JournalTax>(
    db,
    `SELECT category, rate_ppm AS ratePpm, name, base_minor AS baseMinor, tax_minor AS taxMinor
     FROM invoice_tax WHERE invoice_id = ? ORDER BY category, rate_ppm DESC, name`,
  ).all(invoiceId)
}

/** The tax of the deposits that an invoice deducts, each as less than 0. */
function deductedTaxes(db: Db, invoiceId: Id<'invoice'>): JournalDocument['deducted'] {
  return depositsDeductedBy(db, invoiceId).flatMap(({ depositId, number }) =>
    depositTaxesOf(db, depositId).map((tax) => ({
      ...tax,
      number,
      baseMinor: -tax.baseMinor,
      taxMinor: -tax.taxMinor,
    })),
  )
}

/** A payment of a period, with the documents it was set against. */
export interface JournalPayment {
  readonly id: Id<'payment'>
  readonly day: string
  readonly clientName: string
  readonly amountMinor: number
  readonly currency: string
  readonly way: string
  readonly reference: string | null
  readonly note: string | null
  readonly kind: 'payment' | 'paid back' | 'taken back'
  readonly numbers: string
}

/** The next payments of a period by day. */
export function journalPayments(
  db: Db,
  period: JournalPeriod,
  after: { readonly day: string; readonly id: number } | null,
  limit: number,
): readonly JournalPayment[] {
  return prepared<object, JournalPayment>(
    db,
    `SELECT p.id, p.day, (SELECT name FROM client WHERE client.id = p.client_id) AS clientName,
       p.amount_minor AS amountMinor, p.currency, p.way, p.reference, p.note,
       CASE WHEN p.reverses_id IS NOT NULL THEN 'taken back' WHEN p.amount_minor < 0 THEN 'paid back' ELSE 'payment' END AS kind,
       (SELECT ifnull(group_concat(i.number, ' '), '') FROM payment_share s JOIN invoice i ON i.id = s.invoice_id
         WHERE s.payment_id = p.id) AS numbers
     FROM payment p WHERE (p.day, p.id) > (:day, :id) AND p.day >= :fromDay AND p.day <= :toDay
     ORDER BY p.day, p.id LIMIT :limit`,
  ).all({ ...period, ...(after ?? { day: '', id: 0 }), limit })
}

/** Sums of a period: documents and tax by currency, category and rate, what an accountant sees first. */
export function journalSums(db: Db, { fromDay, toDay }: JournalPeriod) {
  const documents =
    prepared<[string, string], { count: number }>(
      db,
      `SELECT count(*) AS count FROM invoice WHERE state = 'issued' AND issue_day BETWEEN ? AND ?`,
    ).get(fromDay, toDay)?.count ?? 0
  const withoutPaper =
    prepared<[string, string], { count: number }>(
      db,
      `SELECT count(*) AS count FROM invoice i WHERE state = 'issued' AND issue_day BETWEEN ? AND ?
         AND NOT EXISTS (SELECT 1 FROM invoice_paper p WHERE p.invoice_id = i.id)`,
    ).get(fromDay, toDay)?.count ?? 0
  return { documents, withoutPaper }
}

/** The issued documents of a period with their kept papers, in order of issue. */
export function papersOf(db: Db, { fromDay, toDay }: JournalPeriod) {
  return prepared<
    [string, string],
    {
      readonly id: Id<'invoice'>
      readonly number: string
      readonly paperSha256: string | null
      readonly ublSha256: string | null
    }
  >(
    db,
    `SELECT i.id, i.number, a.sha256 AS paperSha256, u.sha256 AS ublSha256
     FROM invoice i LEFT JOIN invoice_paper p ON p.invoice_id = i.id LEFT JOIN attachment a ON a.id = p.attachment_id
       LEFT JOIN invoice_ubl e ON e.invoice_id = i.id LEFT JOIN attachment u ON u.id = e.attachment_id
     WHERE i.state = 'issued' AND i.issue_day BETWEEN ? AND ? ORDER BY i.issue_day, i.id`,
  ).all(fromDay, toDay)
}
