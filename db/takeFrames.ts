import {
  refuseMarkAhead,
  refuseNoFrame,
  refuseShotAgain,
  refuseTakenMark,
  takeEnded,
} from '../main/trade/benchActs.ts'
import { type PackedFrames, packFrames, type TakeFrame, unpackFrames } from '../main/trade/pack.ts'
import { Refusal } from '../main/trade/refusal.ts'
import type { Pause } from '../main/trade/takes.ts'
import { type Writing, writeEvent } from './events.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { inOneTransaction, prepared } from './statement.ts'
import { placeOfFolder } from './takeFolders.ts'

/** A frame as it was kept: its number in the take, and the mark it was shot at. */
export interface Pressed {
  readonly frame: number
  readonly mark: number
}

/** The file of a frame, and which of the take's folders it lies in. */
export interface FileOfFrame {
  readonly name: string
  readonly folder: string
}

/**
 * When an act of a running take was done, in UTC: so long before now, and never before the act before it,
 * whatever the clocks say.
 * @param agoMs  how long ago the device says it was, in milliseconds
 */
export function instantOfAct({ db, now }: Writing, takeId: Id<'take'>, agoMs: number): string {
  const row = prepared<[number], { latest: string }>(
    db,
    `SELECT max(started_at,
       ifnull((SELECT at FROM take_frame WHERE take_id = take.id ORDER BY frame DESC LIMIT 1), ''),
       ifnull((SELECT max(paused_at, ifnull(resumed_at, '')) FROM take_pause WHERE take_id = take.id
         ORDER BY id DESC LIMIT 1), '')) AS latest
     FROM take WHERE id = ?`,
  ).get(takeId)
  const done = new Date(Date.parse(now) - agoMs).toISOString()
  return row && row.latest > done ? row.latest : done
}

/**
 * Adds a frame to a running take, at the next mark or at one that is missing. A pause that is open ends with it.
 * Call inside the transaction that keeps the act's key.
 */
export function addFrame(
  db: Db,
  frame: {
    readonly takeId: Id<'take'>
    readonly at: string
    readonly mark?: number | undefined
    readonly file?: FileOfFrame | undefined
  },
): Pressed {
  const { takeId, at, mark, file } = frame
  if (mark !== undefined) refuseTakenMark(liveFrames(db, takeId), mark)
  resumeTake(db, takeId, at)
  const pressed = prepared<unknown[], Pressed>(
    db,
    `INSERT INTO take_frame (take_id, frame, at, mark, file, folder)
     SELECT take.id, ifnull(max(f.frame), 0) + 1, ?,
       ifnull(?, ifnull(max(f.mark) FILTER (WHERE f.is_void = 0) + 1, 0)), ?, ?
     FROM take LEFT JOIN take_frame f ON f.take_id = take.id
     WHERE take.id = ? AND take.ended_at IS NULL GROUP BY take.id
     RETURNING frame, mark`,
  ).get(at, mark ?? null, file?.name ?? null, file ? placeOfFolder(db, takeId, file.folder) : 0, takeId)
  if (!pressed) throw whyNotRunning(db, takeId)
  return pressed
}

/** Makes a frame void: its file stays on the card and shifts nobody's number. The last one's mark comes again. */
export function voidFrame(writing: Writing, takeId: Id<'take'>, frame: number): void {
  changeVoid(writing, takeId, frame, true)
}

/** Makes a void frame good again; refuses where its mark has been shot once more since. */
export function restoreFrame(writing: Writing, takeId: Id<'take'>, frame: number): void {
  inOneTransaction(writing.db, () => {
    refuseShotAgain(liveFrames(writing.db, takeId), frame)
    changeVoid(writing, takeId, frame, false)
  })
}

/** Goes back to a mark: every good frame from there on becomes void, and the mark comes next. */
export function backToMark(writing: Writing, takeId: Id<'take'>, mark: number): void {
  inOneTransaction(writing.db, () => {
    refuseMarkAhead(liveFrames(writing.db, takeId), mark)
    prepared<[number, number]>(
      writing.db,
      'UPDATE take_frame SET is_void = 1 WHERE take_id = ? AND mark >= ? AND is_void = 0',
    ).run(takeId, mark)
    tell(writing, takeId, 'went back to a mark', { mark: mark + 1 })
  })
}

/** Stops the clock of a running take at an instant; a second pause changes nothing. */
export function pauseTake(writing: Writing, takeId: Id<'take'>, at: string, reason: string | null): void {
  inOneTransaction(writing.db, () => {
    const { changes } = prepared<unknown[]>(
      writing.db,
      `INSERT INTO take_pause (take_id, paused_at, reason) SELECT ?, ?, ?
       WHERE NOT EXISTS (SELECT 1 FROM take_pause WHERE take_id = ? AND resumed_at IS NULL)`,
    ).run(takeId, at, reason, takeId)
    if (changes > 0) tell(writing, takeId, 'take paused', { reason })
  })
}

/** Goes on after a pause; changes nothing where there is none. */
export function resumeTake(db: Db, takeId: Id<'take'>, at: string): void {
  prepared<[string, number]>(
    db,
    'UPDATE take_pause SET resumed_at = max(?, paused_at) WHERE take_id = ? AND resumed_at IS NULL',
  ).run(at, takeId)
}

/** The frames of a take, running or ended, in the order of their numbers. */
export function framesOf(db: Db, takeId: Id<'take'>): readonly TakeFrame[] {
  const log = prepared<[number], { offsetsMs: string; marks: string; voids: string; files: string }>(
    db,
    'SELECT offsets_ms AS offsetsMs, marks, voids, files FROM take_log WHERE take_id = ?',
  ).get(takeId)
  return log ? unpackFrames(readLog(log)) : liveFrames(db, takeId)
}

