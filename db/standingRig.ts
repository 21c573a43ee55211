import type { BookingKind } from './bookings.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { prepared } from './statement.ts'

/** A rig with its settings as a booked block left it on a bench, and when that block began. */
export interface StandingRig {
  readonly rigRevisionId: Id<'rig_revision'>
  readonly settingsId: Id<'settings'> | null
  readonly since: string
}

/** A block that builds a rig or turns on it. */
export interface RigBlock {
  readonly id: Id<'booking'>
  readonly benchId: Id<'bench'>
  readonly kind: BookingKind
  readonly jobId: Id<'job'> | null
  readonly rigRevisionId: Id<'rig_revision'> | null
  readonly startsAt: string
}

/**
 * What stands on a bench at an instant: the rig of the last booked block before that built one or turned on it, however
 * long ago, since a rig left standing overnight costs nothing. Undefined where none was booked.
 */
export function rigStandingAt(db: Db, benchId: Id<'bench'>, at: string): StandingRig | undefined {
  const block = builtBefore(db, benchId, at)
  if (!block?.rigRevisionId) return undefined
  return { rigRevisionId: block.rigRevisionId, settingsId: settingsAfter(db, block), since: block.startsAt }
}

/** The last block before an instant that built a rig or turned on it. */
export function builtBefore(db: Db, benchId: Id<'bench'>, at: string): RigBlock | null {
  const row = prepared<[number, string], RigBlock>(
    db,
    `SELECT id, bench_id AS benchId, kind, job_id AS jobId, rig_revision_id AS rigRevisionId, starts_at AS startsAt
     FROM booking WHERE bench_id = ? AND cancelled_at IS NULL AND starts_at < ? AND rig_revision_id IS NOT NULL
     ORDER BY starts_at DESC LIMIT 1`,
  ).get(benchId, at)
  return row ?? null
}

/** What is dialled once a block is over: as for its last spin, or for the first of the spins it makes way for. */
export function settingsAfter(db: Db, block: RigBlock): Id<'settings'> | null {
  if (block.kind === 'spins') return settingsIn(db, block.id).at(-1) ?? null
  return settingsIn(db, spinsAfter(db, block))[0] ?? null
}

/** What is dialled for the first spin of a block, or of the spins it makes way for. */
export function settingsAtFirst(db: Db, block: RigBlock): Id<'settings'> | null {
  return settingsIn(db, block.kind === 'spins' ? block.id : spinsAfter(db, block))[0] ?? null
}

/** The block of spins that a set change makes way for: the next of its job and rig on the bench. */
function spinsAfter(db: Db, block: RigBlock): Id<'booking'> | null {
  const row = prepared<unknown[], { id: Id<'booking'> }>(
    db,
    `SELECT id FROM booking WHERE bench_id = ? AND cancelled_at IS NULL AND starts_at > ? AND kind = 'spins'
       AND job_id IS ? AND rig_revision_id IS ? ORDER BY starts_at LIMIT 1`,
  ).get(block.benchId, block.startsAt, block.jobId, block.rigRevisionId)
  return row?.id ?? null
}

/** What is dialled for each spin of a block, in their order. */
function settingsIn(db: Db, bookingId: Id<'booking'> | null): readonly (Id<'settings'> | null)[] {
  return prepared<[number | null], { settingsId: Id<'settings'> | null }>(
    db,
    `SELECT shoot.settings_id AS settingsId FROM booking_shoot bs JOIN shoot ON shoot.id = bs.shoot_id
     WHERE bs.booking_id = ? ORDER BY bs.position`,
  )
    .all(bookingId)
    .map(({ settingsId }) => settingsId)
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
