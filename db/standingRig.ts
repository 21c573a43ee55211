import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { prepared } from './statement.ts'

/** A rig with its settings as a booked block left it on a bench, and when that block began. */
export interface StandingRig {
  readonly rigRevisionId: Id<'rig_revision'>
  readonly settingsId: Id<'settings'> | null
  readonly since: string
}

/**
 * What stands on a bench at an instant: the rig of its last booked block of spins before, however long ago, since a
 * rig left standing overnight costs nothing. Undefined where none was booked.
 */
export function rigStandingAt(db: Db, benchId: Id<'bench'>, at: string): StandingRig | undefined {
  return prepared<[number, string], StandingRig>(
    db,
    `SELECT b.rig_revision_id AS rigRevisionId, b.starts_at AS since,
       (SELECT shoot.settings_id FROM booking_shoot bs JOIN shoot ON shoot.id = bs.shoot_id
        WHERE bs.booking_id = b.id ORDER BY bs.position DESC LIMIT 1) AS settingsId
     FROM booking b WHERE b.bench_id = ? AND b.cancelled_at IS NULL AND b.starts_at < ?
       AND b.rig_revision_id IS NOT NULL AND b.kind = 'spins' ORDER BY b.starts_at DESC LIMIT 1`,
  ).get(benchId, at)
}

/** The name of the rig that a revision is of; null where none is given. */
export function rigNameOf(db: Db, rigRevisionId: Id<'rig_revision'> | null): string | null {
  if (rigRevisionId === null) return null
  const row = prepared<[number], { name: string }>(
    db,
    'SELECT rig.name FROM rig_revision v JOIN rig ON rig.id = v.rig_id WHERE v.id = ?',
  ).get(rigRevisionId)
  return row?.name ?? null
}
