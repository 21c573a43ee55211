import { type Age, type Ageing, ageingOf, dueDaysOf } from '../main/trade/ageing.ts'
import { grouped } from './grouped.ts'
import type { Id } from './ids.ts'
import type { InvoiceKind } from './invoices.ts'
import type { Db } from './open.ts'
import type { Page } from './page.ts'
import { prepared } from './statement.ts'

/**
 * Works out what is open on an issued invoice (due, less credits, payments and write-offs) and keeps it. Every
 * function that issues, credits, pays or writes off calls this in its own transaction.
 */
export function refreshAccount(db: Db, invoiceId: Id<'invoice'>): void {
  prepared<[number]>(
    db,
    `INSERT OR REPLACE INTO invoice_account (invoice_id, due_day, open_minor)
     SELECT i.id, i.due_day, i.payable_minor
       - (SELECT ifnull(sum(c.payable_minor), 0) FROM invoice c WHERE c.corrects_id = i.id AND c.state = 'issued')
       - (SELECT ifnull(sum(s.amount_minor), 0) FROM payment_share s WHERE s.invoice_id = i.id)
       - (SELECT ifnull(sum(w.amount_minor), 0) FROM write_off w WHERE w.invoice_id = i.id)
     FROM invoice i WHERE i.id = ? AND i.state = 'issued' AND i.kind <> 'credit note'`,
  ).run(invoiceId)
}

/** What is still open on an issued invoice, in minor units; less than 0 when too much came. */
export function openOf(db: Db, invoiceId: Id<'invoice'>): number {
  return (
    prepared<[number], { open: number }>(
      db,
      'SELECT open_minor AS open FROM invoice_account WHERE invoice_id = ?',
    ).get(invoiceId)?.open ?? 0
  )
}

export interface InvoiceListLine {
  readonly id: Id<'invoice'>
  readonly kind: InvoiceKind
  readonly number: string | null
  readonly clientName: string
  /** The numbers of the jobs it bills: one, or those of a month. */
  readonly jobNumbers: readonly string[]
  readonly issueDay: string | null
  readonly dueDay: string | null
  readonly currency: string
  readonly totalMinor: number
  readonly openMinor: number
}

/** Which invoices a list shows. */
export type InvoiceFilter = 'open' | 'overdue' | 'drafts' | 'all'

// Each filter begins at the index that holds few rows: open accounts, or drafts. SQLite takes the partial index of
// open accounts only where its very condition stands in the query.
// Drafts and settled invoices have no day to be chosen by; SQLite wants every bound name in the text.
const whenever = ':today = :today AND :from = :from AND :to = :to'
const filters: Record<InvoiceFilter, string> = {
  open: 'FROM invoice_account a JOIN invoice i ON i.id = a.invoice_id WHERE a.open_minor <> 0 AND a.due_day BETWEEN :from AND :to AND :today = :today',
  overdue:
    'FROM invoice_account a JOIN invoice i ON i.id = a.invoice_id WHERE a.open_minor <> 0 AND a.open_minor > 0 AND a.due_day < :today AND a.due_day BETWEEN :from AND :to',
  drafts: `FROM invoice i LEFT JOIN invoice_account a ON a.invoice_id = i.id WHERE i.state = 'draft' AND ${whenever}`,
  all: `FROM invoice i LEFT JOIN invoice_account a ON a.invoice_id = i.id WHERE ${whenever}`,
}

const orders = {
  dueDay: 'i.due_day',
  issueDay: 'i.issue_day',
  number: 'i.number',
  client: 'clientName COLLATE NOCASE',
  totalMinor: 'i.total_minor',
  openMinor: 'openMinor',
} as const
export type InvoiceOrder = keyof typeof orders

/** Which invoices are listed, and in what order. */
export interface InvoiceList {
  readonly filter: InvoiceFilter
  /** Of what is open, only what has been due for so long; null for all. */
  readonly age: Age | null
  readonly order: InvoiceOrder
  readonly descending: boolean
}

// An invoice of a month has no job of its own: its lines name theirs.
const jobNumbers = `CASE WHEN i.job_id IS NULL
  THEN (SELECT json_group_array(DISTINCT j.number ORDER BY j.id) FROM invoice_line l JOIN job j ON j.id = l.job_id
    WHERE l.invoice_id = i.id)
  ELSE (SELECT json_array(number) FROM job WHERE job.id = i.job_id) END`

