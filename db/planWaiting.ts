import { waitsForPlace } from './benchPlan.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { prepared } from './statement.ts'

/** How much waits for a place on a bench. */
export interface WaitingWork {
  readonly spins: number
  readonly jobs: number
  readonly ms: number
  /** Spins without an estimate: no plan can place them. */
  readonly withoutEstimate: number
}

interface Which {
  readonly jobId: Id<'job'> | null
  readonly shootIds: readonly Id<'shoot'>[] | null
}

const fromWaiting = `FROM job_standing s JOIN shoot ON shoot.job_id = s.job_id
  WHERE (@jobId IS NULL OR s.job_id = @jobId)
    AND (@shootIds IS NULL OR shoot.id IN (SELECT value FROM json_each(@shootIds))) AND ${waitsForPlace}`

type Bound = { readonly jobId: Id<'job'> | null; readonly shootIds: string | null; readonly now: string }

function bound({ jobId, shootIds }: Which, now: string): Bound {
  return { jobId, shootIds: shootIds === null ? null : JSON.stringify(shootIds), now }
}

/** What waits for a place: everything, of one job, or of the spins named. */
export function waitingWork(db: Db, of: Which, now: string): WaitingWork {
  const work = prepared<[Bound], WaitingWork>(
    db,
    `SELECT count(*) AS spins, count(DISTINCT s.job_id) AS jobs, ifnull(sum(shoot.estimate_ms), 0) AS ms,
       ifnull(sum(shoot.estimate_ms = 0), 0) AS withoutEstimate ${fromWaiting}`,
  ).get(bound(of, now))
  if (!work) throw new Error('A count gave no row.')
  return work
}

/** Why no plan can place a spin yet: it has no estimate, or waits for a sample that nobody expects on a day. */
const isHeldUp = `(shoot.estimate_ms = 0 OR (shoot.without_sample_reason IS NULL AND EXISTS (
  SELECT 1 FROM shoot_product sp LEFT JOIN sample ON sample.product_id = sp.product_id AND sample.job_id = shoot.job_id
  WHERE sp.shoot_id = shoot.id AND (sample.id IS NULL OR (sample.is_needed = 1 AND sample.expected_day IS NULL
    AND sample.state IN ('expected', 'missing', 'wrong'))))))`

/**
 * The spins that wait for a place, at most so many: the earliest due first, and those that no plan can place yet last, so
 * that they keep nothing else out.
 */
export function waitingShootIds(db: Db, of: Which, limit: number, now: string): readonly Id<'shoot'>[] {
  return prepared<[Bound & { readonly limit: number }], { shootId: Id<'shoot'> }>(
    db,
    `SELECT shoot.id AS shootId ${fromWaiting}
     ORDER BY ${isHeldUp}, s.due_day IS NULL, s.due_day, s.job_id, shoot.position LIMIT @limit`,
  )
    .all({ ...bound(of, now), limit })
    .map(({ shootId }) => shootId)
}

/**
 * The set change to come that makes way for the block `b`: the same job's and rig's, with no other spins turned between the
 * two; it may lie on the evening before. Takes the instant that it is now.
 */
export const setChangeToCome = `(SELECT c.id FROM booking c WHERE c.kind = 'set change' AND c.cancelled_at IS NULL
  AND c.bench_id = b.bench_id AND c.job_id IS b.job_id AND c.rig_revision_id IS b.rig_revision_id
  AND c.ends_at <= b.starts_at AND c.starts_at > ? AND NOT EXISTS (SELECT 1 FROM booking x
    WHERE x.bench_id = b.bench_id AND x.cancelled_at IS NULL AND x.kind = 'spins'
      AND x.starts_at >= c.ends_at AND x.starts_at < b.starts_at) ORDER BY c.ends_at DESC LIMIT 1)`

/** A block to come that a plan may move, as it was when the plan was asked for. */
export interface MovableBlock {
  readonly id: Id<'booking'>
  readonly jobId: Id<'job'> | null
  readonly benchId: Id<'bench'>
  readonly startsAt: string
  readonly endsAt: string
  /** The set change that makes way for it and has not begun; it goes where the block goes. */
  readonly setChangeId: Id<'booking'> | null
  readonly shootIds: readonly Id<'shoot'>[]
}

/**
 * Blocks of spins to come that nobody fixed and that have not begun: those that may be planned anew, of one job where
 * it is named. Of a spin that breaks between its rows all stay where one of its blocks is fixed or has begun.
 */
export function movableBlocks(db: Db, now: string, jobId: Id<'job'> | null = null): readonly MovableBlock[] {
  return prepared<
    [string, string, number | null, number | null],
    Omit<MovableBlock, 'shootIds'> & { shootIds: string }
  >(
    db,
    `SELECT b.id, b.job_id AS jobId, b.bench_id AS benchId, b.starts_at AS startsAt, b.ends_at AS endsAt,
       ${setChangeToCome} AS setChangeId,
       json_group_array(bs.shoot_id ORDER BY bs.position) AS shootIds
     FROM (SELECT ? AS now) b_now CROSS JOIN booking b JOIN booking_shoot bs ON bs.booking_id = b.id
     WHERE b.cancelled_at IS NULL AND b.starts_at > b_now.now AND b.kind = 'spins' AND b.is_fixed = 0
       AND (? IS NULL OR b.job_id = ?)
       AND NOT EXISTS (SELECT 1 FROM booking_shoot mine JOIN shoot ON shoot.id = mine.shoot_id AND shoot.breaks_between_rows = 1
         JOIN booking_shoot other ON other.shoot_id = shoot.id JOIN booking f ON f.id = other.booking_id
         WHERE mine.booking_id = b.id AND f.cancelled_at IS NULL AND (f.is_fixed = 1 OR f.starts_at <= b_now.now)
           AND f.ends_at > ifnull((SELECT max(asked_at) FROM reshoot r WHERE r.shoot_id = shoot.id), ''))
     GROUP BY b.id ORDER BY b.starts_at`,
  )
    .all(now, now, jobId, jobId)
    .map(({ shootIds, ...block }) => ({ ...block, shootIds: JSON.parse(shootIds) as Id<'shoot'>[] }))
}
