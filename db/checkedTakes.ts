import { cameraStandOf } from '../main/trade/check/centre/scale.ts'
import type { CheckedTake } from '../main/trade/check/checkedTake.ts'
import type { Lean } from '../main/trade/check/outline/horizon.ts'
import type { TakeTimes } from '../main/trade/check/turnFrames.ts'
import { plainFrames } from '../main/trade/check/turnFrames.ts'
import type { TakeFrame } from '../main/trade/pack.ts'
import { centreOfSpin } from './centreChoices.ts'
import { checkLimits } from './checkLimits.ts'
import { edgeBand } from './edgeBands.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { pointerSide } from './pointerSides.ts'
import { prepared } from './statement.ts'
import { foldersOfTake } from './takeFolders.ts'
import { framesOf } from './takeFrames.ts'

/** A take as it stands for its check. */
export interface TakeToCheck {
  readonly take: CheckedTake
  readonly frames: readonly TakeFrame[]
  readonly times: TakeTimes
  /** Where its files lie, as the take itself knows, in the order it went on; none where it does not. */
  readonly folders: readonly string[]
  readonly isKept: boolean
  /** Frames of its turn and the overlap. */
  readonly toShoot: number
}

interface Row {
  readonly shootId: Id<'shoot'>
  readonly rigRevisionId: Id<'rig_revision'>
  readonly row: number
  readonly framesPerTurn: number
  readonly overlapFrames: number
  readonly startedAt: string
  readonly endedAt: string | null
  readonly framesShot: number | null
  readonly verdict: 'keep' | 'reject' | null
  readonly direction: 'clockwise' | 'anticlockwise'
  readonly focalUm: number
  readonly sensorWidthUm: number | null
  readonly sensorHeightUm: number | null
  readonly distanceUm: number
  readonly tiltMdeg: number
}

/** What the check needs of a take; undefined where the studio does not have it. Lengths in mm, angles in degrees. */
export function takeToCheck(db: Db, takeId: Id<'take'>): TakeToCheck | undefined {
  const row = prepared<[number], Row>(
    db,
    `SELECT take.shoot_id AS shootId, take.rig_revision_id AS rigRevisionId, take.row, take.frames_per_turn AS framesPerTurn, take.overlap_frames AS overlapFrames,
       take.started_at AS startedAt, take.ended_at AS endedAt, take.frames_shot AS framesShot,
       take.verdict, brief.direction, v.focal_um AS focalUm, v.sensor_width_um AS sensorWidthUm,
       v.sensor_height_um AS sensorHeightUm, ifnull(s.camera_distance_um, v.camera_distance_um) AS distanceUm,
       ifnull(s.view_angle_mdeg, v.camera_tilt_mdeg) AS tiltMdeg
     FROM take JOIN shoot ON shoot.id = take.shoot_id JOIN job ON job.id = shoot.job_id
     JOIN brief ON brief.id = ifnull(shoot.brief_id, job.brief_id) JOIN rig_revision v ON v.id = take.rig_revision_id
     LEFT JOIN settings_row s ON s.settings_id = take.settings_id AND s.row = take.row
     WHERE take.id = ?`,
  ).get(takeId)
  if (!row) return undefined
  const shot = framesOf(db, takeId)
  const { framesPerTurn, overlapFrames } = row
  return {
    take: {
      framesPerTurn,
      overlapFrames,
      hasEnded: row.endedAt !== null,
      turns: row.direction === 'clockwise' ? 'clockwise' : 'counter-clockwise',
      pointerSide: pointerSide(db, row),
      centreChoice: centreOfSpin(db, row.shootId).choice,
      camera: cameraStandOf(row),
      limits: checkLimits(db),
      edgeBand: edgeBand(db, row.rigRevisionId, row.row),
      otherRows: otherRows(db, takeId),
    },
    // Of a take counted afterwards by hand nobody knows more than how many there are.
    frames: shot.length === 0 ? plainFrames(row.framesShot ?? 0) : shot,
    times: {
      startedMs: Date.parse(row.startedAt),
      endedMs: row.endedAt === null ? null : Date.parse(row.endedAt),
    },
    folders: foldersOfTake(db, takeId),
    isKept: row.verdict === 'keep',
    toShoot: framesPerTurn + overlapFrames,
  }
}

/** The lean of the axis in the other rows of a take's spin, as their newest checked takes have it. */
function otherRows(db: Db, takeId: Id<'take'>): CheckedTake['otherRows'] {
  return prepared<[number], { row: number; lean: string | null }>(
    db,
    `SELECT other.row, json_extract(c.report, '$.horizon.lean') AS lean, max(other.id)
     FROM take JOIN take other ON other.shoot_id = take.shoot_id AND other.row <> take.row
     JOIN take_check c ON c.take_id = other.id WHERE take.id = ? GROUP BY other.row ORDER BY other.row`,
  )
    .all(takeId)
    .flatMap(({ row, lean }) => (lean === null ? [] : [{ row, lean: JSON.parse(lean) as Lean }]))
}
