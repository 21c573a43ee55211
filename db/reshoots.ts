import { Refusal } from '../main/trade/refusal.ts'
import type { Writing } from './events.ts'
import type { Id } from './ids.ts'
import { changeSpins } from './spinChanges.ts'
import type { ReshootCause } from './spins.ts'
import { prepared } from './statement.ts'

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
    // The reason to go on without the sample was given for the turn before, not for this one.
    prepared<[number]>(db, 'UPDATE shoot SET without_sample_reason = NULL WHERE id = ?').run(spin.id)
    // What the studio keeps is here still; what went back or is destroyed has to come anew.
    const gone = `FROM sample WHERE job_id = ? AND state IN ('back', 'destroyed')
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
