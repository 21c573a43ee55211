import type { BlockOnOtherRig } from '../main/trade/blockRig.ts'
import { dayOf } from '../main/trade/calendar.ts'
import {
  framesChangedSince,
  type ProductThen,
  productChangesSince,
  type RigThen,
  type RowThen,
  rigCautionsSince,
} from '../main/trade/lastTime.ts'
import { studioZone } from './calendar.ts'
import { outagesOn } from './equipment.ts'
import type { Writing } from './events.ts'
import { grouped } from './grouped.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { firstProduct, type PicturedProduct, picturedColumns } from './rigEvidence.ts'
import { overLoad, planRig } from './rigPlans.ts'
import { settingsRows } from './settings.ts'
import { inOneTransaction, prepared } from './statement.ts'

/** The approved take that a spin is to match: its product's last, else the first of its product's family. */
export interface LastTime extends PicturedProduct {
  readonly from: 'product' | 'family'
  readonly jobId: Id<'job'>
  readonly jobNumber: string
  readonly spin: string
  readonly takeId: Id<'take'>
  readonly takeNumber: number
  readonly answeredAt: string
  readonly rigId: Id<'rig'>
  readonly rigName: string
  readonly rigRevisionId: Id<'rig_revision'>
  readonly revision: number
  readonly newestRevisionId: Id<'rig_revision'>
  readonly newestRevision: number
  /** They hold the crop too. */
  readonly settingsId: Id<'settings'>
  readonly startPose: string | null
  /** What has gone or changed since, one sentence each. */
  readonly cautions: readonly string[]
  /** Why the product may not stand on that platter; null where it may. */
  readonly overLoad: string | null
}

/** A spin and what it was like last time; null where nothing like it was approved yet. */
export interface SpinLastTime {
  readonly shootId: Id<'shoot'>
  readonly name: string
  readonly lastTime: LastTime | null
}

interface Found {
  readonly shootId: Id<'shoot'>
  readonly name: string
  readonly productId: Id<'product'>
  readonly ownTakeId: Id<'take'> | null
  readonly familyTakeId: Id<'take'> | null
}

// A CROSS JOIN keeps its order: the few spins of a product, then the yes of each. A product with the lid open and with
// the lid shut is two spins: the one of the same name comes first.
const foundColumns = `shoot.id AS shootId, shoot.name, product.id AS productId,
  (SELECT r.take_id FROM shoot_product sp CROSS JOIN rig_approval r ON r.shoot_id = sp.shoot_id
   CROSS JOIN shoot other ON other.id = sp.shoot_id
   WHERE sp.product_id = product.id AND sp.shoot_id <> shoot.id
   ORDER BY other.name = shoot.name DESC, r.answered_at DESC, r.take_id DESC LIMIT 1) AS ownTakeId,
  (SELECT r.take_id FROM product kin CROSS JOIN shoot_product sp ON sp.product_id = kin.id
   CROSS JOIN rig_approval r ON r.shoot_id = sp.shoot_id
   WHERE kin.family_id = product.family_id AND sp.shoot_id <> shoot.id
   ORDER BY r.answered_at, r.take_id LIMIT 1) AS familyTakeId`

/** The spins of a job that are not cancelled, each with its last time. */
export function lastTimesOfJob(db: Db, jobId: Id<'job'>, now: string): readonly SpinLastTime[] {
  const spins = prepared<[number], Found>(
    db,
    `SELECT ${foundColumns} FROM shoot JOIN ${firstProduct}
     WHERE shoot.job_id = ? AND shoot.cancelled_at IS NULL ORDER BY shoot.position`,
  ).all(jobId)
  return told(db, spins, now)
}

/** The same for spins that are named; those not in the studio are left out. */
export function lastTimesOf(db: Db, shootIds: readonly Id<'shoot'>[], now: string): readonly SpinLastTime[] {
  return told(db, foundOf(db, shootIds), now)
}

