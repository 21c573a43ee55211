import type { SizeClass } from '../main/trade/product.ts'
import { median } from '../main/trade/quantile.ts'
import { Refusal } from '../main/trade/refusal.ts'
import { type Writing, writeEvent } from './events.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import type { Page } from './page.ts'
import { findPlatter } from './platters.ts'
import { inOneTransaction, newId, prepared } from './statement.ts'

/** One light of a rig revision, seen from the platter's axis. */
export interface RigLight {
  readonly position: number
  readonly kind: string
  readonly equipmentId: Id<'equipment'> | null
  readonly modifier: string | null
  /** Degrees × 1,000 clockwise from the camera's side, seen from above: 0 is beside the camera, 180,000 behind. */
  readonly bearingMdeg: number
  readonly elevationMdeg: number
  readonly distanceUm: number
  readonly heightUm: number
  readonly power: string | null
  readonly colourTemperatureK: number | null
}

/** What stood, as it was written down: it never changes. Rim and division are the platter's at that time. */
export interface RigRevision {
  readonly id: Id<'rig_revision'>
  readonly rigId: Id<'rig'>
  readonly revision: number
  readonly platterId: Id<'platter'>
  readonly platterName: string
  readonly rimUm10: number
  readonly divisionUm10: number
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
  readonly cameraDistanceUm: number
  readonly cameraHeightUm: number
  readonly cameraTiltMdeg: number
  readonly flags: string | null
  readonly note: string | null
  readonly why: string
  readonly person: string
  readonly createdAt: string
  readonly lights: readonly RigLight[]
}

export type RigRevisionDraft = Omit<
  RigRevision,
  'id' | 'rigId' | 'revision' | 'platterName' | 'rimUm10' | 'divisionUm10' | 'person' | 'createdAt' | 'lights'
> & { readonly lights: readonly Omit<RigLight, 'position'>[] }

export interface Rig {
  readonly id: Id<'rig'>
  readonly name: string
  readonly sizeClass: SizeClass
  readonly note: string | null
  readonly archivedAt: string | null
  readonly createdAt: string
}

export type RigDraft = Pick<Rig, 'name' | 'sizeClass' | 'note'>

/** What a client's yes says for a rig: only answered spins count, not our own picks. */
export interface RigEvidence {
  /** Spins with the client's yes on a deliverable picked from a take on it. */
  readonly spinsApproved: number
  /** Median of the median steps of the approved takes, in ms; of the last 200. Null before the first. */
  readonly medianStepMs: number | null
  /** When its last take was started. */
  readonly lastUsedAt: string | null
}

export type RigLine = Rig & RigEvidence & { readonly current: RigRevision }

const rigColumns = `rig.id, rig.name, rig.size_class AS sizeClass, rig.note, rig.archived_at AS archivedAt,
  rig.created_at AS createdAt`

const revisionColumns = `v.id, v.rig_id AS rigId, v.revision, v.platter_id AS platterId, platter.name AS platterName,
  v.rim_um10 AS rimUm10, v.division_um10 AS divisionUm10, v.backdrop, v.backdrop_equipment_id AS backdropEquipmentId,
  v.camera, v.camera_equipment_id AS cameraEquipmentId, v.sensor_width_um AS sensorWidthUm,
  v.sensor_height_um AS sensorHeightUm, v.sensor_width_px AS sensorWidthPx, v.sensor_height_px AS sensorHeightPx,
  v.lens, v.lens_equipment_id AS lensEquipmentId, v.focal_um AS focalUm, v.camera_distance_um AS cameraDistanceUm,
  v.camera_height_um AS cameraHeightUm, v.camera_tilt_mdeg AS cameraTiltMdeg, v.flags, v.note, v.why,
  person.name AS person, v.created_at AS createdAt`
const revisionFrom = `FROM rig_revision v JOIN platter ON platter.id = v.platter_id JOIN person ON person.id = v.person_id`

export function findRig(db: Db, rigId: Id<'rig'>): Rig | undefined {
  return prepared<[number], Rig>(db, `SELECT ${rigColumns} FROM rig WHERE id = ?`).get(rigId)
}

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

const rigOrders = {
  name: 'rig.name COLLATE NOCASE',
  sizeClass: `CASE rig.size_class WHEN 'small' THEN 1 WHEN 'medium' THEN 2 ELSE 3 END, rig.name COLLATE NOCASE`,
  newest: 'rig.created_at DESC, rig.id DESC',
} as const
export type RigOrder = keyof typeof rigOrders

