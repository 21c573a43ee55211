import { Refusal } from '../main/trade/refusal.ts'
import type { Writing } from './events.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { findPlatter } from './platters.ts'
import { newId, prepared } from './statement.ts'

/** One light of a rig revision, seen from the platter's axis. */
export interface RigLight {
  readonly position: number
  readonly kind: string
  readonly equipmentId: Id<'equipment'> | null
  readonly modifier: string | null
  /** Degrees × 1,000 clockwise from the camera's side, seen from above: 0 is beside the camera, 180,000 behind. */
  readonly bearingMdeg: number
  /** How steeply its light falls: more than 0 comes down from above (`main/trade/looking.ts`). */
  readonly elevationMdeg: number
  /** Level, from the platter's axis. */
  readonly distanceUm: number
  /** Over the platter's surface. */
  readonly heightUm: number
  readonly power: string | null
  readonly colourTemperatureK: number | null
}

/**
 * What stood, as it was written down: it never changes. Rim, division, surface and load limit are the platter's at
 * that time; what a platter may carry today is asked of the platter itself. Distances are level, from the platter's axis; heights
 * over its surface.
 */
export interface RigRevision {
  readonly id: Id<'rig_revision'>
  readonly rigId: Id<'rig'>
  readonly revision: number
  readonly platterId: Id<'platter'>
  readonly platterName: string
  readonly rimUm10: number
  readonly divisionUm10: number
  readonly surface: string | null
  readonly loadLimitG: number | null
  readonly backdrop: string
  readonly backdropEquipmentId: Id<'equipment'> | null
  readonly camera: string
  readonly cameraEquipmentId: Id<'equipment'> | null
  readonly sensorWidthUm: number | null
  readonly sensorHeightUm: number | null
  readonly sensorWidthPx: number | null
  readonly sensorHeightPx: number | null
  readonly lens: string
  readonly lensEquipmentId: Id<'equipment'> | null
  readonly focalUm: number
  /** The lens's own widest and smallest f-number, times 100; null where not written down. */
  readonly widestCenti: number | null
  readonly smallestCenti: number | null
  readonly cameraDistanceUm: number
  readonly cameraHeightUm: number
  /** More than 0 looks down (`main/trade/looking.ts`). */
  readonly cameraTiltMdeg: number
  /** The product it was built round: its swept width and its height. */
  readonly productSweptUm: number | null
  readonly productHeightUm: number | null
  readonly flags: string | null
  readonly note: string | null
  readonly why: string
  readonly person: string
  readonly createdAt: string
  readonly lights: readonly RigLight[]
}

export type RigRevisionDraft = Omit<
  RigRevision,
  | 'id'
  | 'rigId'
  | 'revision'
  | 'platterName'
  | 'rimUm10'
  | 'divisionUm10'
  | 'surface'
  | 'loadLimitG'
  | 'person'
  | 'createdAt'
  | 'lights'
> & { readonly lights: readonly Omit<RigLight, 'position'>[] }

const revisionColumns = `v.id, v.rig_id AS rigId, v.revision, v.platter_id AS platterId, platter.name AS platterName,
  v.rim_um10 AS rimUm10, v.division_um10 AS divisionUm10, v.surface, v.load_limit_g AS loadLimitG, v.backdrop, v.backdrop_equipment_id AS backdropEquipmentId,
  v.camera, v.camera_equipment_id AS cameraEquipmentId, v.sensor_width_um AS sensorWidthUm,
  v.sensor_height_um AS sensorHeightUm, v.sensor_width_px AS sensorWidthPx, v.sensor_height_px AS sensorHeightPx,
  v.lens, v.lens_equipment_id AS lensEquipmentId, v.focal_um AS focalUm, v.widest_centi AS widestCenti, v.smallest_centi AS smallestCenti, v.camera_distance_um AS cameraDistanceUm,
  v.camera_height_um AS cameraHeightUm, v.camera_tilt_mdeg AS cameraTiltMdeg, v.product_swept_um AS productSweptUm,
  v.product_height_um AS productHeightUm, v.flags, v.note, v.why,
  person.name AS person, v.created_at AS createdAt`
const revisionFrom = `FROM rig_revision v JOIN platter ON platter.id = v.platter_id JOIN person ON person.id = v.person_id`

/** One revision of any rig with its lights. */
export function findRevision(db: Db, revisionId: Id<'rig_revision'>): RigRevision | undefined {
  const row = prepared<[number], Omit<RigRevision, 'lights'>>(
    db,
    `SELECT ${revisionColumns} ${revisionFrom} WHERE v.id = ?`,
  ).get(revisionId)
  return row && { ...row, lights: lightsOf(db, revisionId) }
}