/** A page of invoices, how many match, and what is open of them per currency. */
export function listInvoices(
  db: Db,
  { filter, age, order, descending }: InvoiceList,
  today: string,
  page: Page,
) {
  const due = age === null ? undefined : dueDaysOf(age, today)
  const bounds = { today, from: due?.from ?? '0000-01-01', to: due?.to ?? '9999-12-31' }
  const direction = descending ? 'DESC' : 'ASC'
  const lines = prepared<object, Omit<InvoiceListLine, 'jobNumbers'> & { jobNumbers: string }>(
    db,
    `SELECT i.id, i.kind, i.number, (SELECT name FROM client WHERE client.id = i.client_id) AS clientName,
       ${jobNumbers} AS jobNumbers, i.issue_day AS issueDay,
       i.due_day AS dueDay, i.currency, i.total_minor AS totalMinor, ifnull(a.open_minor, 0) AS openMinor
     ${filters[filter]} ORDER BY ${orders[order]} ${direction}, i.id ${direction} LIMIT :limit OFFSET :offset`,
  )
    .all({ ...page, ...bounds })
    .map((line) => ({ ...line, jobNumbers: JSON.parse(line.jobNumbers) as readonly string[] }))
  const sums = prepared<object, { currency: string; count: number; openMinor: number }>(
    db,
    `SELECT i.currency, count(*) AS count, ifnull(sum(a.open_minor), 0) AS openMinor
     ${filters[filter]} GROUP BY i.currency ORDER BY i.currency`,
  ).all(bounds)
  return { lines, total: sums.reduce((sum, { count }) => sum + count, 0), sums }
}

/** What is open in a currency, by how long it has been due. Money in minor units. */
export interface OpenSums {
  readonly currency: string
  readonly openMinor: number
  readonly ageing: Ageing
}

/** What is open in each currency and how old it is: of all clients, or of one. */
export function openSums(db: Db, today: string, clientId: Id<'client'> | null = null): readonly OpenSums[] {
  const of = clientId === null ? ':clientId IS NULL' : 'i.client_id = :clientId'
  const rows = prepared<object, { currency: string; dueDay: string; openMinor: number }>(
    db,
    `SELECT i.currency, a.due_day AS dueDay, sum(a.open_minor) AS openMinor
     FROM invoice_account a JOIN invoice i ON i.id = a.invoice_id
     WHERE a.open_minor <> 0 AND ${of} GROUP BY i.currency, a.due_day`,
  ).all({ clientId })
  return [...grouped(rows, ({ currency }) => currency)].map(([currency, items]) => ({
    currency,
    openMinor: items.reduce((sum, { openMinor }) => sum + openMinor, 0),
    ageing: ageingOf(items, today),
  }))
}

export interface Payment {
  readonly id: Id<'payment'>
  readonly day: string
  readonly amountMinor: number
  readonly shareMinor: number
  readonly currency: string
  readonly way: string
  readonly reference: string | null
  readonly note: string | null
  /** True where the opposite payment was entered beside it. */
  readonly isTakenBack: boolean
  /** True where it is itself the opposite of another. */
  readonly takesBack: boolean
}

export function paymentsOn(db: Db, invoiceId: Id<'invoice'>): readonly Payment[] {
  return prepared<
    [number],
    Omit<Payment, 'isTakenBack' | 'takesBack'> & { isTakenBack: 0 | 1; takesBack: 0 | 1 }
  >(
    db,
    `SELECT p.id, p.day, p.amount_minor AS amountMinor, s.amount_minor AS shareMinor, p.currency, p.way, p.reference,
       p.note, EXISTS (SELECT 1 FROM payment r WHERE r.reverses_id = p.id) AS isTakenBack,
       p.reverses_id IS NOT NULL AS takesBack
     FROM payment_share s JOIN payment p ON p.id = s.payment_id WHERE s.invoice_id = ? ORDER BY p.day, p.id`,
  )
    .all(invoiceId)
    .map((row) => ({ ...row, isTakenBack: row.isTakenBack === 1, takesBack: row.takesBack === 1 }))
}

/** What a client has paid and no invoice has taken yet, per currency, in minor units. */
export function creditOf(
  db: Db,
  clientId: Id<'client'>,
): readonly { readonly currency: string; readonly minor: number }[] {
  return prepared<[number], { currency: string; minor: number }>(
    db,
    `SELECT p.currency, sum(p.amount_minor - (SELECT ifnull(sum(s.amount_minor), 0) FROM payment_share s
       WHERE s.payment_id = p.id)) AS minor
     FROM payment p WHERE p.client_id = ? GROUP BY p.currency HAVING minor <> 0`,
  ).all(clientId)
}
