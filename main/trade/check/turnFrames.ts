import { type FrameFiles, inShootingOrder } from '../frameFiles.ts'
import type { TakeFrame } from '../pack.ts'

/** A frame of the turn with the files that hold it, its picture before its raw file. */
export interface TurnFrame {
  /** Its number in the take, from 1. */
  readonly frame: number
  readonly files: readonly string[]
}

/**
 * The frames of a take as the check sees them, one for each mark from the first on: void frames are left out, since
 * their marks were shot again, and a mark without a frame is null.
 */
export type Turn = readonly (TurnFrame | null)[]

/** The turn of a take whose frames have their files: counted by them, or read from them afterwards. */
export function turnOfFiled(frames: readonly TakeFrame[]): Turn {
  return turnOf(
    frames.map(({ file }) => (file === null ? [] : [file])),
    frames,
  )
}

/** True where the take itself knows the files of its frames. */
export function hasFiles(frames: readonly TakeFrame[]): boolean {
  return frames.some(({ file }) => file !== null)
}

/** A card writes times to two seconds (FAT), and a slow transfer may end a minute later. From memory. */
const beforeMs = 2000
const afterMs = 60_000

/** When a take ran, in ms since 1970. */
export interface TakeTimes {
  readonly startedMs: number
  /** Null while it runs. */
  readonly endedMs: number | null
}

/** The turn as the files of a folder make it, and what a person should know of it. */
export interface FoundTurn {
  readonly turn: Turn
  readonly sentence: string | null
}

/**
 * The turn of a take that does not know its files: those of a folder that were written while it ran, matched by
 * their order to its frames. Where there are as many files as exposures, void frames have theirs; where there are as
 * many as good frames, the void ones were deleted. Any other number is matched to the good frames, and said.
 * Where no file is from that time but the folder holds just as many frames, it is taken whole: the camera's clock was
 * wrong.
 * @param frames  of the take in their order; of one counted afterwards by hand, as many as it counts
 */
export function turnInFolder(
  frames: readonly TakeFrame[],
  inFolder: readonly FrameFiles[],
  { startedMs, endedMs }: TakeTimes,
): FoundTurn {
  const good = frames.filter(({ isVoid }) => !isVoid).length
  const ordered = inShootingOrder(inFolder)
  const inTime = ordered.filter(({ files }) => {
    const writtenMs = Math.min(...files.map(({ modifiedMs }) => modifiedMs))
    return writtenMs >= startedMs - beforeMs && (endedMs === null || writtenMs <= endedMs + afterMs)
  })
  const isWholeFolder =
    inTime.length === 0 && endedMs !== null && [good, frames.length].includes(ordered.length) && good > 0
  const found = isWholeFolder ? ordered : inTime
  const names = found.map(({ files }) => files.map(({ name }) => name))
  if (found.length === frames.length)
    return { turn: turnOf(names, frames), sentence: wholeFolder(isWholeFolder) }
  const goodOnly = frames.flatMap((frame, at) => (frame.isVoid ? [] : [{ mark: frame.mark, frame: at + 1 }]))
  const beyond = (at: number) => at - goodOnly.length + 1
  const last = { mark: goodOnly.at(-1)?.mark ?? -1, frame: frames.length }
  const turn: (TurnFrame | null)[] = []
  for (const [at, files] of names.entries()) {
    const of = goodOnly[at] ?? { mark: last.mark + beyond(at), frame: last.frame + beyond(at) }
    put(turn, of.mark, { frame: of.frame, files })
  }
  return {
    turn,
    sentence:
      found.length === good ? wholeFolder(isWholeFolder) : otherCount(found.length, good, endedMs === null),
  }
}

function wholeFolder(isWholeFolder: boolean): string | null {
  return isWholeFolder
    ? 'No file was written while this take ran, but there are as many as it has frames: they are matched by their order. Was the camera’s clock wrong?'
    : null
}

function otherCount(found: number, good: number, isRunning: boolean): string | null {
  // A file comes a moment after its press, or before it.
  if (isRunning && Math.abs(found - good) <= 2) return null
  if (found === 0)
    return 'The folder holds no frame that was written while this take ran. Choose the folder of this take.'
  return `The folder holds ${counted(found)} of this take’s time, the take counts ${good}. They are matched by their order, so a frame may stand beside another’s number.`
}

function counted(frames: number): string {
  return `${frames}\u00a0frame${frames === 1 ? '' : 's'}`
}

function turnOf(files: readonly (readonly string[])[], frames: readonly TakeFrame[]): Turn {
  const turn: (TurnFrame | null)[] = []
  for (const [at, { isVoid, mark }] of frames.entries()) {
    const ofFrame = files[at] ?? []
    if (!isVoid && ofFrame.length > 0) put(turn, mark, { frame: at + 1, files: ofFrame })
  }
  return turn
}

function put(turn: (TurnFrame | null)[], mark: number, frame: TurnFrame): void {
  while (turn.length < mark) turn.push(null)
  turn[mark] = frame
}

/** Frames for one who counted them without seeing them: one mark after the other. */
export function plainFrames(count: number): TakeFrame[] {
  return Array.from({ length: count }, (_, mark) => ({ offsetMs: 0, isVoid: false, mark, file: null }))
}
