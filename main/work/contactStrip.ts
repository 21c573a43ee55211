import { takeToCheck } from '../../db/checkedTakes.ts'
import { contactStrip, keepContactStrip } from '../../db/contactStrips.ts'
import type { Id } from '../../db/ids.ts'
import { hasFiles, type Turn, type TurnFrame, turnOfFiled } from '../trade/check/turnFrames.ts'
import { frameSet } from '../trade/turn/frameSet.ts'
import { type CheckRun, runCheck } from './checkRun.ts'
import type { WatchedStudio } from './folderWatch.ts'

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
  const sheet = await of.run.strip(frames.map((frame) => ({ files: frame.files, place: of.placeOf(frame) })))
  const { db, folder, owner, now } = studio
  if (!sheet || !db.open || contactStrip(db, takeId)) return false
  keepContactStrip({ db, folder, who: owner, now: now().toISOString() }, takeId, {
    ...sheet,
    frames: frames.map(({ frame }) => frame),
  })
  return true
}

/**
 * Keeps the contact strip of a kept take whose files are known, without checking it. One whose folder is out of reach
 * is passed over: it has none until the take is checked.
 */
export async function keepStripOfTake(studio: WatchedStudio, takeId: Id<'take'>): Promise<boolean> {
  const known = takeToCheck(studio.db, takeId)
  if (!known?.isKept || known.folder === null || !hasFiles(known.frames)) return false
  const run = runCheck(known.folder, { onFrame: () => {}, onGone: () => {}, onFailed: () => {} })
  try {
    const turn = turnOfFiled(known.frames)
    const { framesPerTurn } = known.take
    return await keepStrip(studio, takeId, { run, turn, framesPerTurn, placeOf: () => null })
  } finally {
    run.stop()
  }
}
