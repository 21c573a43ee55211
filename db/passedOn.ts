import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { prepared } from './statement.ts'
import { taxRateOfClient } from './taxRates.ts'

/** A cost that the client pays, as its line of the next invoice: what was paid before tax, as far as it is not billed. */
export interface CostToPassOn {
  readonly jobCostId: Id<'job_cost'>
  readonly text: string
  readonly quantityMilli: number
  readonly priceMinor: number
  readonly taxRateId: Id<'tax_rate'>
}

/**
 * The costs of a job to pass on: paid, in the job's currency, and not on an issued invoice yet. A cost whose credit
 * note gave a part of it back comes again with that part.
 * @param until  the last day of receipts that is counted; null for all
 */
export function costsToPassOn(db: Db, jobId: Id<'job'>, until: string | null): readonly CostToPassOn[] {
  const rows = prepared<
    { jobId: number; until: string | null },
    Omit<CostToPassOn, 'taxRateId'> & { readonly clientId: Id<'client'> }
  >(
    db,
    `SELECT * FROM (SELECT c.id AS jobCostId, c.text, c.actual_minor AS priceMinor, job.client_id AS clientId,
         1000 - (SELECT ifnull(sum(l.quantity_milli * CASE i.kind WHEN 'credit note' THEN -1 ELSE 1 END), 0)
           FROM invoice_line l JOIN invoice i ON i.id = l.invoice_id
           WHERE l.job_cost_id = c.id AND i.state = 'issued') AS quantityMilli
       FROM job_cost c JOIN job ON job.id = c.job_id
       WHERE c.job_id = @jobId AND c.passed_on = 1 AND c.actual_minor > 0 AND c.currency = job.currency
         AND (@until IS NULL OR c.day <= @until) ORDER BY c.day, c.id)
     WHERE quantityMilli > 0`,
  ).all({ jobId, until })
  return rows.map(({ clientId, ...cost }) => ({ ...cost, taxRateId: taxRateOfClient(db, clientId) }))
}
