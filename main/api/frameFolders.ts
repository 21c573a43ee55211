import * as z from 'zod'
import { studioZone } from '../../db/calendar.ts'
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
import { corrected, framesOfFiles } from '../trade/filedTake.ts'
import { frameName } from '../trade/frameFiles.ts'
import { Refusal } from '../trade/refusal.ts'
import { capturesOf, startCaptures, stopCaptures } from '../work/captureReading.ts'
import { folderStatus, forgetWatch } from '../work/folderWatches.ts'
import { keysOf, readNamedFolder } from '../work/frameFolder.ts'
import { call, type InStudio, idOf, router, text } from './kit.ts'

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

  /** Reads the frames of a folder and when each was shot, in the background; `reading` tells how far it is. */
  read: call.input(z.object({ folder: frameFolder })).mutation(async ({ ctx, input }) => {
    await startCaptures(ctx.db, ctx.who.deviceId, input.folder, studioZone(ctx.db))
  }),

  reading: call.query(({ ctx }) => capturesOf(ctx.db, ctx.who.deviceId)),

  stopReading: call.mutation(({ ctx }) => {
    stopCaptures(ctx.db, ctx.who.deviceId)
  }),
})

/** Which of the frames that were read make a take. */
export const ReadFrames = z.object({
  folder: frameFolder,
  /** Keys of the first and the last frame. */
  first: z.string().max(2000),
  last: z.string().max(2000),
  /** How far ahead the camera's clock stood, in ms; behind below 0. Two days at most. */
  clockAheadMs: z.int().min(-172_800_000).max(172_800_000).default(0),
  gapsAreMarks: z.boolean().default(false),
})

/**
 * The frames of a take as the files that this device has read tell of it. Refuses where that folder is not read any
 * more, where the last frame stands before the first, and where a frame would lie in the future.
 */
export function framesRead(ctx: InStudio, input: z.output<typeof ReadFrames>) {
  const reading = capturesOf(ctx.db, ctx.who.deviceId)
  if (reading?.state !== 'done' || reading.folder !== input.folder) {
    throw new Refusal('folder-not-read', 'This folder has not been read yet. Read its files first.', {
      field: 'folder',
    })
  }
  const all = corrected(reading.found, input.clockAheadMs)
  const first = all.findIndex(({ key }) => key === input.first)
  const last = all.findIndex(({ key }) => key === input.last)
  if (first < 0 || last < first) {
    throw new Refusal('take-ends-first', 'The last file was not shot after the first. Choose both again.', {
      field: 'last',
    })
  }
  const chosen = all.slice(first, last + 1)
  const startedAt = instantOf(chosen[0]?.atMs)
  const endedAt = instantOf(chosen.at(-1)?.atMs)
  if (endedAt > ctx.now) {
    throw new Refusal(
      'take-in-future',
      'The last frame would lie in the future. Was the camera’s clock ahead? Say by how much.',
      { field: 'clockAhead' },
    )
  }
  return {
    startedAt,
    endedAt,
    framesShot: chosen.length,
    read: { folders: [input.folder], frames: framesOfFiles(chosen, input.gapsAreMarks) },
  }
}

function instantOf(ms: number | undefined): string {
  return new Date(ms ?? 0).toISOString()
}

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
