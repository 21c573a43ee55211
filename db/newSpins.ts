import { nameWithVariant } from '../main/trade/productName.ts'
import { Refusal } from '../main/trade/refusal.ts'
import { type Writing, writeEvent } from './events.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { expectSamples } from './samples.ts'
import { copyRowsOfBrief } from './spinChanges.ts'
import { estimateSpins } from './spinEstimate.ts'
import { refreshStanding } from './standing.ts'
import { inOneTransaction, newId, prepared } from './statement.ts'

/** A spin to be added: one product, or a set of several. Without a name it bears its products'. */
export interface SpinDraft {
  readonly productIds: readonly Id<'product'>[]
  readonly name: string | null
}

/**
 * Adds spins to a job, with the rows of its brief, a place on the expected list for each product, and their
 * bench time. All of them or none. Refuses a closed job and products of another client.
 */
export function addSpins(
  writing: Writing,
  jobId: Id<'job'>,
  drafts: readonly SpinDraft[],
): readonly Id<'shoot'>[] {
  const { db } = writing
  return inOneTransaction(db, () => {
    const job = prepared<[number], { isClosed: 0 | 1 }>(
      db,
      'SELECT lost_at IS NOT NULL OR cancelled_at IS NOT NULL AS isClosed FROM job WHERE id = ?',
    ).get(jobId)
    if (!job) throw new Refusal('no-job', 'This job is not in the studio.')
    if (job.isClosed === 1) {
      throw new Refusal('job-closed', 'This job was lost or cancelled. Reopen it before adding spins.')
    }
    const shootIds = insertSpins(writing, jobId, drafts)
    const detail = { spins: shootIds.length }
    writeEvent(writing, { subject: 'job', subjectId: jobId, jobId, what: 'spins added', detail })
    refreshStanding(writing, jobId)
    return shootIds
  })
}

/** Writes the spins' rows; the caller holds the transaction, tells of it and refreshes the standing. */
export function insertSpins(
  writing: Writing,
  jobId: Id<'job'>,
  drafts: readonly SpinDraft[],
): readonly Id<'shoot'>[] {
  const { db } = writing
  const taken = new Set<string>()
  let position = 0
  for (const spin of prepared<[number], { name: string; position: number }>(
    db,
    'SELECT name, position FROM shoot WHERE job_id = ? ORDER BY position',
  ).all(jobId)) {
    taken.add(spin.name)
    position = spin.position
  }
  const shootIds = drafts.map((draft) => {
    const name = draft.name ?? freeName(productNames(db, jobId, draft.productIds), taken)
    taken.add(name)
    position += 1
    const shootId = newId<Id<'shoot'>>(
      prepared<unknown[]>(db, 'INSERT INTO shoot (job_id, position, name) VALUES (?, ?, ?)').run(
        jobId,
        position,
        name,
      ),
    )
    draft.productIds.forEach((productId, index) => {
      prepared<unknown[]>(db, 'INSERT INTO shoot_product VALUES (?, ?, ?)').run(shootId, productId, index + 1)
    })
    copyRowsOfBrief(db, shootId)
    return shootId
  })
  expectSamples(db, jobId)
  estimateSpins(db, jobId)
  return shootIds
}

/** The products' names in one line; refuses a product that is not the job's client's, or no longer listed. */
function productNames(db: Db, jobId: Id<'job'>, productIds: readonly Id<'product'>[]): string {
  if (new Set(productIds).size < productIds.length) {
    throw new Refusal('product-twice', 'A set names the same product twice. Name each product once.')
  }
  return productIds
    .map((productId) => {
      const product = prepared<[number, number], { name: string; variant: string | null; isTheirs: 0 | 1 }>(
        db,
        `SELECT p.name, p.variant, p.client_id = job.client_id AS isTheirs
         FROM product p JOIN job ON job.id = ? WHERE p.id = ?`,
      ).get(jobId, productId)
      if (!product) throw new Refusal('no-product', 'A product named for a spin is not in the studio.')
      if (product.isTheirs === 0) {
        throw new Refusal(
          'product-of-another',
          `“${product.name}” belongs to another client. Choose products of this job’s client.`,
        )
      }
      return nameWithVariant(product.name, product.variant)
    })
    .join(' and ')
}

/** The same product may be spun twice (lid open, lid shut): the second bears a number until it is named. */
function freeName(plain: string, taken: ReadonlySet<string>): string {
  let name = plain
  for (let n = 2; taken.has(name); n += 1) name = `${plain} (${n})`
  return name
}
