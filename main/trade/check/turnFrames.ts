import { countWords } from '../countWords.ts'
import { formatDecimal } from '../decimal.ts'
import { baseName, type FrameFiles, inShootingOrder } from '../frameFiles.ts'
import type { TakeFrame } from '../pack.ts'
import { longestStepMs } from '../pause.ts'
import { median } from '../quantile.ts'

/** A frame of the turn with the files that hold it, its picture before its raw file. */
export interface TurnFrame {
  /** Its number in the take, from 1. */
  readonly frame: number
  /** The folder its files lie in: a name may stand in two folders of one take. */
  readonly folder: string
  readonly files: readonly string[]
}

/**
 * The frames of a take as the check sees them, one for each mark from the first on: void frames are left out, since
 * their marks were shot again, and a mark without a frame is null.
 */
export type Turn = readonly (TurnFrame | null)[]

/** What was read in one of the folders that a take went on in. */
export interface ReadFolder {
  readonly folder: string
  readonly frames: readonly FrameFiles[]
}

/**
 * Where the files of a take are looked for. One of its own folders stands at its own place, in whatever order they are
 * named; others stand in the place of those that were not named, since cards are copied elsewhere. Where fewer are
 * named than it has, the rest is looked for where the take knows it, and never in a folder that may hold other frames
 * of the same names. What is named besides comes last.
 * @param ofTake  the take's own folders, in the order it went on in them; none where it does not know its files
 */
export function foldersToRead(named: readonly string[], ofTake: readonly string[]): readonly string[] {
  const others = [...named]
  const own = ofTake.map((folder) => {
    const at = others.indexOf(folder)
    if (at >= 0) others.splice(at, 1)
    return at >= 0
  })
  return [...ofTake.map((folder, at) => (own[at] ? folder : (others.shift() ?? folder))), ...others]
}

/**
 * The turn of a take whose frames have their files: counted by them, or read from them afterwards.
 * @param folders  in the take's own order
 */
