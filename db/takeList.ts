import type { TakeFrame } from '../main/trade/pack.ts'
import { type FaultKind, missingMarks, type Pause } from '../main/trade/takes.ts'
import { grouped } from './grouped.ts'
import type { Id } from './ids.ts'
import { learnedPace } from './learnedPace.ts'
import type { Db } from './open.ts'
import { prepared } from './statement.ts'
import { actsOf } from './takeAnswers.ts'
import { framesOf, pausesOf } from './takeFrames.ts'
import { type Hold, holdOf } from './takeHolds.ts'
import { folderInUse } from './takeWatch.ts'

/** A take as lists show it. Frames count from 1; times in UTC. */
export interface Take {
  readonly id: Id<'take'>
  readonly shootId: Id<'shoot'>
  readonly row: number
  readonly number: number
  readonly rigRevisionId: Id<'rig_revision'>
  readonly rigName: string
  readonly revision: number
  readonly settingsId: Id<'settings'>
  readonly benchId: Id<'bench'>
  readonly benchName: string
  readonly personName: string
  readonly countedBy: 'key' | 'folder' | 'beat' | 'files'
  /** The folder whose files counted it, or were counted. */
  readonly folder: string | null
  readonly framesPerTurn: number
  readonly overlapFrames: number
  readonly startedAt: string
  readonly endedAt: string | null
  /** Every exposure, void ones too; null while the take runs. */
  readonly framesShot: number | null
  readonly medianStepMs: number | null
  readonly verdict: 'keep' | 'reject' | null
  readonly verdictReason: string | null
  readonly note: string | null
}

export interface TakeFault {
  readonly id: Id<'take_fault'>
  readonly takeId: Id<'take'>
  readonly frame: number | null
  readonly kind: FaultKind
  readonly note: string | null
}

const takeColumns = `take.id, take.shoot_id AS shootId, take.row, take.number, take.rig_revision_id AS rigRevisionId,
  rig.name AS rigName, rev.revision, take.settings_id AS settingsId, take.bench_id AS benchId,
  bench.name AS benchName, person.name AS personName, take.counted_by AS countedBy, ${folderInUse} AS folder,
  take.frames_per_turn AS framesPerTurn, take.overlap_frames AS overlapFrames, take.started_at AS startedAt,
  take.ended_at AS endedAt, take.frames_shot AS framesShot, take.median_step_ms AS medianStepMs, take.verdict,
  take.verdict_reason AS verdictReason, take.note`

const takeJoins = `JOIN rig_revision rev ON rev.id = take.rig_revision_id JOIN rig ON rig.id = rev.rig_id
  JOIN bench ON bench.id = take.bench_id JOIN person ON person.id = take.person_id`

// A CROSS JOIN keeps its order: a job's few spins first, whatever the planner knows of the tables.
const takeFrom = `FROM take ${takeJoins}`

/** A take that is running now, anywhere in the studio. */
export interface RunningTake extends Take {
  readonly jobId: Id<'job'>
  readonly jobNumber: string
  readonly spin: string
  readonly goodFrames: number
  readonly isPaused: boolean
  /** Who has it in hand and where; the person who started it, where nobody has. */
  readonly holderName: string
  readonly holderKey: string | null
  readonly place: string | null
  readonly since: string
  readonly lastFrameAt: string | null
}

/** All takes that are running, the longest first; the sign keeps SQLite from reading every take by its start. */
export function runningTakes(db: Db): readonly RunningTake[] {
  return prepared<[], Omit<RunningTake, 'isPaused'> & { isPaused: 0 | 1 }>(
    db,
    `SELECT ${takeColumns}, shoot.job_id AS jobId, job.number AS jobNumber, shoot.name AS spin,
       (SELECT count(*) FROM take_frame f WHERE f.take_id = take.id AND f.is_void = 0) AS goodFrames,
       EXISTS (SELECT 1 FROM take_pause p WHERE p.take_id = take.id AND p.resumed_at IS NULL) AS isPaused,
       ifnull(holder.name, person.name) AS holderName, hold.holder_key AS holderKey, hold.place,
       ifnull(hold.since, take.started_at) AS since,
       (SELECT at FROM take_frame f WHERE f.take_id = take.id ORDER BY frame DESC LIMIT 1) AS lastFrameAt
     FROM take INDEXED BY one_running_take_per_spin ${takeJoins}
     LEFT JOIN take_hold hold ON hold.take_id = take.id LEFT JOIN person holder ON holder.id = hold.person_id
     JOIN shoot ON shoot.id = take.shoot_id JOIN job ON job.id = shoot.job_id
     WHERE take.ended_at IS NULL ORDER BY +take.started_at`,
  )
    .all()
    .map((row) => ({ ...row, isPaused: row.isPaused === 1 }))
}

