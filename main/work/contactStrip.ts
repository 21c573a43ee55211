import { type TakeToCheck, takeToCheck } from '../../db/checkedTakes.ts'
import { contactStrip, keepContactStrip } from '../../db/contactStrips.ts'
import type { Id } from '../../db/ids.ts'
import { checkFolders } from '../../db/takeChecks.ts'
import { type ReadFolder, type Turn, type TurnFrame, turnOfTake } from '../trade/check/turnFrames.ts'
import { joinFrames } from '../trade/frameFiles.ts'
import { frameSet } from '../trade/turn/frameSet.ts'
import { type CheckRun, runCheck } from './checkRun.ts'
import type { WatchedStudio } from './folderWatch.ts'
import { readFrameFolder } from './frameFolder.ts'

/** Enough to tell the product from every side. */
const framesOnSheet = 24

/** Frames for the sheet: spread evenly over one turn, those that are missing left out. */
export function framesForStrip(turn: Turn, framesPerTurn: number): readonly TurnFrame[] {
  const frames = Math.min(framesPerTurn, turn.length)
  if (frames < 1) return []
  return frameSet(frames, Math.min(framesOnSheet, frames)).flatMap((mark) => turn[mark] ?? [])
}

/**
 * Keeps a sheet of small frames of a take in the studio, where it has none yet: made in the check's thread.
 * @param of.placeOf  where a frame stands in the thread, which then need not decode it again
 * @returns true where one was kept
 */
export async function keepStrip(
  studio: WatchedStudio,
  takeId: Id<'take'>,
  of: {
    readonly run: CheckRun
    readonly turn: Turn
    readonly framesPerTurn: number
    readonly placeOf: (frame: TurnFrame) => number | null
  },
): Promise<boolean> {
  if (contactStrip(studio.db, takeId)) return false
  const frames = framesForStrip(of.turn, of.framesPerTurn)
  if (frames.length === 0) return false
  const sheet = await of.run.strip(
    frames.map((frame) => ({ folder: frame.folder, files: frame.files, place: of.placeOf(frame) })),
  )
  // The studio may have been closed meanwhile: its owner cannot be asked for any more.
  if (!sheet || !studio.db.open || contactStrip(studio.db, takeId)) return false
  const { db, folder, owner, now } = studio
  keepContactStrip({ db, folder, who: owner, now: now().toISOString() }, takeId, {
    ...sheet,
    frames: frames.map(({ frame }) => frame),
  })
  return true
}

/**
 * Keeps the contact strip of a kept take without checking it: of its own files, or of those in the folders that it was
 * checked in. One whose folders are out of reach is passed over: it has none until it is checked again.
 */
export async function keepStripOfTake(studio: WatchedStudio, takeId: Id<'take'>): Promise<boolean> {
  const known = takeToCheck(studio.db, takeId)
  if (!known?.isKept || contactStrip(studio.db, takeId)) return false
  const folders = checkFolders(studio.db, takeId, known.folders)
  if (folders.length === 0) return false
  const turn = await turnOfKept(known, folders)
  const run = runCheck({ onFrame: () => {}, onGone: () => {}, onFailed: () => {} })
  try {
    const { framesPerTurn } = known.take
    return await keepStrip(studio, takeId, { run, turn, framesPerTurn, placeOf: () => null })
  } finally {
    run.stop()
  }
}

async function turnOfKept(known: TakeToCheck, folders: readonly string[]): Promise<Turn> {
  const read: ReadFolder[] = []
  for (const folder of folders) read.push({ folder, frames: await framesIn(folder) })
  return turnOfTake(known, read).turn
}

/** None where the folder is out of reach. */
async function framesIn(folder: string): Promise<ReadFolder['frames']> {
  try {
    return joinFrames((await readFrameFolder(folder)).files)
  } catch {
    return []
  }
}