/** A log row's JSON as packed frames. */
export function readLog(log: {
  offsetsMs: string
  marks: string
  voids: string
  files: string
}): PackedFrames {
  return {
    offsetsMs: JSON.parse(log.offsetsMs) as number[],
    marks: JSON.parse(log.marks) as [number, number][],
    voids: JSON.parse(log.voids) as number[],
    files: JSON.parse(log.files) as [number, string, number?][],
  }
}

/** Moves the frames of a take that has just ended into its log. Call inside the transaction that ends it. */
export function packTake(db: Db, takeId: Id<'take'>, frames: readonly TakeFrame[]): void {
  const packed = packFrames(frames)
  prepared<unknown[]>(
    db,
    'INSERT INTO take_log (take_id, offsets_ms, marks, voids, files) VALUES (?, ?, ?, ?, ?)',
  ).run(
    takeId,
    JSON.stringify(packed.offsetsMs),
    JSON.stringify(packed.marks),
    JSON.stringify(packed.voids),
    JSON.stringify(packed.files),
  )
  prepared<[number]>(db, 'DELETE FROM take_frame WHERE take_id = ?').run(takeId)
}

/** The pauses of a take, in milliseconds from its start. */
export function pausesOf(
  db: Db,
  takeId: Id<'take'>,
): readonly (Pause & { readonly reason: string | null })[] {
  return prepared<
    [number],
    { startedAt: string; pausedAt: string; resumedAt: string | null; reason: string | null }
  >(
    db,
    `SELECT take.started_at AS startedAt, p.paused_at AS pausedAt, p.resumed_at AS resumedAt, p.reason
     FROM take_pause p JOIN take ON take.id = p.take_id WHERE p.take_id = ? ORDER BY p.id`,
  )
    .all(takeId)
    .map(({ startedAt, pausedAt, resumedAt, reason }) => ({
      fromMs: Date.parse(pausedAt) - Date.parse(startedAt),
      toMs: resumedAt === null ? null : Date.parse(resumedAt) - Date.parse(startedAt),
      reason,
    }))
}

function liveFrames(db: Db, takeId: Id<'take'>): readonly TakeFrame[] {
  return prepared<
    [number],
    { startedAt: string; at: string; isVoid: 0 | 1; mark: number; file: string | null; folder: number }
  >(
    db,
    `SELECT take.started_at AS startedAt, f.at, f.is_void AS isVoid, f.mark, f.file, f.folder
     FROM take_frame f JOIN take ON take.id = f.take_id WHERE f.take_id = ? ORDER BY f.frame`,
  )
    .all(takeId)
    .map(({ startedAt, at, isVoid, mark, file, folder }) => ({
      offsetMs: Date.parse(at) - Date.parse(startedAt),
      isVoid: isVoid === 1,
      mark,
      file,
      ...(folder > 0 ? { folder } : {}),
    }))
}

function changeVoid(writing: Writing, takeId: Id<'take'>, frame: number, isVoid: boolean): void {
  const { db } = writing
  inOneTransaction(db, () => {
    refuseNoFrame(framesShot(db, takeId), frame)
    prepared<[number, number, number]>(
      db,
      'UPDATE take_frame SET is_void = ? WHERE take_id = ? AND frame = ?',
    ).run(isVoid ? 1 : 0, takeId, frame)
    tell(writing, takeId, isVoid ? 'frame made void' : 'frame made good again', { frame })
  })
}

/** Exposures of a running take so far, void ones too. */
export function framesShot(db: Db, takeId: Id<'take'>): number {
  const row = prepared<[number], { shot: number | null }>(
    db,
    'SELECT max(frame) AS shot FROM take_frame WHERE take_id = ?',
  ).get(takeId)
  return row?.shot ?? 0
}

/** Why nothing is done to this take: it has ended, or the studio does not have it; undefined while it runs. */
export function whyNotRunning(db: Db, takeId: Id<'take'>): Refusal | undefined {
  const take = prepared<[number], { number: number; endedAt: string | null }>(
    db,
    'SELECT number, ended_at AS endedAt FROM take WHERE id = ?',
  ).get(takeId)
  if (!take) return new Refusal('no-take', 'This take is not in the studio.')
  return take.endedAt === null ? undefined : takeEnded(take.number)
}

/** Refuses a take that has ended, or that the studio does not have. */
export function refuseUnlessRunning(db: Db, takeId: Id<'take'>): void {
  const refusal = whyNotRunning(db, takeId)
  if (refusal) throw refusal
}

function tell(
  writing: Writing,
  takeId: Id<'take'>,
  what: string,
  detail: Readonly<Record<string, unknown>>,
): void {
  // Without the job: a job's history tells of takes, not of every slip inside one.
  writeEvent(writing, { subject: 'take', subjectId: takeId, what, detail })
}

/**
 * Says of a running take that the paced beat counts it: its steps then tell the beat's pace. A take that files count
 * stays theirs; nothing changes where the beat counts already.
 */
export function countByBeat(writing: Writing, takeId: Id<'take'>): void {
  inOneTransaction(writing.db, () => {
    const { changes } = prepared<[number]>(
      writing.db,
      `UPDATE take SET counted_by = 'beat' WHERE id = ? AND ended_at IS NULL AND counted_by = 'key'`,
    ).run(takeId)
    if (changes === 0) return
    writeEvent(writing, { subject: 'take', subjectId: takeId, what: 'counted by the beat' })
  })
}