/** A page of the rigs in use (or archived) with their newest revision and what was approved on each. */
export function listRigs(
  db: Db,
  order: RigOrder,
  archived: boolean,
  page: Page,
): { readonly lines: readonly RigLine[]; readonly total: number } {
  const rigs = prepared<[number, number, number], Rig>(
    db,
    `SELECT ${rigColumns} FROM rig WHERE (archived_at IS NOT NULL) = ? ORDER BY ${rigOrders[order]} LIMIT ? OFFSET ?`,
  ).all(archived ? 1 : 0, page.limit, page.offset)
  const total = prepared<[number], { n: number }>(
    db,
    'SELECT count(*) AS n FROM rig WHERE (archived_at IS NOT NULL) = ?',
  ).get(archived ? 1 : 0)
  return {
    lines: rigs.map((rig) => ({ ...rig, ...evidenceOf(db, rig.id), current: currentRevision(db, rig.id) })),
    total: total?.n ?? 0,
  }
}

/** Every rig in use with its newest revision's id, for a choice. */
export function rigChoices(db: Db): readonly {
  readonly rigId: Id<'rig'>
  readonly name: string
  readonly sizeClass: SizeClass
  readonly rigRevisionId: Id<'rig_revision'>
  readonly revision: number
}[] {
  return prepared<
    [],
    {
      rigId: Id<'rig'>
      name: string
      sizeClass: SizeClass
      rigRevisionId: Id<'rig_revision'>
      revision: number
    }
  >(
    db,
    `SELECT rig.id AS rigId, rig.name, rig.size_class AS sizeClass, v.id AS rigRevisionId, v.revision
     FROM rig JOIN rig_revision v ON v.rig_id = rig.id
       AND v.revision = (SELECT max(revision) FROM rig_revision WHERE rig_id = rig.id)
     WHERE rig.archived_at IS NULL ORDER BY rig.name COLLATE NOCASE`,
  ).all()
}

/** Takes of a revision whose deliverable has the client's standing yes. */
/** How many newest approved spins a rig's usual step is taken from. */
const stepsLookedAt = 50

function evidenceOf(db: Db, rigId: Id<'rig'>): RigEvidence {
  const spins = prepared<[number], { n: number }>(
    db,
    'SELECT count(*) AS n FROM rig_approval WHERE rig_id = ?',
  ).get(rigId)
  const steps = prepared<[number, number], { stepMs: number }>(
    db,
    `SELECT take.median_step_ms AS stepMs FROM rig_approval r JOIN take ON take.id = r.take_id
     WHERE r.rig_id = ? AND take.median_step_ms IS NOT NULL ORDER BY r.answered_at DESC LIMIT ?`,
  ).all(rigId, stepsLookedAt)
  const last = prepared<[number], { at: string | null }>(
    db,
    `SELECT max((SELECT max(started_at) FROM take WHERE rig_revision_id = v.id)) AS at
     FROM rig_revision v WHERE v.rig_id = ?`,
  ).get(rigId)
  return {
    spinsApproved: spins?.n ?? 0,
    medianStepMs: steps.length > 0 ? Math.round(median(steps.map(({ stepMs }) => stepMs))) : null,
    lastUsedAt: last?.at ?? null,
  }
}

/** One spin that a client said yes to on this rig. */
export interface ApprovedSpin {
  readonly shootId: Id<'shoot'>
  readonly jobId: Id<'job'>
  readonly jobNumber: string
  readonly client: string
  readonly spin: string
  readonly revision: number
  readonly settingsId: Id<'settings'>
  readonly medianStepMs: number | null
  readonly answeredAt: string
}

/** What was approved on a rig, the newest yes first, a page at a time. */
export function approvedOnRig(db: Db, rigId: Id<'rig'>, page: Page): readonly ApprovedSpin[] {
  return prepared<[number, number, number], ApprovedSpin>(
    db,
    `SELECT r.shoot_id AS shootId, job.id AS jobId, job.number AS jobNumber, client.name AS client,
       shoot.name AS spin, v.revision, take.settings_id AS settingsId, take.median_step_ms AS medianStepMs,
       r.answered_at AS answeredAt
     FROM rig_approval r CROSS JOIN take ON take.id = r.take_id JOIN rig_revision v ON v.id = take.rig_revision_id
     JOIN shoot ON shoot.id = r.shoot_id JOIN job ON job.id = shoot.job_id JOIN client ON client.id = job.client_id
     WHERE r.rig_id = ? ORDER BY r.answered_at DESC, r.shoot_id DESC LIMIT ? OFFSET ?`,
  ).all(rigId, page.limit, page.offset)
}

