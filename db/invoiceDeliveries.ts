import type { Id } from './ids.ts'
import { isStanding } from './invoices.ts'
import type { Db } from './open.ts'
import { prepared } from './statement.ts'

/** A delivery that was sent and stands on no invoice yet. */
export interface UnbilledDelivery {
  readonly id: Id<'delivery'>
  readonly number: string
  readonly sentAt: string
}

/** The deliveries of a job that were sent until then and that no issued invoice names, the earliest first. */
export function unbilledDeliveries(
  db: Db,
  jobId: Id<'job'>,
  until: string | null = null,
): readonly UnbilledDelivery[] {
  return prepared<object, UnbilledDelivery>(
    db,
    `SELECT d.id, d.number, d.sent_at AS sentAt FROM delivery d
     WHERE d.job_id = @jobId AND d.sent_at IS NOT NULL AND (@until IS NULL OR d.sent_at <= @until)
       AND NOT EXISTS (SELECT 1 FROM invoice_delivery x JOIN invoice i ON i.id = x.invoice_id
         WHERE x.delivery_id = d.id AND i.state = 'issued' AND ${isStanding})
     ORDER BY d.sent_at, d.id`,
  ).all({ jobId, until })
}

/** The numbers of the deliveries that an invoice bills, in the order they went out. */
export function deliveriesOf(db: Db, invoiceId: Id<'invoice'>): readonly string[] {
  return prepared<[number], { number: string }>(
    db,
    `SELECT d.number FROM invoice_delivery x JOIN delivery d ON d.id = x.delivery_id
     WHERE x.invoice_id = ? ORDER BY d.sent_at, d.id`,
  )
    .all(invoiceId)
    .map(({ number }) => number)
}

/** Writes on a draft which deliveries it bills. */
export function nameDeliveries(
  db: Db,
  invoiceId: Id<'invoice'>,
  jobIds: readonly Id<'job'>[],
  until: string | null,
): void {
  const insert = prepared<[number, number]>(db, 'INSERT INTO invoice_delivery VALUES (?, ?)')
  for (const jobId of jobIds) {
    for (const { id } of unbilledDeliveries(db, jobId, until)) insert.run(invoiceId, id)
  }
}