/** Every revision of a rig, the newest first. */
export function revisionsOf(db: Db, rigId: Id<'rig'>): readonly RigRevision[] {
  return prepared<[number], Omit<RigRevision, 'lights'>>(
    db,
    `SELECT ${revisionColumns} ${revisionFrom} WHERE v.rig_id = ? ORDER BY v.revision DESC`,
  )
    .all(rigId)
    .map((row) => ({ ...row, lights: lightsOf(db, row.id) }))
}

/** The revision that stands for a rig now: its newest. */
export function currentRevision(db: Db, rigId: Id<'rig'>): RigRevision {
  const row = prepared<[number], Omit<RigRevision, 'lights'>>(
    db,
    `SELECT ${revisionColumns} ${revisionFrom} WHERE v.rig_id = ? ORDER BY v.revision DESC LIMIT 1`,
  ).get(rigId)
  if (!row) throw new Error(`Rig ${rigId} has no revision.`)
  return { ...row, lights: lightsOf(db, row.id) }
}

function lightsOf(db: Db, revisionId: Id<'rig_revision'>): readonly RigLight[] {
  return prepared<[number], RigLight>(
    db,
    `SELECT position, kind, equipment_id AS equipmentId, modifier, bearing_mdeg AS bearingMdeg,
       elevation_mdeg AS elevationMdeg, distance_um AS distanceUm, height_um AS heightUm, power,
       colour_temperature_k AS colourTemperatureK
     FROM rig_light WHERE rig_revision_id = ? ORDER BY position`,
  ).all(revisionId)
}

/** Whether two revisions say the same of what stands, whoever wrote them down and why. */
export function standsAlike(a: RigRevision, b: RigRevision): boolean {
  const standing = ({
    id: _,
    revision: __,
    why: ___,
    person: ____,
    createdAt: _____,
    ...rest
  }: RigRevision) => rest
  return JSON.stringify(standing(a)) === JSON.stringify(standing(b))
}

/** Writes a revision with its lights; what its platter is now is copied into it. Called inside the transaction of its rig. */
export function insertRevision(
  { db, now, who }: Writing,
  rigId: Id<'rig'>,
  revision: number,
  draft: RigRevisionDraft,
): Id<'rig_revision'> {
  const platter = findPlatter(db, draft.platterId)
  if (!platter) {
    throw new Refusal('no-platter', 'This platter is not in the studio. Choose another.', {
      field: 'revision.platterId',
    })
  }
  const revisionId = insertRow<Id<'rig_revision'>>(db, 'rig_revision', {
    rig_id: rigId,
    revision,
    platter_id: platter.id,
    rim_um10: platter.rimUm10,
    division_um10: platter.divisionUm10,
    surface: platter.surface,
    load_limit_g: platter.loadLimitG,
    backdrop: draft.backdrop,
    backdrop_equipment_id: draft.backdropEquipmentId,
    camera: draft.camera,
    camera_equipment_id: draft.cameraEquipmentId,
    sensor_width_um: draft.sensorWidthUm,
    sensor_height_um: draft.sensorHeightUm,
    sensor_width_px: draft.sensorWidthPx,
    sensor_height_px: draft.sensorHeightPx,
    lens: draft.lens,
    lens_equipment_id: draft.lensEquipmentId,
    focal_um: draft.focalUm,
    widest_centi: draft.widestCenti,
    smallest_centi: draft.smallestCenti,
    camera_distance_um: draft.cameraDistanceUm,
    camera_height_um: draft.cameraHeightUm,
    camera_tilt_mdeg: draft.cameraTiltMdeg,
    product_swept_um: draft.productSweptUm,
    product_height_um: draft.productHeightUm,
    flags: draft.flags,
    note: draft.note,
    why: draft.why,
    person_id: who.personId,
    created_at: now,
  })
  draft.lights.forEach((light, index) => {
    insertRow(db, 'rig_light', {
      rig_revision_id: revisionId,
      position: index + 1,
      kind: light.kind,
      equipment_id: light.equipmentId,
      modifier: light.modifier,
      bearing_mdeg: light.bearingMdeg,
      elevation_mdeg: light.elevationMdeg,
      distance_um: light.distanceUm,
      height_um: light.heightUm,
      power: light.power,
      colour_temperature_k: light.colourTemperatureK,
    })
  })
  return revisionId
}

/** A row of a table whose columns are all named here; the names are this file's own, never a person's. */
function insertRow<T extends number>(db: Db, table: string, row: Readonly<Record<string, unknown>>): T {
  const columns = Object.keys(row)
  return newId<T>(
    prepared<unknown[]>(
      db,
      `INSERT INTO ${table} (${columns.join(', ')}) VALUES (${columns.map(() => '?').join(', ')})`,
    ).run(...Object.values(row)),
  )
}
