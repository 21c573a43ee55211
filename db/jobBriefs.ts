import { Refusal } from '../main/trade/refusal.ts'
import { type BriefDraft, briefById, deliverablesOf, insertBrief, rewriteBrief } from './briefs.ts'
import { type Writing, writeEvent } from './events.ts'
import type { Id } from './ids.ts'
import { jobById } from './jobs.ts'
import type { Db } from './open.ts'
import { changeSpins, copyRowsOfBrief } from './spinChanges.ts'
import { estimateSpins } from './spinEstimate.ts'
import { type SpinHead, spinHead } from './spins.ts'
import { refreshStanding } from './standing.ts'
import { inOneTransaction, prepared } from './statement.ts'

/**
 * Rewrites a job's brief. Spins that follow it and were not turned yet get its rows; those already turned keep
 * theirs. Refuses to drop a deliverable that was picked, shown, answered or delivered.
 * @returns how many spins keep the rows they were turned with
 */
export function rewriteJobBrief(
  writing: Writing,
  jobId: Id<'job'>,
  draft: BriefDraft,
): { readonly spinsKeptAsTurned: number } {
  const { db } = writing
  return inOneTransaction(db, () => {
    const job = jobById(db, jobId)
    rewriteKnown(db, job.briefId, draft)
    const followers = prepared<[number], { id: Id<'shoot'> }>(
      db,
      'SELECT id FROM shoot WHERE job_id = ? AND brief_id IS NULL AND cancelled_at IS NULL',
    )
      .all(jobId)
      .map(({ id }) => spinHead(db, id))
    const free = followers.filter(({ isTurned }) => !isTurned)
    for (const spin of free) copyRowsOfBrief(db, spin.id)
    estimateSpins(db, jobId)
    writeEvent(writing, { subject: 'job', subjectId: jobId, jobId, what: 'brief rewritten' })
    refreshStanding(writing, jobId)
    return { spinsKeptAsTurned: followers.length - free.length }
  })
}

/**
 * Gives spins a brief of their own as an exception, or rewrites it. Refuses once something of the spin was
 * picked, shown or delivered to the brief it had, and new rows for a spin that is already turned.
 */
export function writeSpinBrief(writing: Writing, shootIds: readonly Id<'shoot'>[], draft: BriefDraft): void {
  const { db } = writing
  changeSpins(writing, shootIds, 'brief of their own written', {}, (spin) => {
    refuseNewRows(db, spin, draft)
    if (spin.ownBriefId !== null) rewriteKnown(db, spin.ownBriefId, draft)
    else {
      refuseUsed(db, spin)
      // The job's deliverables stay the job's: the exception has its own.
      const own = insertBrief(db, {
        ...draft,
        deliverables: draft.deliverables.map(({ id: _, ...deliverable }) => deliverable),
      })
      prepared<[number, number]>(db, 'UPDATE shoot SET brief_id = ? WHERE id = ?').run(own, spin.id)
    }
    copyRowsOfBrief(db, spin.id)
  })
}

/** Lets spins follow their job's brief again. Refuses as `writeSpinBrief` does. */
export function dropSpinBrief(writing: Writing, shootIds: readonly Id<'shoot'>[]): void {
  const { db } = writing
  changeSpins(writing, shootIds, 'back to the job’s brief', {}, (spin) => {
    if (spin.ownBriefId === null) return
    refuseUsed(db, spin)
    refuseNewRows(db, spin, briefById(db, jobById(db, spin.jobId).briefId))
    prepared<[number]>(db, 'UPDATE shoot SET brief_id = NULL WHERE id = ?').run(spin.id)
    prepared<[number]>(db, 'DELETE FROM brief WHERE id = ?').run(spin.ownBriefId)
    copyRowsOfBrief(db, spin.id)
  })
}

function rewriteKnown(db: Db, briefId: Id<'brief'>, draft: BriefDraft): void {
  const before = deliverablesOf(db, briefId)
  const known = new Set(before.map(({ id }) => id))
  const deliverables = draft.deliverables.map(({ id, ...deliverable }) =>
    id !== undefined && known.has(id) ? { ...deliverable, id } : deliverable,
  )
  const kept = new Set(draft.deliverables.map(({ id }) => id))
  for (const { id, name } of before) {
    if (!kept.has(id) && isUsed(db, id)) {
      throw new Refusal(
        'deliverable-used',
        `“${name}” was picked, shown or delivered already, so it stays in the brief. Change it, or add another beside it.`,
        { field: 'deliverables' },
      )
    }
  }
  rewriteBrief(db, briefId, { ...draft, deliverables })
}

/** Something points at the deliverable: a pick, a showing, an answer or a delivery, withdrawn or not. */
function isUsed(db: Db, deliverableId: Id<'deliverable'>): boolean {
  // By way of the spins of the brief, since nothing is indexed by deliverable alone.
  const spins = prepared<[object], { id: Id<'shoot'> }>(
    db,
    `SELECT s.id FROM deliverable d JOIN job ON job.brief_id = d.brief_id JOIN shoot s ON s.job_id = job.id
       WHERE d.id = @deliverableId
     UNION SELECT s.id FROM deliverable d JOIN shoot s ON s.brief_id = d.brief_id WHERE d.id = @deliverableId`,
  ).all({ deliverableId })
  return spins.some(({ id }) => isUsedBySpin(db, id, deliverableId))
}

function refuseUsed(db: Db, spin: SpinHead): void {
  const used = deliverablesOf(db, spin.briefId).find(({ id }) => isUsedBySpin(db, spin.id, id))
  if (!used) return
  throw new Refusal(
    'spin-brief-used',
    `“${used.name}” of “${spin.name}” was picked, shown or delivered to its present brief. Add another spin of the product for a different brief.`,
  )
}

function isUsedBySpin(db: Db, shootId: Id<'shoot'>, deliverableId: Id<'deliverable'>): boolean {
  const row = prepared<[object], { isUsed: 0 | 1 }>(
    db,
    `SELECT EXISTS (SELECT 1 FROM pick WHERE shoot_id = @shootId AND deliverable_id = @deliverableId)
       OR EXISTS (SELECT 1 FROM answer WHERE shoot_id = @shootId AND deliverable_id = @deliverableId)
       OR EXISTS (SELECT 1 FROM showing_item WHERE shoot_id = @shootId AND deliverable_id = @deliverableId)
       OR EXISTS (SELECT 1 FROM delivery_item WHERE shoot_id = @shootId AND deliverable_id = @deliverableId) AS isUsed`,
  ).get({ shootId, deliverableId })
  return row?.isUsed === 1
}

function refuseNewRows(db: Db, spin: SpinHead, draft: Pick<BriefDraft, 'rows'>): void {
  if (!spin.isTurned) return
  const turned = prepared<[number], { angle: number; frames: number; overlap: number }>(
    db,
    `SELECT view_angle_mdeg AS angle, frames_per_turn AS frames, overlap_frames AS overlap FROM shoot_row
     WHERE shoot_id = ? ORDER BY row`,
  ).all(spin.id)
  const same =
    turned.length === draft.rows.length &&
    turned.every((row, index) => {
      const wanted = draft.rows[index]
      return (
        wanted?.viewAngleMdeg === row.angle &&
        wanted.framesPerTurn === row.frames &&
        wanted.overlapFrames === row.overlap
      )
    })
  if (same) return
  throw new Refusal(
    'spin-turned',
    `“${spin.name}” is turned already, so its rows and frames stay. Reject its takes or call for a reshoot first.`,
    { field: 'rows' },
  )
}