function foundOf(db: Db, shootIds: readonly Id<'shoot'>[]): Found[] {
  return prepared<[string], Found>(
    db,
    `SELECT ${foundColumns} FROM json_each(?) AS chosen CROSS JOIN shoot ON shoot.id = chosen.value
     JOIN ${firstProduct}`,
  ).all(JSON.stringify(shootIds))
}

/**
 * The approved take that one row of a spin is to match, since rows look at a product from different heights: of the
 * spin that was like it last time, the take of that row; else the same row of its product or family in another spin;
 * where that row was never approved, last time's take of another row.
 */
export function lastTimeOfRow(
  db: Db,
  { shootId, row }: { readonly shootId: Id<'shoot'>; readonly row: number },
  now: string,
): LastTime | null {
  const [spin] = foundOf(db, [shootId])
  const like = spin && (spin.ownTakeId ?? spin.familyTakeId)
  if (!spin || !like) return null
  const ofRow = sameRowOfSpin(db, like, row) ?? sameRowOfFamily(db, spin, row)
  const matched = ofRow ? withTake(spin, ofRow) : spin
  return told(db, [matched], now)[0]?.lastTime ?? null
}

interface RowTake {
  readonly takeId: Id<'take'>
  /** The product it shows; null for the one that was like the spin last time. */
  readonly productId: Id<'product'> | null
}

function withTake(spin: Found, { takeId, productId }: RowTake): Found {
  const isOwn = productId === null ? spin.ownTakeId !== null : productId === spin.productId
  return { ...spin, ownTakeId: isOwn ? takeId : null, familyTakeId: takeId }
}

const yesToRow = `JOIN pick ON pick.shoot_id = a.shoot_id AND pick.deliverable_id = a.deliverable_id
    AND pick.row = :row AND pick.withdrawn_at IS NULL`

function sameRowOfSpin(db: Db, takeId: Id<'take'>, row: number): RowTake | undefined {
  return prepared<{ takeId: number; row: number }[], RowTake>(
    db,
    `SELECT pick.take_id AS takeId, NULL AS productId
     FROM take approved CROSS JOIN answer a ON a.shoot_id = approved.shoot_id AND a.verdict = 'yes'
       AND a.withdrawn_at IS NULL
     ${yesToRow} WHERE approved.id = :takeId ORDER BY a.answered_at DESC, pick.take_id DESC LIMIT 1`,
  ).get({ takeId, row })
}

/** As the whole spin's: the product's last, else the first of its family. */
function sameRowOfFamily(db: Db, { shootId, productId }: Found, row: number): RowTake | undefined {
  return prepared<{ shootId: number; productId: number; row: number }[], RowTake>(
    db,
    `SELECT pick.take_id AS takeId, kin.id AS productId
     FROM product kin CROSS JOIN shoot_product sp ON sp.product_id = kin.id AND sp.shoot_id <> :shootId
     CROSS JOIN answer a ON a.shoot_id = sp.shoot_id AND a.verdict = 'yes' AND a.withdrawn_at IS NULL
     ${yesToRow}
     WHERE kin.id = :productId OR kin.family_id = (SELECT family_id FROM product WHERE id = :productId)
     ORDER BY kin.id = :productId DESC, CASE kin.id WHEN :productId THEN a.answered_at END DESC, a.answered_at,
       pick.take_id LIMIT 1`,
  ).get({ shootId, productId, row })
}

export interface PlannedAsLastTime {
  readonly planned: number
  /** Spins of which nothing alike was approved yet. */
  readonly without: readonly string[]
  /** Why spins were left out whose platter does not carry them now. */
  readonly tooHeavy: readonly string[]
  /** Blocks to come that followed their spins to another rig, or that spins left. */
  readonly blocks: readonly BlockOnOtherRig[]
}

/**
 * Plans spins as they were approved last time: rig revision, settings with their crop, and start pose. What was
 * never approved, and what its platter does not carry, stays as it was and is named.
 */
