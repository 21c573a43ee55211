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

type Which = { readonly jobId: Id<'job'> | null; readonly shootIds: readonly Id<'shoot'>[] | null }

type Bound = number | string | null | { readonly now: string }

const which = `(? IS NULL OR s.job_id = ?) AND (? IS NULL OR shoot.id IN (SELECT value FROM json_each(?)))`

function bound({ jobId, shootIds }: Which): [number | null, number | null, string | null, string | null] {
  const ids = shootIds === null ? null : JSON.stringify(shootIds)
  return [jobId, jobId, ids, ids]
}

/** What waits for a place: everything, of one job, or of the spins named. */
export function waitingWork(db: Db, of: Which, now: string): WaitingWork {
  const work = prepared<Bound[], WaitingWork>(
    db,
    `SELECT count(*) AS spins, count(DISTINCT s.job_id) AS jobs, ifnull(sum(shoot.estimate_ms), 0) AS ms,
       ifnull(sum(shoot.estimate_ms = 0), 0) AS withoutEstimate
     FROM job_standing s JOIN shoot ON shoot.job_id = s.job_id WHERE ${which} AND ${waitsForPlace}`,
  ).get(...bound(of), { now })
  if (!work) throw new Error('A count gave no row.')
  return work
}

/** The spins that wait for a place, the earliest due first, at most so many. */
export function waitingShootIds(
  db: Db,
  of: Which & { readonly limit: number; readonly except?: Id<'job'> },
  now: string,
): readonly Id<'shoot'>[] {
  return prepared<Bound[], { shootId: Id<'shoot'> }>(
    db,
    `SELECT shoot.id AS shootId FROM job_standing s JOIN shoot ON shoot.job_id = s.job_id
     WHERE ${which} AND s.job_id IS NOT ? AND ${waitsForPlace}
     ORDER BY s.due_day IS NULL, s.due_day, s.job_id, shoot.position LIMIT ?`,
  )
    .all(...bound(of), of.except ?? null, of.limit, { now })
    .map(({ shootId }) => shootId)
}

/** A block to come that a plan may move, as it was when the plan was asked for. */
export interface MovableBlock {
  readonly id: Id<'booking'>
  readonly jobId: Id<'job'> | null
  readonly benchId: Id<'bench'>
  readonly startsAt: string
  readonly endsAt: string
  readonly shootIds: readonly Id<'shoot'>[]
}

/** Blocks of spins to come that nobody fixed and that have not begun: those that may be planned anew, of one job where it is named. */
export function movableBlocks(db: Db, now: string, jobId: Id<'job'> | null = null): readonly MovableBlock[] {
  return prepared<
    [string, number | null, number | null],
    Omit<MovableBlock, 'shootIds'> & { shootIds: string }
  >(
    db,
    `SELECT b.id, b.job_id AS jobId, b.bench_id AS benchId, b.starts_at AS startsAt, b.ends_at AS endsAt,
       json_group_array(bs.shoot_id ORDER BY bs.position) AS shootIds
     FROM booking b JOIN booking_shoot bs ON bs.booking_id = b.id
     WHERE b.cancelled_at IS NULL AND b.starts_at > ? AND b.kind = 'spins' AND b.is_fixed = 0
       AND (? IS NULL OR b.job_id = ?)
     GROUP BY b.id ORDER BY b.starts_at`,
  )
    .all(now, jobId, jobId)
    .map(({ shootIds, ...block }) => ({ ...block, shootIds: JSON.parse(shootIds) as Id<'shoot'>[] }))
}
