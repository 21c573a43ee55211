import { type FrameName, numberGaps } from './frameFiles.ts'
import type { TakeFrame } from './pack.ts'
import { longestStepMs } from './pause.ts'
import { median } from './quantile.ts'
import type { Pause } from './takes.ts'

/** A frame found in a folder, with the instant it was shot at. */
export interface TimedFrame extends FrameName {
  /** The file it is known by, within the folder. */
  readonly file: string
  /** Its files: two where a raw file and a picture are one frame. */
  readonly files: number
  readonly atMs: number
  /** Whose clock told: the camera's with its zone, the camera's taken as local to the studio, or the file's own time. */
  readonly clock: 'camera' | 'camera, local' | 'file'
}

/** The frames with the camera's clock put right: it stood so many milliseconds ahead, or below 0 behind. */
export function corrected<T extends TimedFrame>(frames: readonly T[], aheadMs: number): T[] {
  return inTime(
    frames.map((frame) => (frame.clock === 'file' ? frame : { ...frame, atMs: frame.atMs - aheadMs })),
  )
}

/** In the order of their times; frames of one instant keep their order. */
export function inTime<T extends TimedFrame>(frames: readonly T[]): T[] {
  return [...frames].sort((a, b) => a.atMs - b.atMs)
}

/**
 * The frames of a take from its files, in their order: one mark after the other.
 * @param gapsAreMarks  true where a missing number is a frame that was shot and lost: its mark stays without a frame
 */
export function framesOfFiles(frames: readonly TimedFrame[], gapsAreMarks: boolean): TakeFrame[] {
  const skips = new Map(
    gapsAreMarks ? numberGaps(frames).map(({ after, missing }) => [after + 1, missing.length]) : [],
  )
  const startMs = frames[0]?.atMs ?? 0
  let mark = -1
  return frames.map(({ atMs, file }, index) => {
    mark += 1 + (skips.get(index) ?? 0)
    return { offsetMs: atMs - startMs, isVoid: false, mark, file }
  })
}

/**
 * The pauses of a take that nobody watched: gaps between its frames that are too long for a step. The step that the gap began or ended with is left to turning.
 */
export function pausesBetween(frames: readonly TakeFrame[]): Pause[] {
  const gaps = frames.slice(1).map(({ offsetMs }, index) => offsetMs - (frames[index]?.offsetMs ?? 0))
  const turning = gaps.filter((gap) => gap > 0)
  if (turning.length === 0) return []
  const longest = longestStepMs(median(turning))
  return gaps.flatMap((gap, index) => {
    const before = frames[index]?.offsetMs ?? 0
    return gap > longest ? [{ fromMs: before, toMs: before + gap }] : []
  })
}