export function planAsLastTime(writing: Writing, shootIds: readonly Id<'shoot'>[]): PlannedAsLastTime {
  const { db } = writing
  return inOneTransaction(db, () => {
    const spins = lastTimesOf(db, [...new Set(shootIds)], writing.now)
    const fit = spins.flatMap(({ shootId, lastTime }) =>
      lastTime && lastTime.overLoad === null ? [{ shootId, ...lastTime }] : [],
    )
    let planned = 0
    const blocks: BlockOnOtherRig[] = []
    for (const alike of grouped(fit, (s) => `${s.rigRevisionId} ${s.settingsId}`).values()) {
      const [{ rigRevisionId, settingsId } = { rigRevisionId: undefined, settingsId: undefined }] = alike
      const part = planRig(writing, {
        shootIds: alike.map(({ shootId }) => shootId),
        rigRevisionId,
        settingsId,
      })
      planned += part.planned
      blocks.push(...part.blocks)
    }
    for (const { shootId, startPose } of fit) {
      prepared<[string | null, number]>(db, 'UPDATE shoot SET start_pose = ? WHERE id = ?').run(
        startPose,
        shootId,
      )
    }
    return {
      planned,
      blocks,
      without: spins.flatMap(({ name, lastTime }) => (lastTime ? [] : [name])),
      tooHeavy: spins.flatMap(({ lastTime }) => lastTime?.overLoad ?? []),
    }
  })
}

function told(db: Db, spins: readonly Found[], now: string): readonly SpinLastTime[] {
  const today = dayOf(now, studioZone(db))
  const takes = new Map<Id<'take'>, Then>()
  const rigs = new Map<Id<'rig_revision'>, readonly string[]>()
  return spins.map(({ shootId, name, productId, ownTakeId, familyTakeId }) => {
    const takeId = ownTakeId ?? familyTakeId
    if (takeId === null) return { shootId, name, lastTime: null }
    const then = takes.get(takeId) ?? thenOf(db, takeId)
    takes.set(takeId, then)
    const rigCautions =
      rigs.get(then.rigRevisionId) ?? rigCautionsSince(rigThen(db, then.rigRevisionId, today))
    rigs.set(then.rigRevisionId, rigCautions)
    const { productId: thenId, startedAt, ...lastTime } = then
    return {
      shootId,
      name,
      lastTime: {
        ...lastTime,
        from: ownTakeId === null ? 'family' : 'product',
        cautions: [
          ...rigCautions,
          ...productChangesSince(
            productAt(db, thenId, startedAt),
            productAt(db, productId, now),
            thenId === productId,
          ),
          ...framesChangedSince(settingsRows(db, then.settingsId), rowsOf(db, shootId)),
        ],
        overLoad: overLoad(db, shootId, then.rigRevisionId),
      },
    }
  })
}

type Then = Omit<LastTime, 'from' | 'cautions' | 'overLoad'> & {
  readonly productId: Id<'product'>
  readonly startedAt: string
}

function thenOf(db: Db, takeId: Id<'take'>): Then {
  const then = prepared<[number], Then>(
    db,
    `SELECT job.id AS jobId, job.number AS jobNumber, shoot.name AS spin, take.id AS takeId, take.number AS takeNumber,
       (SELECT max(answered_at) FROM rig_approval WHERE shoot_id = shoot.id) AS answeredAt, rig.id AS rigId,
       rig.name AS rigName, v.id AS rigRevisionId, v.revision, newest.id AS newestRevisionId,
       newest.revision AS newestRevision, take.settings_id AS settingsId,
       (SELECT start_pose FROM spin_start_pose WHERE shoot_id = shoot.id) AS startPose, product.id AS productId,
       take.started_at AS startedAt, ${picturedColumns}
     FROM take JOIN shoot ON shoot.id = take.shoot_id JOIN job ON job.id = shoot.job_id
     JOIN rig_revision v ON v.id = take.rig_revision_id JOIN rig ON rig.id = v.rig_id
     JOIN rig_revision newest ON newest.rig_id = rig.id
       AND newest.revision = (SELECT max(revision) FROM rig_revision WHERE rig_id = rig.id)
     JOIN ${firstProduct} WHERE take.id = ?`,
  ).get(takeId)
  if (!then) throw new Error(`There is no take ${takeId}.`)
  return then
}

