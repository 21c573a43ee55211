import { Refusal } from '../main/trade/refusal.ts'
import { type Writing, writeEvent } from './events.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { inOneTransaction, prepared } from './statement.ts'
import { forgetCheckTries } from './takeChecking.ts'
import { foldersOfTake, goOnInFolder, keepFoldersWithFrames } from './takeFolders.ts'

/** A running take that is counted by the files that arrive in a folder. */
export interface TakeWatch {
  readonly takeId: Id<'take'>
  readonly folder: string
}

/**
 * From now on a running take is counted by the files that arrive in a folder, which is kept for the next take
 * at this bench from this device. Frames that were counted in another folder keep theirs. Refuses a take that has ended.
 * @param before  keys of the frames that lie in the folder already: they do not count
 */
export function watchFolder(
  writing: Writing,
  takeId: Id<'take'>,
  folder: string,
  before: readonly string[],
): void {
  const { db, now, who } = writing
  inOneTransaction(db, () => {
    const take = prepared<[number], { benchId: Id<'bench'> }>(
      db,
      `UPDATE take SET counted_by = 'folder' WHERE id = ? AND ended_at IS NULL RETURNING bench_id AS benchId`,
    ).get(takeId)
    if (!take) throw new Refusal('take-ended', 'This take has ended. Start a new take of this spin.')
    goOnInFolder(db, takeId, folder)
    prepared<unknown[]>(
      db,
      `INSERT INTO take_watch (take_id, folder, before) VALUES (?, ?, ?)
       ON CONFLICT (take_id) DO UPDATE SET folder = excluded.folder, before = excluded.before`,
    ).run(takeId, folder, JSON.stringify(before))
    forgetCheckTries(db, takeId)
    prepared<unknown[]>(
      db,
      `INSERT INTO frame_folder (bench_id, device_id, folder, used_at) VALUES (?, ?, ?, ?)
       ON CONFLICT (bench_id, device_id) DO UPDATE SET folder = excluded.folder, used_at = excluded.used_at`,
    ).run(take.benchId, who.deviceId, folder, now)
    writeEvent(writing, {
      subject: 'take',
      subjectId: takeId,
      what: 'counted by files arriving',
      detail: { folder },
    })
  })
}

/** From now on the take is counted by the key again; the frames counted by their files stay, and where those lie. */
export function stopWatching(writing: Writing, takeId: Id<'take'>): void {
  const { db } = writing
  inOneTransaction(db, () => {
    const { changes } = prepared<[number]>(db, 'DELETE FROM take_watch WHERE take_id = ?').run(takeId)
    if (changes === 0) return
    prepared<[number]>(db, `UPDATE take SET counted_by = 'key' WHERE id = ?`).run(takeId)
    keepFoldersWithFrames(db, takeId)
    writeEvent(writing, { subject: 'take', subjectId: takeId, what: 'counted by the key' })
  })
}

/** The running takes that are counted by their files. */
export function takeWatches(db: Db): readonly TakeWatch[] {
  return prepared<[], TakeWatch>(db, 'SELECT take_id AS takeId, folder FROM take_watch').all()
}

/** The folder that a take of the query was last in, in SQL: the one that counts it now, else the last of its own. */
export const folderInUse = `ifnull((SELECT w.folder FROM take_watch w WHERE w.take_id = take.id),
  ifnull(json_extract(take.more_folders, '$[#-1]'), take.folder))`

/** The folder a take is counted by, or was at its end; undefined where it is counted in another way. */
export function folderOfTake(db: Db, takeId: Id<'take'>): string | undefined {
  return (
    prepared<[number], { folder: string | null }>(
      db,
      `SELECT ${folderInUse} AS folder FROM take WHERE id = ? AND counted_by = 'folder'`,
    ).get(takeId)?.folder ?? undefined
  )
}

/** Keys of the frames that lay in the folder before; undefined where the take is not being watched. */
export function framesBefore(db: Db, takeId: Id<'take'>): readonly string[] | undefined {
  const row = prepared<[number], { before: string }>(
    db,
    'SELECT before FROM take_watch WHERE take_id = ?',
  ).get(takeId)
  return row && (JSON.parse(row.before) as string[])
}

/** A frame of a running take that was counted by its file. */
export interface FiledFrame {
  readonly frame: number
  readonly file: string
  /** The folder that the file lies in. */
  readonly folder: string
  readonly at: string
  readonly isVoid: boolean
}

/** The frames of a running take that have a file, in their order. */
export function filedFrames(db: Db, takeId: Id<'take'>): readonly FiledFrame[] {
  const folders = foldersOfTake(db, takeId)
  return prepared<[number], Omit<FiledFrame, 'folder' | 'isVoid'> & { folder: number; isVoid: 0 | 1 }>(
    db,
    `SELECT frame, file, folder, at, is_void AS isVoid FROM take_frame
     WHERE take_id = ? AND file IS NOT NULL ORDER BY frame`,
  )
    .all(takeId)
    .map((row) => ({ ...row, folder: folders[row.folder] ?? '', isVoid: row.isVoid === 1 }))
}

/** The folder that was watched last at this bench from this device. */
export function rememberedFolder(db: Db, benchId: Id<'bench'>, deviceId: Id<'device'>): string | null {
  return (
    prepared<[number, number], { folder: string }>(
      db,
      'SELECT folder FROM frame_folder WHERE bench_id = ? AND device_id = ?',
    ).get(benchId, deviceId)?.folder ?? null
  )
}

/** True where a take has the picture it is known by. */
export function hasPicture(db: Db, takeId: Id<'take'>): boolean {
  return (
    prepared<[number], { one: 1 }>(db, 'SELECT 1 AS one FROM take_picture WHERE take_id = ?').get(takeId) !==
    undefined
  )
}
