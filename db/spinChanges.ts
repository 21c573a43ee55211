import { Refusal } from '../main/trade/refusal.ts'
import { type Writing, writeEvent } from './events.ts'
import { grouped } from './grouped.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { expectSamples } from './samples.ts'
import { estimateSpins } from './spinEstimate.ts'
import { type ReshootCause, type SpinHead, spinHead } from './spins.ts'
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
      const product = prepared<[number, number], { name: string; isTheirs: 0 | 1 }>(
        db,
        `SELECT p.name || ifnull(', ' || p.variant, '') AS name, p.client_id = job.client_id AS isTheirs
         FROM product p JOIN job ON job.id = ? WHERE p.id = ?`,
      ).get(jobId, productId)
      if (!product) throw new Refusal('no-product', 'A product named for a spin is not in the studio.')
      if (product.isTheirs === 0) {
        throw new Refusal(
          'product-of-another',
          `“${product.name}” belongs to another client. Choose products of this job’s client.`,
        )
      }
      return product.name
    })
    .join(' and ')
}

/** The same product may be spun twice (lid open, lid shut): the second bears a number until it is named. */
function freeName(plain: string, taken: ReadonlySet<string>): string {
  let name = plain
  for (let n = 2; taken.has(name); n += 1) name = `${plain} (${n})`
  return name
}

/** Gives a spin the rows of the brief it is spun to. Call it in the transaction that changes the brief. */
export function copyRowsOfBrief(db: Db, shootId: Id<'shoot'>): void {
  prepared<[number]>(db, 'DELETE FROM shoot_row WHERE shoot_id = ?').run(shootId)
  prepared<[number]>(
    db,
    `INSERT INTO shoot_row (shoot_id, row, view_angle_mdeg, frames_per_turn, overlap_frames)
     SELECT s.id, r.row, r.view_angle_mdeg, r.frames_per_turn, r.overlap_frames FROM shoot s
     JOIN job ON job.id = s.job_id JOIN brief_row r ON r.brief_id = ifnull(s.brief_id, job.brief_id) WHERE s.id = ?`,
  ).run(shootId)
}

/** Marks the spins whose yes fixes rig, settings, crop and white for the rest of their job, or unmarks them. */
export function markFirstSpins(writing: Writing, shootIds: readonly Id<'shoot'>[], isFirst: boolean): void {
  changeSpins(writing, shootIds, isFirst ? 'first spins chosen' : 'first spins unmarked', {}, (spin) => {
    prepared<unknown[]>(writing.db, 'UPDATE shoot SET is_first = ? WHERE id = ?').run(
      isFirst ? 1 : 0,
      spin.id,
    )
  })
}

/** Renames a spin, and keeps a note with it. */
export function describeSpin(
  writing: Writing,
  shootId: Id<'shoot'>,
  { name, note }: { readonly name: string; readonly note: string | null },
): void {
  changeSpins(writing, [shootId], 'spin described', { name }, (spin) => {
    prepared<unknown[]>(writing.db, 'UPDATE shoot SET name = ?, note = ? WHERE id = ?').run(
      name,
      note,
      spin.id,
    )
  })
}

/**
 * Takes spins out of their job, with a reason; nothing of them is deleted, and products that no other spin
 * needs are no longer waited for. Refuses a spin that was delivered or is being turned just now.
 */
export function cancelSpins(writing: Writing, shootIds: readonly Id<'shoot'>[], reason: string): void {
  changeSpins(writing, shootIds, 'spins cancelled', { reason }, (spin) => {
    if (spin.isDelivered) {
      throw new Refusal(
        'spin-delivered',
        `“${spin.name}” was delivered already, so it cannot be cancelled. If it has to be turned again, call for a reshoot.`,
      )
    }
    if (spin.isTurning) {
      throw new Refusal('spin-turning', `“${spin.name}” is being turned just now. End its take first.`)
    }
    prepared<unknown[]>(
      writing.db,
      'UPDATE shoot SET cancelled_at = ?, cancelled_reason = ? WHERE id = ? AND cancelled_at IS NULL',
    ).run(writing.now, reason, spin.id)
  })
}

/** Brings cancelled spins back into their job. */
export function restoreSpins(writing: Writing, shootIds: readonly Id<'shoot'>[]): void {
  changeSpins(writing, shootIds, 'spins brought back', {}, (spin) => {
    prepared<unknown[]>(
      writing.db,
      'UPDATE shoot SET cancelled_at = NULL, cancelled_reason = NULL WHERE id = ?',
    ).run(spin.id)
  })
}

