import { type Writing, writeEvent } from './events.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { inOneTransaction, newId, prepared } from './statement.ts'

/** One turn as it is dialled: its viewing angle, its frames, and where the camera stands for it if not as the rig says. */
export interface SettingsRow {
  readonly viewAngleMdeg: number
  readonly framesPerTurn: number
  readonly overlapFrames: number
  readonly cameraDistanceUm: number | null
  readonly cameraHeightUm: number | null
}

/** How the lens keeps its aperture from frame to frame; one that closes it for each frame varies a little. */
export const apertureHolds = ['wide open', 'ring', 'held', 'each frame'] as const
export type ApertureHold = (typeof apertureHolds)[number]

/** What is dialled, kept with every take. It never changes: another value makes new settings. */
export interface Settings {
  readonly id: Id<'settings'>
  /** The rig they were written beside; null for those of a planned spin. */
  readonly rigId: Id<'rig'> | null
  /** Focus distance in whole micrometres. */
  readonly focusUm: number | null
  /** The f-number times 100: 1,100 is f/11. */
  readonly apertureCenti: number | null
  readonly apertureHeld: ApertureHold
  /** Shutter time in seconds as a fraction: 1/125. */
  readonly shutterNum: number | null
  readonly shutterDen: number | null
  readonly iso: number | null
  readonly whiteBalanceK: number | null
  readonly cropXPpm: number
  readonly cropYPpm: number
  readonly cropWidthPpm: number
  readonly cropHeightPpm: number
  readonly development: string | null
  readonly note: string | null
  readonly createdAt: string
  readonly rows: readonly SettingsRow[]
}

export type SettingsDraft = Omit<Settings, 'id' | 'createdAt'>

const settingsColumns = `id, rig_id AS rigId, focus_um AS focusUm, aperture_centi AS apertureCenti, aperture_held AS apertureHeld,
  shutter_num AS shutterNum, shutter_den AS shutterDen, iso, white_balance_k AS whiteBalanceK, crop_x_ppm AS cropXPpm,
  crop_y_ppm AS cropYPpm, crop_width_ppm AS cropWidthPpm, crop_height_ppm AS cropHeightPpm, development, note,
  created_at AS createdAt`

export function findSettings(db: Db, settingsId: Id<'settings'>): Settings | undefined {
  const row = prepared<[number], Omit<Settings, 'rows'>>(
    db,
    `SELECT ${settingsColumns} FROM settings WHERE id = ?`,
  ).get(settingsId)
  return row && { ...row, rows: settingsRows(db, settingsId) }
}

export function settingsRows(db: Db, settingsId: Id<'settings'>): readonly SettingsRow[] {
  return prepared<[number], SettingsRow>(
    db,
    `SELECT view_angle_mdeg AS viewAngleMdeg, frames_per_turn AS framesPerTurn, overlap_frames AS overlapFrames,
       camera_distance_um AS cameraDistanceUm, camera_height_um AS cameraHeightUm
     FROM settings_row WHERE settings_id = ? ORDER BY row`,
  ).all(settingsId)
}

/**
 * Settings that were written beside a rig, or that spins were planned or turned with on any revision of it, the newest
 * first, at most 50.
 */
export function settingsOnRig(db: Db, rigId: Id<'rig'>): readonly Settings[] {
  // From one value to the next by an index, for a rig may have been turned a hundred thousand times.
  const ids = prepared<[number, number, number], { id: Id<'settings'> }>(
    db,
    `WITH RECURSIVE turned (revision, id) AS (
       SELECT v.id, (SELECT max(settings_id) FROM take WHERE rig_revision_id = v.id) FROM rig_revision v WHERE v.rig_id = ?
       UNION ALL SELECT revision, (SELECT max(settings_id) FROM take WHERE rig_revision_id = revision AND settings_id < turned.id)
         FROM turned WHERE id IS NOT NULL),
     planned (revision, id) AS (
       SELECT v.id, (SELECT max(settings_id) FROM shoot WHERE rig_revision_id = v.id) FROM rig_revision v WHERE v.rig_id = ?
       UNION ALL SELECT revision, (SELECT max(settings_id) FROM shoot WHERE rig_revision_id = revision AND settings_id < planned.id)
         FROM planned WHERE id IS NOT NULL)
     SELECT id FROM turned WHERE id IS NOT NULL UNION SELECT id FROM planned WHERE id IS NOT NULL
     UNION SELECT id FROM settings WHERE rig_id = ? ORDER BY 1 DESC LIMIT 50`,
  ).all(rigId, rigId, rigId)
  return ids.flatMap(({ id }) => findSettings(db, id) ?? [])
}

/** Writes settings with their rows: all of it or nothing. They are never changed afterwards. */
export function addSettings(writing: Writing, draft: SettingsDraft): Id<'settings'> {
  const { db } = writing
  return inOneTransaction(db, () => {
    const settingsId = newId<Id<'settings'>>(
      prepared<unknown[]>(
        db,
        `INSERT INTO settings (focus_um, aperture_centi, aperture_held, shutter_num, shutter_den, iso, white_balance_k,
           crop_x_ppm, crop_y_ppm, crop_width_ppm, crop_height_ppm, development, note, rig_id, created_at)
         VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
      ).run(
        draft.focusUm,
        draft.apertureCenti,
        draft.apertureHeld,
        draft.shutterNum,
        draft.shutterDen,
        draft.iso,
        draft.whiteBalanceK,
        draft.cropXPpm,
        draft.cropYPpm,
        draft.cropWidthPpm,
        draft.cropHeightPpm,
        draft.development,
        draft.note,
        draft.rigId,
        writing.now,
      ),
    )
    draft.rows.forEach((row, index) => {
      prepared<unknown[]>(
        db,
        `INSERT INTO settings_row (settings_id, row, view_angle_mdeg, frames_per_turn, overlap_frames,
           camera_distance_um, camera_height_um) VALUES (?, ?, ?, ?, ?, ?, ?)`,
      ).run(
        settingsId,
        index + 1,
        row.viewAngleMdeg,
        row.framesPerTurn,
        row.overlapFrames,
        row.cameraDistanceUm,
        row.cameraHeightUm,
      )
    })
    writeEvent(writing, { subject: 'settings', subjectId: settingsId, what: 'settings written' })
    return settingsId
  })
}