function rigThen(db: Db, rigRevisionId: Id<'rig_revision'>, today: string): RigThen {
  type Row = Omit<RigThen, 'isArchived' | 'platterIsGone' | 'parts'> & {
    isArchived: 0 | 1
    platterIsGone: 0 | 1
  }
  const rig = prepared<[number], Row>(
    db,
    `SELECT rig.name AS rigName, rig.archived_at IS NOT NULL AS isArchived, v.revision, v.rim_um10 AS rimUm10,
       (SELECT max(revision) FROM rig_revision WHERE rig_id = rig.id) AS newestRevision, platter.name AS platterName,
       platter.rim_um10 AS platterRimUm10, platter.gone_at IS NOT NULL AS platterIsGone
     FROM rig_revision v JOIN rig ON rig.id = v.rig_id JOIN platter ON platter.id = v.platter_id WHERE v.id = ?`,
  ).get(rigRevisionId)
  if (!rig) throw new Error(`There is no rig revision ${rigRevisionId}.`)
  const parts = prepared<
    [number],
    { id: Id<'equipment'>; name: string; needed: number; count: number; isGone: 0 | 1 }
  >(
    db,
    `SELECT e.id, e.name, n.needed, e.count, e.gone_at IS NOT NULL AS isGone
     FROM rig_equipment n JOIN equipment e ON e.id = n.equipment_id WHERE n.rig_revision_id = ? ORDER BY e.name`,
  ).all(rigRevisionId)
  return {
    ...rig,
    isArchived: rig.isArchived === 1,
    platterIsGone: rig.platterIsGone === 1,
    parts: parts.map(({ id, isGone, ...part }) => ({
      ...part,
      isGone: isGone === 1,
      outage: outageOf(db, id, part, today),
    })),
  }
}

/** What keeps a part away on a day, where the pieces left are too few. */
function outageOf(
  db: Db,
  equipmentId: Id<'equipment'>,
  { needed, count }: { readonly needed: number; readonly count: number },
  day: string,
): RigThen['parts'][number]['outage'] {
  const outages = outagesOn(db, equipmentId, day)
  return count - outages.length < needed ? (outages[0] ?? null) : null
}

/** A product as it was at an instant: what its first change after that says it was before, else as it is. */
function productAt(db: Db, productId: Id<'product'>, at: string): ProductThen {
  const now = prepared<[number], ProductThen>(
    db,
    `SELECT code, finish, width_um AS widthUm, depth_um AS depthUm, height_um AS heightUm, swept_um AS sweptUm,
       mass_g AS massG FROM product WHERE id = ?`,
  ).get(productId)
  if (!now) throw new Error(`There is no product ${productId}.`)
  const change = prepared<[number, string], { detail: string }>(
    db,
    `SELECT detail FROM event WHERE subject = 'product' AND subject_id = ? AND at > ?
       AND what IN ('product changed', 'product changed from a list') ORDER BY id LIMIT 1`,
  ).get(productId, at)
  if (!change) return now
  const { before } = JSON.parse(change.detail) as { readonly before: ProductThen }
  const { code, finish, widthUm, depthUm, heightUm, sweptUm, massG } = before
  return { code, finish, widthUm, depthUm, heightUm, sweptUm, massG }
}

function rowsOf(db: Db, shootId: Id<'shoot'>): readonly RowThen[] {
  return prepared<[number], RowThen>(
    db,
    `SELECT frames_per_turn AS framesPerTurn, overlap_frames AS overlapFrames FROM shoot_row
     WHERE shoot_id = ? ORDER BY row`,
  ).all(shootId)
}
