import { type SampleState, sampleStateWords } from '../main/trade/samples.ts'
import type { SpinStation } from '../main/trade/standing.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { spinsOfJob } from './spins.ts'
import { spinFactsOfJob } from './standing.ts'
import { prepared } from './statement.ts'

/** Where each product of a job is: a line per spin and product, in the job's order. */
export interface StatusRow {
  readonly code: string
  readonly product: string
  readonly spin: string
  readonly station: SpinStation | 'cancelled'
  readonly sample: string
  readonly picked: number
  readonly picksWanted: number
  readonly yeses: number
  readonly delivered: number
  readonly deliverables: number
}

export function jobStatus(db: Db, jobId: Id<'job'>): readonly StatusRow[] {
  const facts = spinFactsOfJob(db, jobId)
  const states = new Map(
    prepared<[number], { productId: number; state: SampleState }>(
      db,
      'SELECT product_id AS productId, state FROM sample WHERE job_id = ?',
    )
      .all(jobId)
      .map(({ productId, state }) => [productId, state]),
  )
  return spinsOfJob(db, jobId).flatMap((spin) => {
    const its = facts.get(spin.id)
    return spin.products.map((product) => ({
      code: product.code,
      product: [product.name, product.variant].filter(Boolean).join(', '),
      spin: spin.name,
      station: spin.station ?? ('cancelled' as const),
      sample: sampleStateWords[states.get(product.id) ?? 'expected'],
      picked: its?.picks ?? 0,
      picksWanted: its?.picksWanted ?? 0,
      yeses: its?.yeses ?? 0,
      delivered: its?.delivered ?? 0,
      deliverables: its?.deliverables ?? 0,
    }))
  })
}
