import { pausesBetween } from '../main/trade/filedTake.ts'
import type { TakeFrame } from '../main/trade/pack.ts'
import { Refusal } from '../main/trade/refusal.ts'
import { type FaultKind, medianStepMs, missingMarks, type Pause } from '../main/trade/takes.ts'
import type { Writing } from './events.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { checkLoad } from './rigPlans.ts'
import { refreshStanding, spinFacts } from './standing.ts'
import { inOneTransaction, newId, prepared } from './statement.ts'
import { forgetOldActs } from './takeAnswers.ts'
import { jobOfTake, tellOfTake } from './takeEvents.ts'
import { keepFolders } from './takeFolders.ts'
import { framesOf, instantOfAct, packTake, pausesOf, refuseUnlessRunning, resumeTake } from './takeFrames.ts'
import { type Holder, holdTake, letGo, refuseUnlessHeld, whoHas } from './takeHolds.ts'

/** A take about to start: one turn of one row, on what stands and what is dialled. */
export interface NewTake {
  readonly shootId: Id<'shoot'>
  readonly row: number
  readonly rigRevisionId: Id<'rig_revision'>
  readonly settingsId: Id<'settings'>
  readonly benchId: Id<'bench'>
  readonly framesPerTurn: number
  readonly overlapFrames: number
  /** Why it is right to go on without the sample, or at a bench where another take is running. */
  readonly overruleReason: string | null
}

/** A take whose frames were counted afterwards, by the files on the card. Instants in UTC. */
export interface CountedTake extends NewTake {
  readonly framesShot: number
  readonly startedAt: string
  readonly endedAt: string
  /** Where the files were read: each frame with its own time, and the folders they lie in, in the order it went on. */
  readonly read?: { readonly frames: readonly TakeFrame[]; readonly folders: readonly string[] } | undefined
}

/**
 * Starts a take. Refuses a spin on which a take is running, a cancelled spin or closed job, a row it does not have,
 * a load the platter does not carry; without a reason also a spin whose sample is not in, and a bench where another take is running.
 */
export function startTake(writing: Writing, take: NewTake, holder: Holder | null = null): Id<'take'> {
  return inOneTransaction(writing.db, () => {
    const jobId = checkStart(writing, take)
    const bench = takeAtBench(writing.db, take.benchId)
    if (bench && take.overruleReason === null) {
      throw new Refusal(
        'bench-busy',
        `Take ${bench.number} of ${bench.spin} is running at ${bench.bench}. End it first, or say why two turn at once.`,
        { field: 'benchId', canOverrule: true },
      )
    }
    const takeId = insertTake(writing, take, { startedAt: writing.now })
    if (holder) holdTake(writing, takeId, holder)
    forgetOldActs(writing)
    tellOfTake(writing, takeId, jobId, 'take started', {
      spin: spinName(writing.db, take.shootId),
      row: take.row,
    })
    refreshStanding(writing, jobId)
    return takeId
  })
}

/**
 * Writes a take that was not counted here: so many frames from one instant to another. Where its files were read,
 * every frame has its own time, from which pace and pauses are learned; else the median is the mean step, all that
 * is known. Refuses times in the future or in the wrong order.
 */
export function countTake(writing: Writing, take: CountedTake): Id<'take'> {
  return inOneTransaction(writing.db, () => {
    const jobId = checkStart(writing, take)
    if (take.endedAt > writing.now) {
      throw new Refusal('take-in-future', 'A take cannot end in the future. Check the time.', {
        field: 'endedAt',
      })
    }
    if (take.endedAt <= take.startedAt) {
      throw new Refusal('take-ends-first', 'The last frame is not after the first. Check both times.', {
        field: 'endedAt',
      })
    }
    const span = Date.parse(take.endedAt) - Date.parse(take.startedAt)
    const pauses = pausesBetween(take.read?.frames ?? [])
    const meanStepMs = take.framesShot > 1 ? Math.max(1, Math.round(span / (take.framesShot - 1))) : null
    const takeId = insertTake(writing, take, {
      startedAt: take.startedAt,
      endedAt: take.endedAt,
      framesShot: take.framesShot,
      medianStepMs: take.read ? medianStepMs(take.read.frames, pauses) : meanStepMs,
    })
    if (take.read) keepReadFrames(writing.db, takeId, take.startedAt, take.read, pauses)
    tellOfTake(writing, takeId, jobId, 'take counted from its files', { frames: take.framesShot })
    refreshStanding(writing, jobId)
    return takeId
  })
}

