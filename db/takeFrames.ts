import { type PackedFrames, packFrames, type TakeFrame, unpackFrames } from '../main/trade/pack.ts'
import { Refusal } from '../main/trade/refusal.ts'
import { missingMarks, nextMark, type Pause } from '../main/trade/takes.ts'
import { type Writing, writeEvent } from './events.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { inOneTransaction, prepared } from './statement.ts'

/** A press of the frame key as it was kept: the frame's number in the take, and the mark it was shot at. */
export interface Pressed {
  readonly frame: number
  readonly mark: number
}

/**
 * Keeps one frame of a running take, durably, by one INSERT. The same `pressKey` again gives the frame it made
 * the first time, so that a lost answer may be asked for once more. A pause that is open ends with the press.
 * @param mark  a mark that was skipped or made void, to shoot it now; else the next one
 * @param file  the file that told of the frame, by its name in the take's folder
 */
export function pressFrame(
  { db, now }: Writing,
  press: {
    readonly takeId: Id<'take'>
    readonly pressKey: string
    readonly mark?: number | undefined
    readonly file?: string | undefined
  },
): Pressed {
  return inOneTransaction(db, () => {
    const before = pressedBefore(db, press.takeId, press.pressKey)
    if (before) return before
    if (press.mark !== undefined) refuseTakenMark(db, press.takeId, press.mark)
    prepared<[string, number]>(
      db,
      `UPDATE take_pause SET resumed_at = max(?, paused_at) WHERE take_id = ? AND resumed_at IS NULL`,
    ).run(now, press.takeId)
    const pressed = prepared<unknown[], Pressed>(
      db,
      `INSERT INTO take_frame (take_id, frame, at, mark, press_key, file)
       SELECT take.id, ifnull(max(f.frame), 0) + 1, max(?, ifnull(max(f.at), take.started_at)),
         ifnull(?, ifnull(max(f.mark) FILTER (WHERE f.is_void = 0) + 1, 0)), ?, ?
       FROM take LEFT JOIN take_frame f ON f.take_id = take.id
       WHERE take.id = ? AND take.ended_at IS NULL GROUP BY take.id
       RETURNING frame, mark`,
    ).get(now, press.mark ?? null, press.pressKey, press.file ?? null, press.takeId)
    if (!pressed) throw takeEnded(db, press.takeId)
    return pressed
  })
}

/** Makes a frame void: its file stays on the card and shifts nobody's number. The last one's mark comes again. */
export function voidFrame(writing: Writing, takeId: Id<'take'>, frame: number): void {
  changeVoid(writing, takeId, frame, true)
}

/** Makes a void frame good again; refuses where its mark has been shot once more since. */
export function restoreFrame(writing: Writing, takeId: Id<'take'>, frame: number): void {
  inOneTransaction(writing.db, () => {
    const frames = liveFrames(writing.db, takeId)
    const one = frames[frame - 1]
    if (one?.isVoid && frames.some(({ isVoid, mark }) => !isVoid && mark === one.mark)) {
      throw new Refusal(
        'mark-shot-again',
        `Mark ${one.mark + 1} has been shot again since. Make that frame void first, then bring back frame ${frame}.`,
      )
    }
    changeVoid(writing, takeId, frame, false)
  })
}

/** Goes back to a mark: every good frame from there on becomes void, and the mark comes next. */
export function backToMark(writing: Writing, takeId: Id<'take'>, mark: number): void {
  inOneTransaction(writing.db, () => {
    refuseUnlessRunning(writing.db, takeId)
    const next = nextMark(liveFrames(writing.db, takeId))
    if (mark >= next) {
      throw new Refusal(
        'mark-ahead',
        next === 0
          ? 'No frame is shot yet, so there is no mark to go back to.'
          : `The take has come to mark ${next}. Go back to one from 1 to ${next}.`,
        { field: 'mark' },
      )
    }
    prepared<[number, number]>(
      writing.db,
      'UPDATE take_frame SET is_void = 1 WHERE take_id = ? AND mark >= ? AND is_void = 0',
    ).run(takeId, mark)
    tell(writing, takeId, 'went back to a mark', { mark: mark + 1 })
  })
}

