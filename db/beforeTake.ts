import type { Finish } from '../main/trade/product.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { prepared } from './statement.ts'

/** A product as the hand that fetches it needs to know it. */
export interface ProductToFetch {
  readonly code: string
  readonly name: string
  readonly finish: Finish
  readonly massG: number | null
  readonly handlingNote: string | null
  readonly pictureSha256: string | null
  /** Where its sample lies, where it is here. */
  readonly place: string | null
}

/** A spin about to be turned: whose it is, and what goes on the platter. */
export interface SpinToTurn {
  readonly shootId: Id<'shoot'>
  readonly jobId: Id<'job'>
  readonly jobNumber: string
  readonly clientName: string
  readonly spin: string
  readonly note: string | null
  readonly startPose: string | null
  readonly direction: 'clockwise' | 'anticlockwise'
  readonly products: readonly ProductToFetch[]
}

/** The spin with its products; undefined where the studio does not have it. */
export function spinToTurn(db: Db, shootId: Id<'shoot'>): SpinToTurn | undefined {
  const spin = prepared<[number], Omit<SpinToTurn, 'products'>>(
    db,
    `SELECT shoot.id AS shootId, job.id AS jobId, job.number AS jobNumber, client.name AS clientName,
       shoot.name AS spin, shoot.note,
       (SELECT start_pose FROM spin_start_pose WHERE shoot_id = shoot.id) AS startPose, brief.direction
     FROM shoot JOIN job ON job.id = shoot.job_id JOIN client ON client.id = job.client_id
     JOIN brief ON brief.id = ifnull(shoot.brief_id, job.brief_id) WHERE shoot.id = ?`,
  ).get(shootId)
  return spin && { ...spin, products: productsToFetch(db, shootId) }
}

function productsToFetch(db: Db, shootId: Id<'shoot'>): readonly ProductToFetch[] {
  return prepared<[number], ProductToFetch>(
    db,
    `SELECT product.code, product.name, product.finish, product.load_g AS massG,
       product.handling_note AS handlingNote, attachment.sha256 AS pictureSha256, sample.place
     FROM shoot_product sp JOIN shoot ON shoot.id = sp.shoot_id JOIN product ON product.id = sp.product_id
     LEFT JOIN attachment ON attachment.id = product.picture_id
     LEFT JOIN sample ON sample.job_id = shoot.job_id AND sample.product_id = product.id AND sample.state = 'in'
     WHERE sp.shoot_id = ? ORDER BY sp.position`,
  ).all(shootId)
}

/** What stands at a bench, and what is dialled there: the last take's; undefined where none was turned there yet. */
export function standsAtBench(
  db: Db,
  benchId: Id<'bench'>,
): { readonly rigRevisionId: Id<'rig_revision'>; readonly settingsId: Id<'settings'> } | undefined {
  return prepared<[number], { rigRevisionId: Id<'rig_revision'>; settingsId: Id<'settings'> }>(
    db,
    `SELECT rig_revision_id AS rigRevisionId, settings_id AS settingsId FROM take
     WHERE bench_id = ? ORDER BY started_at DESC, id DESC LIMIT 1`,
  ).get(benchId)
}

/** What a take stands on. */
export function standOfTake(
  db: Db,
  takeId: Id<'take'>,
):
  | {
      readonly shootId: Id<'shoot'>
      readonly rigRevisionId: Id<'rig_revision'>
      readonly settingsId: Id<'settings'>
    }
  | undefined {
  return prepared<[number], ReturnType<typeof standOfTake>>(
    db,
    'SELECT shoot_id AS shootId, rig_revision_id AS rigRevisionId, settings_id AS settingsId FROM take WHERE id = ?',
  ).get(takeId)
}

/** What the platter of a rig carries by its maker, in g; null where nobody has written it down. */
export function platterLimit(
  db: Db,
  rigRevisionId: Id<'rig_revision'>,
): { readonly name: string; readonly limitG: number | null } | undefined {
  return prepared<[number], { name: string; limitG: number | null }>(
    db,
    `SELECT platter.name, platter.load_limit_g AS limitG
     FROM rig_revision v JOIN platter ON platter.id = v.platter_id WHERE v.id = ?`,
  ).get(rigRevisionId)
}

/** One row of a spin with the camera's place for it, as the settings say, else as the rig stands. */
export interface RowToTurn {
  readonly row: number
  readonly viewAngleMdeg: number
  readonly framesPerTurn: number
  readonly overlapFrames: number
  readonly cameraHeightUm: number | null
  readonly cameraDistanceUm: number | null
  readonly isKept: boolean
}

/**
 * The rows of a spin on a rig and settings. The settings' own row stands for the camera; for the first row, where
 * they are silent, the rig does; further rows without a height of their own have none.
 */
export function rowsToTurn(
  db: Db,
  shootId: Id<'shoot'>,
  rigRevisionId: Id<'rig_revision'>,
  settingsId: Id<'settings'>,
): readonly RowToTurn[] {
  return prepared<[number, number, number], Omit<RowToTurn, 'isKept'> & { isKept: 0 | 1 }>(
    db,
    `SELECT r.row, r.view_angle_mdeg AS viewAngleMdeg, r.frames_per_turn AS framesPerTurn,
       r.overlap_frames AS overlapFrames,
       ifnull(s.camera_height_um, CASE WHEN r.row = 1 THEN v.camera_height_um END) AS cameraHeightUm,
       ifnull(s.camera_distance_um, CASE WHEN r.row = 1 THEN v.camera_distance_um END) AS cameraDistanceUm,
       EXISTS (SELECT 1 FROM take WHERE take.shoot_id = r.shoot_id AND take.row = r.row AND take.verdict = 'keep'
         AND take.started_at > ifnull((SELECT max(asked_at) FROM reshoot WHERE reshoot.shoot_id = r.shoot_id), '')) AS isKept
     FROM shoot_row r LEFT JOIN rig_revision v ON v.id = ? LEFT JOIN settings_row s ON s.settings_id = ? AND s.row = r.row
     WHERE r.shoot_id = ? ORDER BY r.row`,
  )
    .all(rigRevisionId, settingsId, shootId)
    .map((row) => ({ ...row, isKept: row.isKept === 1 }))
}