/** The frames of a take whose files were read, the pauses between them, and where the files lie. */
function keepReadFrames(
  db: Db,
  takeId: Id<'take'>,
  startedAt: string,
  { frames, folders }: NonNullable<CountedTake['read']>,
  pauses: readonly Pause[],
): void {
  const at = (ms: number | null) => new Date(Date.parse(startedAt) + (ms ?? 0)).toISOString()
  keepFolders(db, takeId, folders)
  for (const { fromMs, toMs } of pauses) {
    prepared<unknown[]>(
      db,
      'INSERT INTO take_pause (take_id, paused_at, resumed_at, reason) VALUES (?, ?, ?, ?)',
    ).run(takeId, at(fromMs), at(toMs), 'read from the times of the files')
  }
  packTake(db, takeId, frames)
}

/**
 * Ends a running take at an instant: its frames are packed with their median step, nobody has it in hand any
 * more, and it waits for a verdict.
 */
export function endTake(writing: Writing, takeId: Id<'take'>, at: string): void {
  const { db } = writing
  inOneTransaction(db, () => {
    refuseUnlessRunning(db, takeId)
    const frames = framesOf(db, takeId)
    resumeTake(db, takeId, at)
    prepared<unknown[]>(
      db,
      'UPDATE take SET frames_shot = ?, median_step_ms = ?, ended_at = ? WHERE id = ?',
    ).run(frames.length, medianStepMs(frames, pausesOf(db, takeId)), at, takeId)
    packTake(db, takeId, frames)
    letGo(db, takeId)
    const jobId = jobOfTake(db, takeId)
    tellOfTake(writing, takeId, jobId, 'take ended', { frames: frames.length })
    refreshStanding(writing, jobId)
  })
}

/**
 * Keeps or rejects an ended take. Refuses to reject without a reason, to reject one that is picked, and,
 * unless a reason is given, to keep one that lacks frames of the turn.
 */
export function judgeTake(
  writing: Writing,
  takeId: Id<'take'>,
  verdict: 'keep' | 'reject',
  reason: string | null,
): void {
  const { db } = writing
  inOneTransaction(db, () => {
    const take = takeForVerdict(db, takeId)
    if (verdict === 'reject') refuseReject(take, reason)
    else if (reason === null) refuseGaps(db, takeId, take)
    prepared<unknown[]>(db, 'UPDATE take SET verdict = ?, verdict_reason = ? WHERE id = ?').run(
      verdict,
      reason,
      takeId,
    )
    tellOfTake(writing, takeId, take.jobId, verdict === 'keep' ? 'take kept' : 'take rejected', {
      take: take.number,
      spin: take.spin,
      reason,
    })
    refreshStanding(writing, take.jobId)
  })
}

/**
 * Rejects a take, ending it first where it runs, and starts the next one on the same row, rig and settings.
 * What was overruled for the spin still holds; a sample that has gone since, or a bench that is taken, refuses.
 */
export function takeAgain(
  writing: Writing,
  takeId: Id<'take'>,
  reason: string,
  holder: Holder | null,
): Id<'take'> {
  return inOneTransaction(writing.db, () => {
    const take = prepared<[number], NewTake & { endedAt: string | null }>(
      writing.db,
      `SELECT shoot_id AS shootId, row, rig_revision_id AS rigRevisionId, settings_id AS settingsId,
         bench_id AS benchId, frames_per_turn AS framesPerTurn, overlap_frames AS overlapFrames,
         NULL AS overruleReason, ended_at AS endedAt
       FROM take WHERE id = ?`,
    ).get(takeId)
    if (!take) throw new Refusal('no-take', 'This take is not in the studio.')
    if (take.endedAt === null) {
      refuseUnlessHeld(writing, takeId, holder?.key ?? null)
      endTake(writing, takeId, instantOfAct(writing, takeId, 0))
    }
    judgeTake(writing, takeId, 'reject', reason)
    return startTake(writing, take, holder)
  })
}

