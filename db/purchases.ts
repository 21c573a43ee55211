import type { Id } from './ids.ts'
import type { CostKind } from './jobCosts.ts'
import type { Db } from './open.ts'
import { prepared } from './statement.ts'

interface Days {
  readonly fromDay: string
  readonly toDay: string
}

/** What was sold or bought in some days, in one currency; minor units. */
export interface TradeSum {
  readonly currency: string
  readonly documents: number
  readonly netMinor: number
  readonly taxMinor: number
}

/**
 * The sales of some days by currency: issued documents by their day of issue, credit notes less. A deposit counts
 * with its own invoice, so the invoice that deducts it counts without it.
 */
export function salesOf(db: Db, days: Days): readonly TradeSum[] {
  const deducted = (column: 'net_minor' | 'tax_minor') =>
    `CASE i.prepaid_minor WHEN 0 THEN 0 ELSE (SELECT ifnull(sum(d.${column}), 0) FROM invoice_deposit x
       JOIN invoice d ON d.id = x.deposit_id
       WHERE x.invoice_id = CASE i.kind WHEN 'credit note' THEN i.corrects_id ELSE i.id END) END`
  const sum = (column: 'net_minor' | 'tax_minor') =>
    `sum((i.${column} - ${deducted(column)}) * CASE i.kind WHEN 'credit note' THEN -1 ELSE 1 END)`
  return prepared<Days, TradeSum>(
    db,
    `SELECT i.currency, count(*) AS documents, ${sum('net_minor')} AS netMinor, ${sum('tax_minor')} AS taxMinor
     FROM invoice i WHERE i.state = 'issued' AND i.issue_day BETWEEN @fromDay AND @toDay
     GROUP BY i.currency ORDER BY i.currency`,
  ).all(days)
}

/** The purchases of some days by currency and kind: what was paid, by the days of the receipts. */
export function purchasesOf(
  db: Db,
  days: Days,
): readonly (TradeSum & { readonly kind: CostKind; readonly withoutReceipt: number })[] {
  return prepared<Days, TradeSum & { readonly kind: CostKind; readonly withoutReceipt: number }>(
    db,
    `SELECT currency, kind, count(*) AS documents, sum(actual_minor) AS netMinor, sum(tax_minor) AS taxMinor,
       count(*) - count(receipt_id) AS withoutReceipt
     FROM job_cost WHERE day BETWEEN @fromDay AND @toDay AND actual_minor IS NOT NULL
     GROUP BY currency, kind ORDER BY currency, kind`,
  ).all(days)
}

/** One purchase, as a list of a quarter shows it. */
export interface Purchase {
  readonly id: Id<'job_cost'>
  readonly jobId: Id<'job'>
  readonly jobNumber: string
  readonly kind: CostKind
  readonly text: string
  readonly supplier: string | null
  readonly day: string
  readonly currency: string
  readonly netMinor: number
  readonly taxMinor: number
  readonly receiptId: Id<'attachment'> | null
}

export function listPurchases(
  db: Db,
  days: Days,
  page: { readonly offset: number; readonly limit: number },
): readonly Purchase[] {
  return prepared<Days & { readonly offset: number; readonly limit: number }, Purchase>(
    db,
    `SELECT c.id, c.job_id AS jobId, job.number AS jobNumber, c.kind, c.text, c.supplier, c.day, c.currency,
       c.actual_minor AS netMinor, c.tax_minor AS taxMinor, c.receipt_id AS receiptId
     FROM job_cost c JOIN job ON job.id = c.job_id
     WHERE c.day BETWEEN @fromDay AND @toDay AND c.actual_minor IS NOT NULL ORDER BY c.day, c.id LIMIT @limit OFFSET @offset`,
  ).all({ ...days, ...page })
}