/** Adds a rig with its first revision: both or neither. */
export function addRig(
  writing: Writing,
  rig: RigDraft,
  revision: RigRevisionDraft,
): { readonly rigId: Id<'rig'>; readonly rigRevisionId: Id<'rig_revision'> } {
  const { db } = writing
  return inOneTransaction(db, () => {
    const rigId = newId<Id<'rig'>>(
      prepared<unknown[]>(db, 'INSERT INTO rig (name, size_class, note, created_at) VALUES (?, ?, ?, ?)').run(
        rig.name,
        rig.sizeClass,
        rig.note,
        writing.now,
      ),
    )
    const rigRevisionId = insertRevision(writing, rigId, 1, revision)
    writeEvent(writing, { subject: 'rig', subjectId: rigId, what: 'rig added', detail: { name: rig.name } })
    return { rigId, rigRevisionId }
  })
}

/** Writes down what stands now as the rig's next revision; the earlier ones stay as they were. */
export function reviseRig(
  writing: Writing,
  rigId: Id<'rig'>,
  draft: RigRevisionDraft,
): { readonly rigRevisionId: Id<'rig_revision'>; readonly revision: number } {
  const { db } = writing
  return inOneTransaction(db, () => {
    if (!findRig(db, rigId)) throw new Refusal('no-rig', 'This rig is not in the studio.')
    const revision = currentRevision(db, rigId).revision + 1
    const rigRevisionId = insertRevision(writing, rigId, revision, draft)
    writeEvent(writing, {
      subject: 'rig',
      subjectId: rigId,
      what: 'rig revised',
      detail: { revision, why: draft.why },
    })
    return { rigRevisionId, revision }
  })
}

/** Changes what a rig is called; what stands is changed by a revision. */
export function changeRig(writing: Writing, rigId: Id<'rig'>, draft: RigDraft): void {
  inOneTransaction(writing.db, () => {
    const before = findRig(writing.db, rigId)
    prepared<unknown[]>(writing.db, 'UPDATE rig SET name = ?, size_class = ?, note = ? WHERE id = ?').run(
      draft.name,
      draft.sizeClass,
      draft.note,
      rigId,
    )
    writeEvent(writing, {
      subject: 'rig',
      subjectId: rigId,
      what: 'rig changed',
      detail: { before, after: draft },
    })
  })
}

/** Takes a rig out of the choice or brings it back; takes and plans keep pointing at its revisions. */
export function archiveRig(writing: Writing, rigId: Id<'rig'>, archived: boolean): void {
  inOneTransaction(writing.db, () => {
    prepared<[string | null, number]>(writing.db, 'UPDATE rig SET archived_at = ? WHERE id = ?').run(
      archived ? writing.now : null,
      rigId,
    )
    writeEvent(writing, {
      subject: 'rig',
      subjectId: rigId,
      what: archived ? 'rig archived' : 'rig brought back',
    })
  })
}

function insertRevision(
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
  const revisionId = newId<Id<'rig_revision'>>(
    prepared<unknown[]>(
      db,
      `INSERT INTO rig_revision (rig_id, revision, platter_id, rim_um10, division_um10, backdrop, backdrop_equipment_id,
         camera, camera_equipment_id, sensor_width_um, sensor_height_um, sensor_width_px, sensor_height_px, lens,
         lens_equipment_id, focal_um, camera_distance_um, camera_height_um, camera_tilt_mdeg, flags, note, why,
         person_id, created_at)
       VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
    ).run(
      rigId,
      revision,
      platter.id,
      platter.rimUm10,
      platter.divisionUm10,
      draft.backdrop,
      draft.backdropEquipmentId,
      draft.camera,
      draft.cameraEquipmentId,
      draft.sensorWidthUm,
      draft.sensorHeightUm,
      draft.sensorWidthPx,
      draft.sensorHeightPx,
      draft.lens,
      draft.lensEquipmentId,
      draft.focalUm,
      draft.cameraDistanceUm,
      draft.cameraHeightUm,
      draft.cameraTiltMdeg,
      draft.flags,
      draft.note,
      draft.why,
      who.personId,
      now,
    ),
  )
  draft.lights.forEach((light, index) => {
    prepared<unknown[]>(
      db,
      `INSERT INTO rig_light (rig_revision_id, position, kind, equipment_id, modifier, bearing_mdeg, elevation_mdeg,
         distance_um, height_um, power, colour_temperature_k) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
    ).run(
      revisionId,
      index + 1,
      light.kind,
      light.equipmentId,
      light.modifier,
      light.bearingMdeg,
      light.elevationMdeg,
      light.distanceUm,
      light.heightUm,
      light.power,
      light.colourTemperatureK,
    )
  })
  return revisionId
}