/** Writes down a fault, at a frame or of the take as a whole; also after its end. */
export function addFault(
  writing: Writing,
  takeId: Id<'take'>,
  fault: {
    readonly kind: FaultKind
    readonly frame: number | null
    readonly note: string | null
    /** The finding of the check that a person agreed to. */
    readonly findingKey?: string
  },
): Id<'take_fault'> {
  return inOneTransaction(writing.db, () => {
    const jobId = jobOfTake(writing.db, takeId)
    const shot = framesOf(writing.db, takeId).length
    if (fault.frame !== null && shot > 0 && fault.frame > shot) {
      throw new Refusal('no-frame', `The take has ${shot} frames. Choose one from 1 to ${shot}.`, {
        field: 'frame',
      })
    }
    const id = newId<Id<'take_fault'>>(
      prepared<unknown[]>(
        writing.db,
        'INSERT INTO take_fault (take_id, frame, kind, note, finding_key, at) VALUES (?, ?, ?, ?, ?, ?)',
      ).run(takeId, fault.frame, fault.kind, fault.note, fault.findingKey ?? null, writing.now),
    )
    tellOfTake(writing, takeId, jobId, `fault: ${fault.kind}`, { frame: fault.frame, note: fault.note })
    return id
  })
}

/** Takes back a fault that was none. */
export function removeFault(writing: Writing, faultId: Id<'take_fault'>): void {
  inOneTransaction(writing.db, () => {
    const fault = prepared<[number], { takeId: Id<'take'>; kind: string }>(
      writing.db,
      'DELETE FROM take_fault WHERE id = ? RETURNING take_id AS takeId, kind',
    ).get(faultId)
    if (!fault) return
    tellOfTake(
      writing,
      fault.takeId,
      jobOfTake(writing.db, fault.takeId),
      `no fault after all: ${fault.kind}`,
      {},
    )
  })
}

/** Keeps a note of a take, in place of the one before. */
export function noteTake(writing: Writing, takeId: Id<'take'>, note: string | null): void {
  inOneTransaction(writing.db, () => {
    const jobId = jobOfTake(writing.db, takeId)
    prepared<unknown[]>(writing.db, 'UPDATE take SET note = ? WHERE id = ?').run(note, takeId)
    tellOfTake(writing, takeId, jobId, 'take noted', { note })
  })
}

/** Refuses what cannot be started, and keeps the reason where a missing sample is overruled. */
function checkStart(writing: Writing, take: NewTake): Id<'job'> {
  const { db } = writing
  const spin = prepared<
    [number, number],
    { jobId: Id<'job'>; name: string; cancelled: 0 | 1; hasRow: 0 | 1; jobClosed: 0 | 1; job: string }
  >(
    db,
    `SELECT job_id AS jobId, name, shoot.cancelled_at IS NOT NULL AS cancelled, job.number AS job,
       job.cancelled_at IS NOT NULL OR job.lost_at IS NOT NULL AS jobClosed,
       EXISTS (SELECT 1 FROM shoot_row WHERE shoot_id = shoot.id AND row = ?) AS hasRow
     FROM shoot JOIN job ON job.id = shoot.job_id WHERE shoot.id = ?`,
  ).get(take.row, take.shootId)
  if (!spin) throw new Refusal('no-spin', 'This spin is not in the studio.')
  if (spin.cancelled)
    throw new Refusal('spin-cancelled', `${spin.name} was cancelled. Bring the spin back first.`)
  if (spin.jobClosed) throw new Refusal('job-closed', `Job ${spin.job} is closed. Take it up again first.`)
  if (!spin.hasRow) {
    throw new Refusal('no-row', `${spin.name} has no row ${take.row}. Choose one of its rows.`, {
      field: 'row',
    })
  }
  refuseRunningTake(writing, take.shootId)
  checkLoad(db, take.shootId, take.rigRevisionId)
  const { samplesHere, sampleOverruled } = spinFacts(db, take.shootId)
  if (samplesHere || sampleOverruled) return spin.jobId
  if (take.overruleReason === null) {
    throw new Refusal(
      'no-sample-in',
      `No sample of ${spin.name} is in. Mark it as arrived under Samples, or say why the take goes on without it.`,
      { canOverrule: true },
    )
  }
  prepared<[string, number]>(db, 'UPDATE shoot SET without_sample_reason = ? WHERE id = ?').run(
    take.overruleReason,
    take.shootId,
  )
  return spin.jobId
}

function refuseRunningTake({ db, now }: Writing, shootId: Id<'shoot'>): void {
  const running = prepared<[number], { takeId: Id<'take'>; number: number; bench: string }>(
    db,
    `SELECT take.id AS takeId, take.number, bench.name AS bench
     FROM take JOIN bench ON bench.id = take.bench_id WHERE take.shoot_id = ? AND take.ended_at IS NULL`,
  ).get(shootId)
  if (!running) return
  throw new Refusal(
    'take-running',
    `Take ${running.number} of this spin is running at ${running.bench}: ${whoHas({ db, now }, running.takeId)}. End that take first, or go to it to watch it or take it over.`,
  )
}