/** Everything the bench shows of one take. Lengths in tenths of a micrometre. */
export interface TakePage {
  readonly take: Take
  readonly jobId: Id<'job'>
  readonly jobNumber: string
  readonly clientName: string
  readonly spin: string
  readonly codes: readonly string[]
  readonly startPose: string | null
  readonly direction: 'clockwise' | 'anticlockwise'
  /** Frames a second of the loop that is wanted of it; null where its brief wants none. */
  readonly loopRate: { readonly numerator: number; readonly denominator: number } | null
  readonly rows: number
  readonly rimUm10: number
  readonly divisionUm10: number
  readonly frames: readonly TakeFrame[]
  readonly pauses: readonly (Pause & { readonly reason: string | null })[]
  readonly faults: readonly TakeFault[]
  /** How many acts at the bench these frames hold: a later act is not in them yet. */
  readonly acts: number
  /** Who has it in hand while it runs. */
  readonly hold: Hold | null
  /** The pace its rig has taught, to count on until the take has one of its own, in milliseconds a step. */
  readonly usualStepMs: number
}

/** One take with its frames, pauses and faults; undefined where the studio does not have it. */
export function takePage(db: Db, takeId: Id<'take'>): TakePage | undefined {
  const take = prepared<[number], Take>(db, `SELECT ${takeColumns} ${takeFrom} WHERE take.id = ?`).get(takeId)
  if (!take) return undefined
  const found = prepared<
    [number],
    Omit<
      TakePage,
      'take' | 'codes' | 'loopRate' | 'frames' | 'pauses' | 'faults' | 'acts' | 'hold' | 'usualStepMs'
    > & {
      codes: string
      loopRate: string | null
      rigId: number
    }
  >(
    db,
    `SELECT job.id AS jobId, job.number AS jobNumber, client.name AS clientName, shoot.name AS spin,
       (SELECT json_group_array(product.code ORDER BY sp.position) FROM shoot_product sp
         JOIN product ON product.id = sp.product_id WHERE sp.shoot_id = shoot.id) AS codes,
       (SELECT start_pose FROM spin_start_pose WHERE shoot_id = shoot.id) AS startPose,
       brief.direction,
       (SELECT json_object('numerator', d.fps_num, 'denominator', d.fps_den) FROM deliverable d
         WHERE d.brief_id = brief.id AND d.kind = 'loop' ORDER BY d.position LIMIT 1) AS loopRate,
       (SELECT count(*) FROM shoot_row r WHERE r.shoot_id = shoot.id) AS rows,
       rev.rim_um10 AS rimUm10, rev.division_um10 AS divisionUm10, rev.rig_id AS rigId
     FROM take JOIN shoot ON shoot.id = take.shoot_id JOIN job ON job.id = shoot.job_id
     JOIN client ON client.id = job.client_id JOIN brief ON brief.id = ifnull(shoot.brief_id, job.brief_id)
     JOIN rig_revision rev ON rev.id = take.rig_revision_id WHERE take.id = ?`,
  ).get(takeId)
  if (!found) throw new Error(`Take ${takeId} has lost its spin.`)
  const { rigId, ...rest } = found
  const { pace, stepFactors } = learnedPace(db)
  return {
    ...rest,
    usualStepMs: Math.round(pace.stepMs * (stepFactors.get(rigId) ?? 1)),
    take,
    codes: JSON.parse(rest.codes) as string[],
    loopRate: rest.loopRate === null ? null : (JSON.parse(rest.loopRate) as TakePage['loopRate']),
    frames: framesOf(db, takeId),
    acts: actsOf(db, takeId),
    hold: holdOf(db, takeId) ?? null,
    pauses: pausesOf(db, takeId),
    faults: faultsOf(db, 'FROM take_fault f WHERE f.take_id = ?', takeId),
  }
}

