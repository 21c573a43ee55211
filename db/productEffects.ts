import type { Writing } from './events.ts'
import type { Id } from './ids.ts'
import { estimateSpins } from './spinEstimate.ts'
import { refreshStanding } from './standing.ts'
import { prepared } from './statement.ts'

/**
 * Estimates anew the open jobs that spin these products: size, finish and family decide how long one takes.
 * Call it in the transaction that changes them.
 */
export function estimateJobsOf(writing: Writing, productIds: readonly Id<'product'>[]): void {
  const jobs = prepared<[string], { jobId: Id<'job'> }>(
    writing.db,
    `SELECT DISTINCT shoot.job_id AS jobId FROM json_each(?) AS chosen
     JOIN shoot_product ON shoot_product.product_id = chosen.value JOIN shoot ON shoot.id = shoot_product.shoot_id
     JOIN job_standing ON job_standing.job_id = shoot.job_id
     WHERE job_standing.is_open = 1 AND shoot.cancelled_at IS NULL`,
  ).all(JSON.stringify(productIds))
  for (const { jobId } of jobs) {
    estimateSpins(writing.db, jobId)
    refreshStanding(writing, jobId)
  }
}
