import { Refusal } from '../refusal.ts'
import { checkFrames } from './guard.ts'

/**
 * Indices (from 0) of `size` frames spread evenly over one turn of `frames`: floor(i × frames ÷ size). The
 * gaps round the turn differ by at most one frame (Bresenham's line; the 'Euclidean rhythm' of Toussaint
 * 2005). Frames of the overlap are never taken. Refuses more frames than the turn has.
 */
export function frameSet(frames: number, size: number): number[] {
  checkFrames(frames, 'The number of frames', 'frames')
  checkFrames(size, 'The size of the frame set', 'size')
  refuseMore(frames, size, `A set of ${size} frames`)
  return Array.from({ length: size }, (_, i) => Math.floor((i * frames) / size))
}

/** Every n-th frame of a turn, with the gap that is left at the seam. */
export interface EveryNth {
  readonly indices: readonly number[]
  /** Frames from the last one taken to the first: n where the turn divides evenly, else fewer. */
  readonly seamFrames: number
  readonly seamDeg: number
  readonly gapDeg: number
  readonly even: boolean
}

/** Every `nth` frame of one turn of `frames`; unless nth divides frames, the seam is left with a short gap. */
export function everyNth(frames: number, nth: number): EveryNth {
  checkFrames(frames, 'The number of frames', 'frames')
  checkFrames(nth, 'The distance between frames', 'nth')
  refuseMore(frames, nth, `One frame in ${nth}`)
  const count = Math.ceil(frames / nth)
  const seamFrames = frames - (count - 1) * nth
  return {
    indices: Array.from({ length: count }, (_, i) => i * nth),
    seamFrames,
    seamDeg: (360 * seamFrames) / frames,
    gapDeg: (360 * nth) / frames,
    even: seamFrames === nth,
  }
}

function refuseMore(frames: number, asked: number, what: string): void {
  if (asked > frames) {
    throw new Refusal(
      'set-over-turn',
      `${what} cannot be taken from a turn of ${frames}. Shoot more frames, or ask for fewer.`,
    )
  }
}
