import type { Id } from './ids.ts'
import type { Invoice, InvoiceKind } from './invoices.ts'
import type { Db } from './open.ts'
import { prepared } from './statement.ts'

/** A document that corrects an invoice, or is corrected by it. */
export interface Correction {
  readonly id: Id<'invoice'>
  readonly kind: InvoiceKind
  readonly number: string | null
  readonly state: 'draft' | 'issued'
  readonly totalMinor: number
}

/** What an invoice hangs on: its client, its job, what it corrects and what corrects it. */
export interface InvoiceLinks {
  readonly clientName: string
  /** The days in which this client pays, as a draft would be issued now. */
  readonly paymentDays: number
  readonly orderNumberNeeded: boolean
  readonly jobNumber: string | null
  readonly corrects: Correction | null
  readonly creditNotes: readonly Correction[]
}

/** The links of an invoice, for its page. */
export function linksOf(db: Db, invoice: Invoice): InvoiceLinks {
  const client = prepared<[number], { clientName: string; paymentDays: number; needed: 0 | 1 }>(
    db,
    `SELECT client.name AS clientName, ifnull(client.payment_days, studio.payment_days) AS paymentDays,
       order_number_needed AS needed FROM client JOIN studio ON studio.id = 1 WHERE client.id = ?`,
  ).get(invoice.clientId)
  if (!client) throw new Error(`There is no client ${invoice.clientId}.`)
  const { needed, ...rest } = client
  const job = prepared<[number], { number: string }>(db, 'SELECT number FROM job WHERE id = ?')
  return {
    ...rest,
    orderNumberNeeded: needed === 1,
    jobNumber: invoice.jobId === null ? null : (job.get(invoice.jobId)?.number ?? null),
    corrects: invoice.correctsId === null ? null : (corrections(db, 'id', invoice.correctsId)[0] ?? null),
    creditNotes: corrections(db, 'corrects_id', invoice.id),
  }
}

function corrections(db: Db, by: 'id' | 'corrects_id', id: Id<'invoice'>): readonly Correction[] {
  return prepared<[number], Correction>(
    db,
    `SELECT id, kind, number, state, total_minor AS totalMinor FROM invoice WHERE ${by} = ? ORDER BY id`,
  ).all(id)
}
