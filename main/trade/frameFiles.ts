/** A file as a folder tells of it: its name within the folder with forward slashes, its size, its own time. */
export interface SeenFile {
  readonly name: string
  readonly bytes: number
  readonly modifiedMs: number
}

/** What a camera file's name says. */
export interface FrameName {
  /**
   * The same for every file of one frame: a raw file and a JPEG beside it are one frame. Small letters, since
   * cards and Windows do not tell large from small.
   */
  readonly key: string
  readonly prefix: string
  /** The number the camera or tether counted; null where the name holds no digit. */
  readonly number: number | null
  readonly digits: number
  readonly kind: 'picture' | 'raw'
}

/** One frame of a folder with the files that hold it, its picture before its raw file. */
export interface FrameFiles extends FrameName {
  readonly files: readonly SeenFile[]
}

const pictures = new Set(['jpg', 'jpeg', 'png', 'tif', 'tiff', 'webp', 'heic', 'heif', 'hif', 'avif'])
// Raw files by the endings that cameras give them, and DNG (Adobe's open description). From memory.
const raws = new Set(
  'dng raw cr2 cr3 crw nef nrw arw sr2 srf orf ori rw2 raf pef srw x3f 3fr fff iiq erf mef mos rwl gpr'.split(
    ' ',
  ),
)

/**
 * What the name of a file says of its frame; undefined for what is no frame: hidden and temporary files,
 * side-cars, films. A name of eight characters is read as cameras write it, four of any kind and four digits
 * (DCF, CIPA DC-009, from memory); of any other the last run of digits is its number.
 */
export function frameName(name: string): FrameName | undefined {
  const slash = name.lastIndexOf('/') + 1
  const base = name.slice(slash)
  const dot = base.lastIndexOf('.')
  const ending = base.slice(dot + 1).toLowerCase()
  const kind = pictures.has(ending) ? 'picture' : raws.has(ending) ? 'raw' : undefined
  if (dot < 1 || kind === undefined || /^[.~]/u.test(base)) return undefined
  const stem = base.slice(0, dot)
  const [, prefix = stem, digits = ''] = /^(\w{4})(\d{4})$/u.exec(stem) ?? /^(.*?)(\d+)\D*$/u.exec(stem) ?? []
  return {
    key: name.slice(0, slash + dot).toLowerCase(),
    prefix,
    number: digits === '' ? null : Number(digits),
    digits: digits.length,
    kind,
  }
}

/**
 * True for the folders a camera makes inside the one it writes to: DCIM, and in it three digits from 100 and
 * five letters (DCF, CIPA DC-009, from memory). Other folders hold exports and what was thrown away.
 */
export function isCameraFolder(name: string): boolean {
  return /^(?:DCIM|[1-9]\d\d\w{5})$/iu.test(name)
}

/** The frames of a folder's files: what is no frame left out, a raw file and its picture as one. */
export function joinFrames(files: readonly SeenFile[]): FrameFiles[] {
  const frames = new Map<string, FrameFiles>()
  for (const file of files) {
    const name = frameName(file.name)
    if (!name) continue
    const before = frames.get(name.key)
    if (!before) frames.set(name.key, { ...name, files: [file] })
    else if (name.kind === 'picture') frames.set(name.key, { ...name, files: [file, ...before.files] })
    else frames.set(name.key, { ...before, files: [...before.files, file] })
  }
  return [...frames.values()]
}

/** A camera counts from 1 to the largest number of its digits, and then from 1 again (DCF, from memory). */
function stepsFrom(a: FrameName, b: FrameName): number | undefined {
  if (a.number === null || b.number === null || a.prefix !== b.prefix || a.digits !== b.digits)
    return undefined
  const most = 10 ** a.digits - 1
  return (((b.number - a.number) % most) + most) % most
}

/** True where one counter may have numbered both, the second after the first; or where a name holds no number. */
export function countsOn(a: FrameName, b: FrameName): boolean {
  if (a.prefix !== b.prefix || (a.number === null) !== (b.number === null)) return false
  const steps = stepsFrom(a, b)
  return a.number === null || (steps !== undefined && steps <= (10 ** a.digits - 1) / 2)
}

/** So many numbers between two files may be test frames, or deleted. */
const fewBetween = 10

/** True where one counter numbered both and the second is the next, or one of the next few, over 9999 to 0001 too. */
export function comesNext(a: FrameName, b: FrameName): boolean {
  const steps = stepsFrom(a, b)
  return steps !== undefined && steps >= 1 && steps <= fewBetween
}

/**
 * Frames that came together, in the order they were shot: by their numbers, over the turn from 9999 to 0001,
 * where one counter numbered them all; else by the files' own times.
 */
export function inShootingOrder<T extends FrameFiles>(frames: readonly T[]): T[] {
  const [first] = frames
  const isOneCounter = first !== undefined && frames.every((frame) => stepsFrom(first, frame) !== undefined)
  const half = first ? (10 ** first.digits - 1) / 2 : 0
  return [...frames].sort((a, b) => {
    if (!isOneCounter) return timeOf(a) - timeOf(b) || (a.key < b.key ? -1 : 1)
    const steps = stepsFrom(a, b) ?? 0
    return steps === 0 ? (a.key < b.key ? -1 : 1) : steps <= half ? -1 : 1
  })
}

function timeOf({ files }: FrameFiles): number {
  return Math.min(...files.map(({ modifiedMs }) => modifiedMs))
}

/** Numbers that are missing after a frame, counted from 0 in the order of the frames. */
export interface NumberGap {
  readonly after: number
  /** What the missing files would be called, without their ending. */
  readonly missing: readonly string[]
}

const longestGap = 200

/**
 * Numbers left out between neighbours. A counter that begins anew is no gap, nor are names whose numbers mean
 * something else, such as a time: where every fourth step has a gap, none is named.
 */
export function numberGaps(frames: readonly FrameName[]): NumberGap[] {
  const gaps = frames.flatMap((frame, index) => {
    const before = frames[index - 1]
    const steps = before && stepsFrom(before, frame)
    if (!before || steps === undefined || steps < 2 || steps > longestGap) return []
    const most = 10 ** before.digits - 1
    const missing = Array.from({ length: steps - 1 }, (_, k) => {
      const number = (((before.number ?? 0) + k) % most) + 1
      return `${before.prefix}${String(number).padStart(before.digits, '0')}`
    })
    return [{ after: index - 1, missing }]
  })
  return gaps.length > 3 && gaps.length * 4 > frames.length ? [] : gaps
}

/** A file's name as it is said: without the folders before it. */
export function baseName(name: string): string {
  return name.slice(name.lastIndexOf('/') + 1)
}
