import { Refusal } from '../main/trade/refusal.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { prepared } from './statement.ts'

/** Where the files of a take lie, as the take itself knows, in the order it went on; none where it does not. */
export function foldersOfTake(db: Db, takeId: Id<'take'>): readonly string[] {
  const row = prepared<[number], { folder: string | null; more: string }>(
    db,
    'SELECT folder, more_folders AS more FROM take WHERE id = ?',
  ).get(takeId)
  return row && row.folder !== null ? [row.folder, ...(JSON.parse(row.more) as string[])] : []
}

/**
 * A running take goes on in a folder: one it was in before, or the next of its list. A folder in which none of its
 * frames was counted was a slip, and leaves the list. Frames keep the folders that they lie in.
 */
export function goOnInFolder(db: Db, takeId: Id<'take'>, folder: string): void {
  const held = foldersWithFrames(db, takeId)
  keepFolders(db, takeId, held.includes(folder) ? held : [...held, folder])
}

/** The folders of a running take in which frames of it were counted; call it when no folder counts it any more. */
export function keepFoldersWithFrames(db: Db, takeId: Id<'take'>): void {
  keepFolders(db, takeId, foldersWithFrames(db, takeId))
}

/** Writes where the files of a take lie, in the order it went on. */
export function keepFolders(db: Db, takeId: Id<'take'>, [folder, ...more]: readonly string[]): void {
  prepared<unknown[]>(db, 'UPDATE take SET folder = ?, more_folders = ? WHERE id = ?').run(
    folder ?? null,
    JSON.stringify(more),
    takeId,
  )
}

/** The place of a folder in a take's list, from 0, as its frames name it. Refuses one that is not in it. */
export function placeOfFolder(db: Db, takeId: Id<'take'>, folder: string): number {
  const place = foldersOfTake(db, takeId).indexOf(folder)
  if (place >= 0) return place
  throw new Refusal('not-its-folder', `This take is not counted by the files in ${folder}.`)
}

function foldersWithFrames(db: Db, takeId: Id<'take'>): readonly string[] {
  const row = prepared<[number], { folders: number }>(
    db,
    'SELECT ifnull(max(folder) + 1, 0) AS folders FROM take_frame WHERE take_id = ? AND file IS NOT NULL',
  ).get(takeId)
  return foldersOfTake(db, takeId).slice(0, row?.folders ?? 0)
}
