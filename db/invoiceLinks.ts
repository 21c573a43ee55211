import { findClient } from './clients.ts'
import type { Id } from './ids.ts'
import { deliveriesOf } from './invoiceDeliveries.ts'
import { type Invoice, type InvoiceKind, jobsOfInvoice } from './invoices.ts'
import type { Db } from './open.ts'
import { prepared } from './statement.ts'
import { theStudio } from './studio.ts'

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
  readonly referenceNeeded: boolean
  readonly costCentreNeeded: boolean
  readonly jobNumber: string | null
  /** The jobs that its lines bill; several on a monthly invoice. */
  readonly jobs: readonly { readonly id: Id<'job'>; readonly number: string; readonly title: string }[]
  /** The deliveries that it bills, in the order they went out. */
  readonly deliveries: readonly string[]
  readonly corrects: Correction | null
  readonly creditNotes: readonly Correction[]
}

/** The links of an invoice, for its page. */
export function linksOf(db: Db, invoice: Invoice): InvoiceLinks {
  const client = findClient(db, invoice.clientId)
  if (!client) throw new Error(`There is no client ${invoice.clientId}.`)
  const { orderNumberNeeded, referenceNeeded, costCentreNeeded } = client
  const job = prepared<[number], { number: string; title: string }>(
    db,
    'SELECT number, title FROM job WHERE id = ?',
  )
  return {
    clientName: client.name,
    paymentDays: client.paymentDays ?? theStudio(db).paymentDays,
    orderNumberNeeded,
    referenceNeeded,
    costCentreNeeded,
    jobs: jobsOfInvoice(db, invoice.id).flatMap((id) => {
      const row = job.get(id)
      return row ? [{ id, ...row }] : []
    }),
    deliveries: deliveriesOf(db, invoice.id),
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