function takeAtBench(
  db: Db,
  benchId: Id<'bench'>,
): { number: number; spin: string; bench: string } | undefined {
  return prepared<[number], { number: number; spin: string; bench: string }>(
    db,
    `SELECT take.number, shoot.name AS spin, bench.name AS bench FROM take
     JOIN shoot ON shoot.id = take.shoot_id JOIN bench ON bench.id = take.bench_id
     WHERE take.bench_id = ? AND take.ended_at IS NULL`,
  ).get(benchId)
}

function insertTake(
  { db, who }: Writing,
  take: NewTake,
  shot: {
    readonly startedAt: string
    readonly endedAt?: string
    readonly framesShot?: number
    readonly medianStepMs?: number | null
  },
): Id<'take'> {
  return newId<Id<'take'>>(
    prepared<unknown[]>(
      db,
      `INSERT INTO take (shoot_id, number, row, rig_revision_id, settings_id, bench_id, person_id, device_id,
         frames_per_turn, overlap_frames, started_at, ended_at, frames_shot, median_step_ms, counted_by)
       VALUES (?, (SELECT ifnull(max(number), 0) + 1 FROM take WHERE shoot_id = ?), ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
    ).run(
      take.shootId,
      take.shootId,
      take.row,
      take.rigRevisionId,
      take.settingsId,
      take.benchId,
      who.personId,
      who.deviceId,
      take.framesPerTurn,
      take.overlapFrames,
      shot.startedAt,
      shot.endedAt ?? null,
      shot.framesShot ?? null,
      shot.medianStepMs ?? null,
      shot.endedAt === undefined ? 'key' : 'files',
    ),
  )
}

interface TakeForVerdict {
  readonly jobId: Id<'job'>
  readonly number: number
  readonly spin: string
  readonly framesPerTurn: number
  readonly framesShot: number | null
  readonly countedBy: string
  readonly pickedFor: string | null
}

function takeForVerdict(db: Db, takeId: Id<'take'>): TakeForVerdict {
  const take = prepared<[number], TakeForVerdict>(
    db,
    `SELECT shoot.job_id AS jobId, take.number, shoot.name AS spin, take.frames_per_turn AS framesPerTurn,
       take.frames_shot AS framesShot, take.counted_by AS countedBy,
       (SELECT group_concat(d.name, ', ') FROM pick JOIN deliverable d ON d.id = pick.deliverable_id
         WHERE pick.take_id = take.id AND pick.withdrawn_at IS NULL) AS pickedFor
     FROM take JOIN shoot ON shoot.id = take.shoot_id WHERE take.id = ?`,
  ).get(takeId)
  if (!take) throw new Refusal('no-take', 'This take is not in the studio.')
  if (take.framesShot === null) {
    throw new Refusal(
      'take-still-running',
      `Take ${take.number} of ${take.spin} is still running. End it first.`,
    )
  }
  return take
}

function refuseReject(take: TakeForVerdict, reason: string | null): void {
  if (reason === null) {
    throw new Refusal('no-reason', 'Say what is wrong with the take, so that the next one can be better.', {
      field: 'reason',
    })
  }
  if (take.pickedFor !== null) {
    throw new Refusal(
      'take-is-picked',
      `Take ${take.number} of ${take.spin} is picked for ${take.pickedFor}. Pick another take for it first.`,
    )
  }
}

function refuseGaps(db: Db, takeId: Id<'take'>, take: TakeForVerdict): void {
  const frames = framesOf(db, takeId)
  // Of a take whose files were counted by hand nobody knows the marks.
  const missing =
    take.countedBy === 'files' && frames.length === 0
      ? Math.max(0, take.framesPerTurn - (take.framesShot ?? 0))
      : missingMarks(frames, take.framesPerTurn).length
  if (missing === 0) return
  throw new Refusal(
    'frames-missing',
    `Take ${take.number} of ${take.spin} lacks ${missing} of ${take.framesPerTurn} frames. Take it again, or say why it is kept all the same.`,
    { field: 'reason', canOverrule: true },
  )
}

/** The job a take belongs to; refuses a take that the studio does not have. */

function spinName(db: Db, shootId: Id<'shoot'>): string {
  return (
    prepared<[number], { name: string }>(db, 'SELECT name FROM shoot WHERE id = ?').get(shootId)?.name ?? ''
  )
}