/** Stops the clock of a running take; a second pause changes nothing. */
export function pauseTake(writing: Writing, takeId: Id<'take'>, reason: string | null): void {
  inOneTransaction(writing.db, () => {
    refuseUnlessRunning(writing.db, takeId)
    const { changes } = prepared<unknown[]>(
      writing.db,
      `INSERT INTO take_pause (take_id, paused_at, reason) SELECT ?, ?, ?
       WHERE NOT EXISTS (SELECT 1 FROM take_pause WHERE take_id = ? AND resumed_at IS NULL)`,
    ).run(takeId, writing.now, reason, takeId)
    if (changes > 0) tell(writing, takeId, 'take paused', { reason })
  })
}

/** Goes on after a pause; changes nothing where there is none. */
export function resumeTake({ db, now }: Writing, takeId: Id<'take'>): void {
  prepared<[string, number]>(
    db,
    'UPDATE take_pause SET resumed_at = max(?, paused_at) WHERE take_id = ? AND resumed_at IS NULL',
  ).run(now, takeId)
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
    files: JSON.parse(log.files) as [number, string][],
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
    { startedAt: string; at: string; isVoid: 0 | 1; mark: number; file: string | null }
  >(
    db,
    `SELECT take.started_at AS startedAt, f.at, f.is_void AS isVoid, f.mark, f.file
     FROM take_frame f JOIN take ON take.id = f.take_id WHERE f.take_id = ? ORDER BY f.frame`,
  )
    .all(takeId)
    .map(({ startedAt, at, isVoid, mark, file }) => ({
      offsetMs: Date.parse(at) - Date.parse(startedAt),
      isVoid: isVoid === 1,
      mark,
      file,
    }))
}

function changeVoid(writing: Writing, takeId: Id<'take'>, frame: number, isVoid: boolean): void {
  inOneTransaction(writing.db, () => {
    refuseUnlessRunning(writing.db, takeId)
    const { changes } = prepared<[number, number, number]>(
      writing.db,
      'UPDATE take_frame SET is_void = ? WHERE take_id = ? AND frame = ?',
    ).run(isVoid ? 1 : 0, takeId, frame)
    if (changes === 0) {
      throw new Refusal('no-frame', `The take has no frame ${frame}. Choose one that was shot.`, {
        field: 'frame',
      })
    }
    tell(writing, takeId, isVoid ? 'frame made void' : 'frame made good again', { frame })
  })
}

function pressedBefore(db: Db, takeId: Id<'take'>, pressKey: string): Pressed | undefined {
  return prepared<[number, string], Pressed>(
    db,
    'SELECT frame, mark FROM take_frame WHERE take_id = ? AND press_key = ?',
  ).get(takeId, pressKey)
}

function refuseTakenMark(db: Db, takeId: Id<'take'>, mark: number): void {
  const frames = liveFrames(db, takeId)
  if (missingMarks(frames, nextMark(frames)).includes(mark)) return
  throw new Refusal('mark-not-missing', `Mark ${mark + 1} is not missing. Shoot the next mark instead.`, {
    field: 'mark',
  })
}

/** Refuses a take that has ended, or that the studio does not have. */
export function refuseUnlessRunning(db: Db, takeId: Id<'take'>): void {
  const running = prepared<[number], { one: 1 }>(
    db,
    'SELECT 1 AS one FROM take WHERE id = ? AND ended_at IS NULL',
  ).get(takeId)
  if (!running) throw takeEnded(db, takeId)
}

function takeEnded(db: Db, takeId: Id<'take'>): Refusal {
  const take = prepared<[number], { number: number }>(db, 'SELECT number FROM take WHERE id = ?').get(takeId)
  return take
    ? new Refusal('take-ended', `Take ${take.number} has ended. Start a new take of this spin.`)
    : new Refusal('no-take', 'This take is not in the studio.')
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
