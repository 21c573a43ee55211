import { Refusal } from '../main/trade/refusal.ts'
import type { SpinStation } from '../main/trade/standing.ts'
import { spinStation } from '../main/trade/standing.ts'
import { grouped } from './grouped.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { spinFactsOfJob } from './standing.ts'
import { prepared } from './statement.ts'

/** Why a spin is turned again: what it bills by. */
export type ReshootCause = 'ours' | "client's wish" | 'sample' | 'carrier'

export interface SpinProduct {
  readonly id: Id<'product'>
  readonly code: string
  readonly name: string
  readonly variant: string | null
  readonly widthMm: number | null
  readonly depthMm: number | null
  readonly heightMm: number | null
  readonly massG: number | null
  readonly finish: string
}

/** One turn of a spin: its viewing angle in thousandths of a degree and its frames. */
export interface SpinRow {
  readonly row: number
  readonly viewAngleMdeg: number
  readonly framesPerTurn: number
  readonly overlapFrames: number
}

/** A spin as the job's list of spins shows it. `station` is null for a cancelled one. */
export interface Spin {
  readonly id: Id<'shoot'>
  readonly position: number
  readonly name: string
  readonly station: SpinStation | null
  readonly isFirst: boolean
  /** The bench may close between two of its rows. */
  readonly breaksBetweenRows: boolean
  /** The brief it is spun to: its own where it is an exception, else the job's. */
  readonly briefId: Id<'brief'>
  readonly hasOwnBrief: boolean
  readonly rigRevisionId: Id<'rig_revision'> | null
  readonly rigName: string | null
  readonly rigRevision: number | null
  readonly settingsId: Id<'settings'> | null
  /** Mean bench time, in ms. */
  readonly estimateMs: number
  readonly withoutSampleReason: string | null
  readonly cancelledAt: string | null
  readonly cancelledReason: string | null
  readonly note: string | null
  readonly reshoots: number
  readonly products: readonly SpinProduct[]
  readonly rows: readonly SpinRow[]
}

type SpinRecord = Omit<
  Spin,
  'station' | 'isFirst' | 'breaksBetweenRows' | 'hasOwnBrief' | 'products' | 'rows'
> & {
  readonly isFirst: 0 | 1
  readonly breaksBetweenRows: 0 | 1
  readonly hasOwnBrief: 0 | 1
}

/** Every spin of a job in its order, cancelled ones among them. */
export function spinsOfJob(db: Db, jobId: Id<'job'>): readonly Spin[] {
  const records = prepared<[number], SpinRecord>(
    db,
    `SELECT s.id, s.position, s.name, s.is_first AS isFirst,
       s.breaks_between_rows AS breaksBetweenRows, ifnull(s.brief_id, job.brief_id) AS briefId,
       s.brief_id IS NOT NULL AS hasOwnBrief, s.rig_revision_id AS rigRevisionId, rig.name AS rigName,
       rv.revision AS rigRevision, s.settings_id AS settingsId, s.estimate_ms AS estimateMs,
       s.without_sample_reason AS withoutSampleReason, s.cancelled_at AS cancelledAt,
       s.cancelled_reason AS cancelledReason, s.note,
       (SELECT count(*) FROM reshoot r WHERE r.shoot_id = s.id) AS reshoots
     FROM shoot s JOIN job ON job.id = s.job_id
     LEFT JOIN rig_revision rv ON rv.id = s.rig_revision_id LEFT JOIN rig ON rig.id = rv.rig_id
     WHERE s.job_id = ? ORDER BY s.position`,
  ).all(jobId)
  const products = productsOfSpins(db, jobId)
  const rows = rowsOfSpins(db, jobId)
  const facts = spinFactsOfJob(db, jobId)
  return records.map((record) => {
    const standing = facts.get(record.id)
    return {
      ...record,
      isFirst: record.isFirst === 1,
      breaksBetweenRows: record.breaksBetweenRows === 1,
      hasOwnBrief: record.hasOwnBrief === 1,
      station: standing ? spinStation(standing) : null,
      products: products.get(record.id) ?? [],
      rows: rows.get(record.id) ?? [],
    }
  })
}

function productsOfSpins(db: Db, jobId: Id<'job'>): ReadonlyMap<number, readonly SpinProduct[]> {
  const records = prepared<[number], SpinProduct & { shootId: number }>(
    db,
    `SELECT s.id AS shootId, p.id, p.code, p.name, p.variant, p.width_um / 1000.0 AS widthMm,
       p.depth_um / 1000.0 AS depthMm, p.height_um / 1000.0 AS heightMm, p.mass_g AS massG, p.finish
     FROM shoot s JOIN shoot_product sp ON sp.shoot_id = s.id JOIN product p ON p.id = sp.product_id
     WHERE s.job_id = ? ORDER BY s.position, sp.position`,
  ).all(jobId)
  return grouped(records, ({ shootId }) => shootId)
}

function rowsOfSpins(db: Db, jobId: Id<'job'>): ReadonlyMap<number, readonly SpinRow[]> {
  const records = prepared<[number], SpinRow & { shootId: number }>(
    db,
    `SELECT s.id AS shootId, r.row, r.view_angle_mdeg AS viewAngleMdeg, r.frames_per_turn AS framesPerTurn,
       r.overlap_frames AS overlapFrames
     FROM shoot s JOIN shoot_row r ON r.shoot_id = s.id WHERE s.job_id = ? ORDER BY s.position, r.row`,
  ).all(jobId)
  return grouped(records, ({ shootId }) => shootId)
}

/** What every change of a spin asks first. */
export interface SpinHead {
  readonly id: Id<'shoot'>
  readonly jobId: Id<'job'>
  readonly name: string
  readonly briefId: Id<'brief'>
  readonly ownBriefId: Id<'brief'> | null
  readonly isCancelled: boolean
  /** A take of it runs. */
  readonly isTurning: boolean
  /** A take that is not rejected was started since the last call for a reshoot. */
  readonly isTurned: boolean
  readonly isDelivered: boolean
}

type HeadRecord = { [K in keyof SpinHead]: SpinHead[K] extends boolean ? 0 | 1 : SpinHead[K] }

/** Refuses a spin that is not in the studio. */
export function spinHead(db: Db, shootId: Id<'shoot'>): SpinHead {
  const record = prepared<[number], HeadRecord>(
    db,
    `SELECT s.id, s.job_id AS jobId, s.name, ifnull(s.brief_id, job.brief_id) AS briefId, s.brief_id AS ownBriefId,
       s.cancelled_at IS NOT NULL AS isCancelled,
       EXISTS (SELECT 1 FROM take t WHERE t.shoot_id = s.id AND t.ended_at IS NULL) AS isTurning,
       EXISTS (SELECT 1 FROM take t WHERE t.shoot_id = s.id AND t.verdict IS NOT 'reject' AND t.started_at >
         ifnull((SELECT max(asked_at) FROM reshoot r WHERE r.shoot_id = s.id), '')) AS isTurned,
       EXISTS (SELECT 1 FROM delivery_item di JOIN delivery d ON d.id = di.delivery_id
         WHERE di.shoot_id = s.id AND d.sent_at IS NOT NULL) AS isDelivered
     FROM shoot s JOIN job ON job.id = s.job_id WHERE s.id = ?`,
  ).get(shootId)
  if (!record) throw new Refusal('no-spin', 'This spin is not in the studio.')
  return {
    ...record,
    isCancelled: record.isCancelled === 1,
    isTurning: record.isTurning === 1,
    isTurned: record.isTurned === 1,
    isDelivered: record.isDelivered === 1,
  }
}
