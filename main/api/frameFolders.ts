import * as z from 'zod'
import type { Id } from '../../db/ids.ts'
import type { Db } from '../../db/open.ts'
import {
  filedFrames,
  folderOfTake,
  framesBefore,
  rememberedFolder,
  stopWatching,
  watchFolder,
} from '../../db/takeWatch.ts'
import { frameName } from '../trade/frameFiles.ts'
import { folderStatus, forgetWatch } from '../work/folderWatches.ts'
import { keysOf, readNamedFolder } from '../work/frameFolder.ts'
import { call, idOf, router, text } from './kit.ts'

/** A folder of this computer as a person names it. */
export const frameFolder = text('The folder', 1000)

const OneTake = z.object({ takeId: idOf('take') })

/** Folders that a camera or a tether writes to: a take is counted by the files that arrive there. */
export const frameFolderCalls = router({
  /** The folder that was watched last at this bench from this device. */
  remembered: call
    .input(z.object({ benchId: idOf('bench') }))
    .query(({ ctx, input }) => ({ folder: rememberedFolder(ctx.db, input.benchId, ctx.who.deviceId) })),

  /** How the counting of a running take stands; null where its files do not count it. */
  status: call.input(OneTake).query(({ ctx, input }) => folderStatus(ctx.db, input.takeId)),

  /** Counts a running take by the files that arrive in a folder from now on. */
  watch: call.input(OneTake.extend({ folder: frameFolder })).mutation(async ({ ctx, input }) => {
    const before = keysOf(await readNamedFolder(input.folder))
    watchFolder(ctx, input.takeId, input.folder, before)
    forgetWatch(ctx.db, input.takeId)
  }),

  /** Counts a running take by the key from now on. */
  stop: call.input(OneTake).mutation(({ ctx, input }) => {
    stopWatching(ctx, input.takeId)
  }),
})

/**
 * The folder for the take that follows one counted by its files, with what lies there already. Where the folder
 * cannot be read just now, what a running take knew of it stands in, and the next one says that it waits for it.
 */
export async function folderOfNextTake(
  db: Db,
  takeId: Id<'take'>,
): Promise<{ readonly folder: string; readonly before: readonly string[] } | undefined> {
  const folder = folderOfTake(db, takeId)
  if (folder === undefined) return undefined
  const before = framesBefore(db, takeId)
  const counted = filedFrames(db, takeId).flatMap(({ file }) => frameName(file)?.key ?? [])
  try {
    return { folder, before: keysOf(await readNamedFolder(folder)) }
  } catch {
    return before && { folder, before: [...before, ...counted] }
  }
}
