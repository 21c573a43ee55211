import { Refusal } from '../main/trade/refusal.ts'
import { type Writing, writeEvent } from './events.ts'
import { grouped } from './grouped.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { expectSamples } from './samples.ts'
import { estimateSpins } from './spinEstimate.ts'
import { type SpinHead, spinHead } from './spins.ts'
import { refreshStanding } from './standing.ts'
import { inOneTransaction, prepared } from './statement.ts'

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

/**
 * Lets spins be broken between two rows, so that the bench may close between them, or not. A row's turn is never
 * broken. Refuses a spin of one row.
 */
export function letBreakBetweenRows(
  writing: Writing,
  shootIds: readonly Id<'shoot'>[],
  mayBreak: boolean,
): void {
  const { db } = writing
  const rowsOf = prepared<[number], { rows: number }>(
    db,
    'SELECT count(*) AS rows FROM shoot_row WHERE shoot_id = ?',
  )
  const what = mayBreak ? 'may break between rows' : 'stays whole'
  changeSpins(writing, shootIds, what, {}, ({ id, name }) => {
    if (mayBreak && (rowsOf.get(id)?.rows ?? 0) < 2) {
      throw new Refusal(
        'one-row',
        `“${name}” has one row, and a turn is never broken. Choose spins of several rows.`,
        { field: 'shootIds' },
      )
    }
    prepared<[number, number]>(db, 'UPDATE shoot SET breaks_between_rows = ? WHERE id = ?').run(
      mayBreak ? 1 : 0,
      id,
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