export function turnOfFiled(frames: readonly TakeFrame[], folders: readonly string[]): Turn {
  return turnOf(
    frames.map(({ file, folder = 0 }) => ({
      folder: folders[folder] ?? '',
      files: file === null || folders[folder] === undefined ? [] : [file],
    })),
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

/** The turn as the files of its folders make it, and what a person should know of it. */
export interface FoundTurn {
  readonly turn: Turn
  readonly sentence: string | null
}

/**
 * The turn of a take as it lies in its folders. A take that knows its files has them, and from folders named besides
 * what it went on with there; of any other, `turnInFolders` tells.
 * @param take.folders  the take's own, of which `read` has as many at its beginning
 * @param take.toShoot  frames of the turn and its overlap
 */
export function turnOfTake(
  take: {
    readonly frames: readonly TakeFrame[]
    readonly folders: readonly string[]
    readonly times: TakeTimes
    readonly toShoot: number
  },
  read: readonly ReadFolder[],
): FoundTurn {
  const { frames, folders, times } = take
  if (!hasFiles(frames)) return turnInFolders(frames, read, times)
  const filed = turnOfFiled(
    frames,
    read.map(({ folder }) => folder),
  )
  const rest = read.slice(folders.length)
  return rest.length === 0 ? { turn: filed, sentence: null } : withRest(filed, take, rest)
}

/** A filed take with its rest: what was shot after it in other folders, up to the first long gap and the planned count. */
function withRest(
  filed: Turn,
  { frames, times, toShoot }: Parameters<typeof turnOfTake>[0],
  rest: readonly ReadFolder[],
): FoundTurn {
  const good = frames.filter(({ isVoid }) => !isVoid).length
  const later = inOrder(rest, (frame) => writtenMs(frame) >= times.startedMs - beforeMs)
  const goesOn = untilLongGap(later).slice(0, Math.max(0, toShoot - good))
  const lastMark = Math.max(-1, ...frames.map(({ mark }) => mark))
  const turn = [...filed]
  for (const [at, frame] of goesOn.entries()) {
    put(turn, lastMark + 1 + at, { ...placeOf(frame), frame: frames.length + 1 + at })
  }
  const where = rest.map(({ folder }) => folder).join(' and ')
  const sentence =
    goesOn.length === 0
      ? `No frame in ${where} goes on with this take, which counts ${countWords(good, 'frame')} of ${countWords(toShoot, 'frame')}.`
      : `The take counts ${countWords(good, 'frame')}; ${countWords(goesOn.length, 'frame')} more from ${where} are read as its rest.`
  return { turn, sentence }
}

function untilLongGap(frames: readonly FolderFrame[]): readonly FolderFrame[] {
  const gaps = frames.slice(1).map((frame, at) => writtenMs(frame) - writtenMs(frames[at] ?? frame))
  const turning = gaps.filter((gap) => gap > 0)
  const longest = longestStepMs(turning.length === 0 ? 0 : median(turning))
  const end = gaps.findIndex((gap) => gap > longest)
  return end < 0 ? frames : frames.slice(0, end + 1)
}

type FolderFrame = FrameFiles & { readonly folder: string }

/** The first of its files that was written, in ms since 1970. */
function writtenMs({ files }: FrameFiles): number {
  return Math.min(...files.map(({ modifiedMs }) => modifiedMs))
}

function placeOf({ folder, files }: FolderFrame): {
  readonly folder: string
  readonly files: readonly string[]
} {
  return { folder, files: files.map(({ name }) => name) }
}

/**
 * Frames of several folders in the order they were shot: folder after folder where their times say that one was
 * filled after the other; else by their numbers, over 9999 to 0001, unless a number stands in two of them.
 */
function inOrder(read: readonly ReadFolder[], isWanted: (frame: FrameFiles) => boolean): FolderFrame[] {
  const lists = read.flatMap(({ folder, frames }) => {
    const wanted = inShootingOrder(frames).filter(isWanted)
    return wanted.length === 0 ? [] : [wanted.map((frame) => ({ ...frame, folder }))]
  })
  const spans = lists
    .map((list) => {
      const times = list.map(writtenMs)
      return { list, from: Math.min(...times), to: Math.max(...times) }
    })
    .sort((a, b) => a.from - b.from)
  const isOneAfterOther = spans.every(({ from }, at) => at === 0 || from > (spans[at - 1]?.to ?? 0))
  if (isOneAfterOther) return spans.flatMap(({ list }) => list)
  const all = lists.flat()
  const names = new Set(all.map(({ key }) => baseName(key)))
  return names.size === all.length ? inShootingOrder(all) : all
}

/**
 * The turn of a take that does not know its files: those of its folders that were written while it ran, matched by
 * their order to its frames. Where there are as many files as exposures, void frames have theirs; where there are as
 * many as good frames, the void ones were deleted. Any other number is matched to the good frames, and said.
 * Where no file is from that time but the folders hold just as many frames, they are taken whole: the camera's clock
 * was wrong.
 * @param frames  of the take in their order; of one counted afterwards by hand, as many as it counts
 */
export function turnInFolders(
  frames: readonly TakeFrame[],
  read: readonly ReadFolder[],
  { startedMs, endedMs }: TakeTimes,
): FoundTurn {
  const good = frames.filter(({ isVoid }) => !isVoid).length
  const inTime = inOrder(read, (frame) => {
    const atMs = writtenMs(frame)
    return atMs >= startedMs - beforeMs && (endedMs === null || atMs <= endedMs + afterMs)
  })
  const all = inTime.length === 0 ? inOrder(read, () => true) : []
  const isWholeFolder =
    all.length > 0 && endedMs !== null && [good, frames.length].includes(all.length) && good > 0
  const found = (isWholeFolder ? all : inTime).map(placeOf)
  if (found.length === frames.length)
    return { turn: turnOf(found, frames), sentence: wholeFolder(isWholeFolder) }
  const goodOnly = frames.flatMap((frame, at) => (frame.isVoid ? [] : [{ mark: frame.mark, frame: at + 1 }]))
  const beyond = (at: number) => at - goodOnly.length + 1
  const last = { mark: goodOnly.at(-1)?.mark ?? -1, frame: frames.length }
  const turn: (TurnFrame | null)[] = []
  for (const [at, place] of found.entries()) {
    const of = goodOnly[at] ?? { mark: last.mark + beyond(at), frame: last.frame + beyond(at) }
    put(turn, of.mark, { ...place, frame: of.frame })
  }
  return {
    turn,
    sentence:
      found.length === good
        ? wholeFolder(isWholeFolder)
        : otherCount({ found: found.length, good, folders: read.length }, endedMs === null),
  }
}

function wholeFolder(isWholeFolder: boolean): string | null {
  return isWholeFolder
    ? 'No file was written while this take ran, but there are as many as it has frames: they are matched by their order. Was the camera’s clock wrong?'
    : null
}

function otherCount(
  { found, good, folders }: { readonly found: number; readonly good: number; readonly folders: number },
  isRunning: boolean,
): string | null {
  // A file comes a moment after its press, or before it.
  if (isRunning && Math.abs(found - good) <= 2) return null
  if (found === 0)
    return 'The folder holds no frame that was written while this take ran. Choose the folder of this take.'
  const holds = folders === 1 ? 'The folder holds' : 'The folders hold'
  return `${holds} ${countWords(found, 'frame')} of this take’s time, the take counts ${formatDecimal(good, 0)}. They are matched by their order, so a frame may stand beside another’s number.`
}

function turnOf(places: readonly Omit<TurnFrame, 'frame'>[], frames: readonly TakeFrame[]): Turn {
  const turn: (TurnFrame | null)[] = []
  for (const [at, { isVoid, mark }] of frames.entries()) {
    const place = places[at]
    if (!isVoid && place && place.files.length > 0) put(turn, mark, { ...place, frame: at + 1 })
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
