import type { Id } from '../../db/ids.ts'
import type { Db } from '../../db/open.ts'
import { takeWatches } from '../../db/takeWatch.ts'
import { type FolderStatus, FolderWatch, type WatchedStudio } from './folderWatch.ts'

const watching = new WeakMap<Db, Map<Id<'take'>, FolderWatch>>()

/**
 * Watches the folders of all running takes of a studio that are counted by their files: call it when the studio is
 * opened and after every change. Takes that have ended are watched no more; a folder chosen anew is watched anew.
 * @param changed  called when frames were counted, or a folder went away or came back
 */
export function watchFolders(studio: WatchedStudio, changed: () => void): void {
  const wanted = new Map(takeWatches(studio.db).map((one) => [one.takeId, one]))
  const watches = watching.get(studio.db) ?? new Map<Id<'take'>, FolderWatch>()
  watching.set(studio.db, watches)
  for (const [takeId, watch] of watches) {
    if (wanted.get(takeId)?.folder === watch.folder) continue
    watch.stop()
    watches.delete(takeId)
  }
  for (const [takeId, one] of wanted) {
    if (!watches.has(takeId)) watches.set(takeId, new FolderWatch(studio, one, changed))
  }
}

/** Lets the next `watchFolders` begin anew for a take: its folder was chosen again, and what lies there was read. */
export function forgetWatch(db: Db, takeId: Id<'take'>): void {
  watching.get(db)?.get(takeId)?.stop()
  watching.get(db)?.delete(takeId)
}

/** Stops all watches of a studio; call it before its store is closed. */
export function stopWatchingFolders(db: Db): void {
  for (const watch of watching.get(db)?.values() ?? []) watch.stop()
  watching.delete(db)
}

/** How the counting of a take by its files stands; null where it is counted in another way. */
export function folderStatus(db: Db, takeId: Id<'take'>): FolderStatus | null {
  return watching.get(db)?.get(takeId)?.status() ?? null
}