/** A take in its job, with what is wrong with it. */
export interface JudgedTake extends Take {
  /** Each with the mark its frame was shot at, from 0: void frames push the numbers on, not the marks. */
  readonly faults: readonly (TakeFault & { readonly mark: number | null })[]
  readonly goodFrames: number
  readonly voidFrames: number
  /** Frames of the full turn that were never shot, or are void. */
  readonly missingFrames: number
  /** False once a reshoot has been asked for since: it can no longer be picked. */
  readonly counts: boolean
  /** Its small picture of frame 1. */
  readonly pictureSha256: string | null
}

/** One spin of a job with its rows and takes, the newest take first. */
export interface SpinTakes {
  readonly shootId: Id<'shoot'>
  readonly position: number
  readonly name: string
  readonly isFirst: boolean
  readonly rows: readonly {
    readonly row: number
    readonly framesPerTurn: number
    readonly overlapFrames: number
  }[]
  readonly takes: readonly JudgedTake[]
}

/** All spins of a job that were not cancelled, with their takes. */
export function takesOfJob(db: Db, jobId: Id<'job'>): readonly SpinTakes[] {
  const takes = prepared<[number], Take & { counts: 0 | 1; pictureSha256: string | null }>(
    db,
    `SELECT ${takeColumns}, (SELECT a.sha256 FROM take_picture tp JOIN attachment a ON a.id = tp.attachment_id
         WHERE tp.take_id = take.id) AS pictureSha256,
       take.started_at > ifnull((SELECT max(asked_at) FROM reshoot
       WHERE reshoot.shoot_id = take.shoot_id), '') AS counts
     FROM shoot CROSS JOIN take ON take.shoot_id = shoot.id ${takeJoins}
     WHERE shoot.job_id = ? ORDER BY take.number DESC`,
  ).all(jobId)
  const faults = faultsOf(
    db,
    `FROM shoot CROSS JOIN take ON take.shoot_id = shoot.id CROSS JOIN take_fault f ON f.take_id = take.id
     WHERE shoot.job_id = ?`,
    jobId,
  )
  const rows = prepared<
    [number],
    { shootId: number; row: number; framesPerTurn: number; overlapFrames: number }
  >(
    db,
    `SELECT r.shoot_id AS shootId, r.row, r.frames_per_turn AS framesPerTurn, r.overlap_frames AS overlapFrames
     FROM shoot CROSS JOIN shoot_row r ON r.shoot_id = shoot.id WHERE shoot.job_id = ? ORDER BY r.row`,
  ).all(jobId)
  const faultsByTake = grouped(faults, ({ takeId }) => takeId)
  const takesBySpin = grouped(takes, ({ shootId }) => shootId)
  return prepared<[number], Omit<SpinTakes, 'isFirst' | 'rows' | 'takes'> & { isFirst: 0 | 1 }>(
    db,
    `SELECT id AS shootId, position, name, is_first AS isFirst FROM shoot
     WHERE job_id = ? AND cancelled_at IS NULL ORDER BY position`,
  )
    .all(jobId)
    .map((spin) => ({
      ...spin,
      isFirst: spin.isFirst === 1,
      rows: rows.filter(({ shootId }) => shootId === spin.shootId).map(({ shootId: _, ...row }) => row),
      takes: (takesBySpin.get(spin.shootId) ?? []).map((take) => {
        const frames = framesOf(db, take.id)
        const markOf = (frame: number | null) => (frame === null ? null : (frames[frame - 1]?.mark ?? null))
        return {
          ...take,
          ...countedFrames(take, frames),
          counts: take.counts === 1,
          faults: (faultsByTake.get(take.id) ?? []).map((fault) => ({ ...fault, mark: markOf(fault.frame) })),
        }
      }),
    }))
}

function countedFrames(
  take: Take,
  frames: readonly TakeFrame[],
): Pick<JudgedTake, 'goodFrames' | 'voidFrames' | 'missingFrames'> {
  if (take.countedBy === 'files' && frames.length === 0) {
    const shot = take.framesShot ?? 0
    return { goodFrames: shot, voidFrames: 0, missingFrames: Math.max(0, take.framesPerTurn - shot) }
  }
  const voidFrames = frames.filter(({ isVoid }) => isVoid).length
  return {
    goodFrames: frames.length - voidFrames,
    voidFrames,
    missingFrames: missingMarks(frames, take.framesPerTurn).length,
  }
}

function faultsOf(db: Db, from: string, id: number): readonly TakeFault[] {
  return prepared<[number], TakeFault>(
    db,
    `SELECT f.id, f.take_id AS takeId, f.frame, f.kind, f.note ${from} ORDER BY f.frame, f.id`,
  ).all(id)
}
