import { fileName, namePattern, refuseEqualNames } from './names.ts'
import { Refusal } from './refusal.ts'
import { frameSet } from './turn/frameSet.ts'

/** A picked take as the files of a deliverable come from it. */
export interface PickedRow {
  readonly row: number
  readonly framesPerTurn: number
  /** The frame of the turn that comes first, from 1. */
  readonly startFrame: number
  readonly reversed: boolean
  /** The number of the good frame at each mark, by mark. */
  readonly frameAtMark: ReadonlyMap<number, number>
}

/** A deliverable of a spin, with what its files are named from. */
export interface WantedFiles {
  readonly spin: string
  readonly code: string
  readonly name: string
  readonly variant: string
  readonly job: string
  readonly deliverable: string
  readonly kind: 'loop' | 'frame set' | 'stills'
  /** Frames of a set, or stills, taken from each row. */
  readonly frames: number | null
  readonly fileType: string
  readonly namePattern: string
  readonly rows: readonly PickedRow[]
}

/** A file the client is to get; `frame` is the number of the take's frame it is made from, null for a loop. */
export interface ExpectedFile {
  readonly name: string
  readonly row: number
  readonly frame: number | null
}

/**
 * The files of one deliverable: a loop is one file a row; a set takes its frames evenly from the turn, from
 * the start frame on, the way it was picked to run. Refuses a set that needs a frame which the take lacks.
 */
export function expectedFiles(wanted: WantedFiles): ExpectedFile[] {
  const type = wanted.fileType
  if (wanted.kind === 'loop') {
    const pattern = namePattern(withoutFrame(wanted.namePattern))
    return wanted.rows.map(({ row }) => ({
      name: `${fileName(pattern, { ...wanted, row, frame: 1 })}.${type}`,
      row,
      frame: null,
    }))
  }
  const pattern = namePattern(wanted.namePattern)
  return wanted.rows.flatMap((picked) => {
    const turn = turnInOrder(picked)
    return frameSet(picked.framesPerTurn, wanted.frames ?? 1).map((place, index) => ({
      name: `${fileName(pattern, { ...wanted, row: picked.row, frame: index + 1 })}.${type}`,
      row: picked.row,
      frame: turn[place] ?? lacks(wanted, picked, place),
    }))
  })
}

/** All files of a delivery; refuses two of one name. */
export function fileListOf<T extends WantedFiles>(
  all: readonly T[],
): { readonly of: T; readonly file: ExpectedFile }[] {
  const files = all.flatMap((of) => expectedFiles(of).map((file) => ({ of, file })))
  refuseEqualNames(files.map(({ file }) => file.name))
  return files
}

/**
 * The take's frames as one turn plays them: a … a + N − 1 from the start frame a, or the same backwards. Past
 * the full turn a frame of the overlap is used where there is one, else the frame at the same mark.
 * @returns frame numbers; undefined where the mark has no good frame
 */
export function turnInOrder({
  framesPerTurn,
  startFrame,
  reversed,
  frameAtMark,
}: PickedRow): (number | undefined)[] {
  const turn = Array.from({ length: framesPerTurn }, (_, index) => {
    const mark = startFrame - 1 + index
    return (
      frameAtMark.get(mark) ?? (mark >= framesPerTurn ? frameAtMark.get(mark - framesPerTurn) : undefined)
    )
  })
  return reversed ? turn.reverse() : turn
}

function lacks(wanted: WantedFiles, picked: PickedRow, place: number): never {
  const fromStart = picked.reversed ? picked.framesPerTurn - 1 - place : place
  const mark = ((picked.startFrame - 1 + fromStart) % picked.framesPerTurn) + 1
  throw new Refusal(
    'frame-lacking',
    `The ${wanted.deliverable} of ${wanted.spin} needs the frame at mark ${mark}, which its take lacks. Let the turn start at another frame, or take it again.`,
  )
}

/** A loop is one file: its name does without the frame's number and the sign before it. */
function withoutFrame(pattern: string): string {
  const without = pattern.replace(/[-_.]?\{frame(?::\d)?\}/u, '').replace(/^[-_.]+/u, '')
  return without === '' ? pattern : without
}