/** Puts the spins of a job into this order; those not named follow in the order they had. */
export function orderSpins(writing: Writing, jobId: Id<'job'>, shootIds: readonly Id<'shoot'>[]): void {
  const { db } = writing
  inOneTransaction(db, () => {
    const before = prepared<[number], { id: Id<'shoot'>; position: number }>(
      db,
      'SELECT id, position FROM shoot WHERE job_id = ? ORDER BY position',
    ).all(jobId)
    const named = new Set(shootIds)
    const known = new Set(before.map(({ id }) => id))
    const order = [
      ...[...named].filter((id) => known.has(id)),
      ...before.map(({ id }) => id).filter((id) => !named.has(id)),
    ]
    // Positions are unique in a job; those past the last make room while spins move.
    const room = Math.max(0, ...before.map(({ position }) => position))
    const place = prepared<[number, number]>(db, 'UPDATE shoot SET position = ? WHERE id = ?')
    order.forEach((id, index) => {
      place.run(room + index + 1, id)
    })
    order.forEach((id, index) => {
      place.run(index + 1, id)
    })
    estimateSpins(db, jobId)
    writeEvent(writing, { subject: 'job', subjectId: jobId, jobId, what: 'spins put in order' })
    refreshStanding(writing, jobId)
  })
}

/**
 * Calls for spins to be turned again: writes the cause, withdraws what was picked and what the client said
 * yes to, and waits again for samples that are gone. What was kept or delivered before no longer counts.
 * Refuses a cancelled spin, and one that was never turned.
 */
export function reshootSpins(
  writing: Writing,
  shootIds: readonly Id<'shoot'>[],
  cause: ReshootCause,
  reason: string,
): void {
  const { db, now, who } = writing
  changeSpins(writing, shootIds, 'reshoot called', { cause, reason }, (spin) => {
    if (spin.isCancelled) {
      throw new Refusal('spin-cancelled', `“${spin.name}” is cancelled. Bring it back first.`)
    }
    if (!spin.isTurned) {
      throw new Refusal(
        'spin-not-turned',
        `“${spin.name}” has no take that could be shot again. It can be turned without calling for a reshoot.`,
      )
    }
    if (spin.isTurning) {
      throw new Refusal('spin-turning', `“${spin.name}” is being turned just now. End its take first.`)
    }
    prepared<unknown[]>(
      db,
      'INSERT INTO reshoot (shoot_id, cause, reason, asked_at) VALUES (?, ?, ?, ?)',
    ).run(spin.id, cause, reason, now)
    prepared<unknown[]>(
      db,
      'UPDATE pick SET withdrawn_at = ? WHERE shoot_id = ? AND withdrawn_at IS NULL',
    ).run(now, spin.id)
    prepared<unknown[]>(
      db,
      `UPDATE answer SET withdrawn_at = ? WHERE shoot_id = ? AND verdict = 'yes' AND withdrawn_at IS NULL`,
    ).run(now, spin.id)
    const gone = `FROM sample WHERE job_id = ? AND state IN ('back', 'kept', 'destroyed')
      AND product_id IN (SELECT product_id FROM shoot_product WHERE shoot_id = ?)`
    prepared<unknown[]>(
      db,
      `INSERT INTO sample_move (sample_id, at, state, note, person_id) SELECT id, ?, 'expected', ?, ? ${gone}`,
    ).run(now, reason, who.personId, spin.jobId, spin.id)
    prepared<unknown[]>(
      db,
      `UPDATE sample SET state = 'expected', arrived_at = NULL, gone_at = NULL, place = NULL
       WHERE id IN (SELECT id ${gone})`,
    ).run(spin.jobId, spin.id)
  })
}

/**
 * Changes spins in one transaction, tells each job of it once, and works out bench time, expected list and
 * standing anew.
 */
export function changeSpins(
  writing: Writing,
  shootIds: readonly Id<'shoot'>[],
  what: string,
  detail: Readonly<Record<string, unknown>>,
  change: (spin: SpinHead) => void,
): void {
  const { db } = writing
  inOneTransaction(db, () => {
    const spins = [...new Set(shootIds)].map((shootId) => spinHead(db, shootId))
    for (const spin of spins) change(spin)
    for (const [jobId, ofJob] of grouped(spins, (spin) => spin.jobId)) {
      const [only] = ofJob
      writeEvent(writing, {
        ...(ofJob.length === 1 && only
          ? { subject: 'shoot', subjectId: only.id }
          : { subject: 'job', subjectId: jobId }),
        jobId,
        what,
        detail: { spins: ofJob.length, names: ofJob.map(({ name }) => name), ...detail },
      })
      expectSamples(db, jobId)
      estimateSpins(db, jobId)
      refreshStanding(writing, jobId)
    }
  })
}
