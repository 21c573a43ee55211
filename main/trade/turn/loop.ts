import { Refusal } from '../refusal.ts'
import { frameRate, loopSeconds, type Seconds } from './frameRate.ts'
import { checkFrames } from './guard.ts'
import { timecode } from './timecode.ts'

export interface LoopCut {
  /** Frames per turn. */
  readonly frames: number
  /** Frames shot past the full turn. */
  readonly overlap: number
  /** The frame the loop starts at, from 0: any of the turn, since its marks close. */
  readonly start: number
  readonly isReversed: boolean
}

/**
 * The shot frames of one loop in playing order, from 0: a … a + N − 1, or the same backwards. Past the last frame
 * shot it goes on with the first at the same mark. Start and direction are choices made after the shoot. Refuses a start
 * past the turn and its overlap.
 */
export function loopFrames({ frames, overlap, start, isReversed }: LoopCut): number[] {
  checkFrames(frames, 'The number of frames', 'frames', 2)
  checkFrames(overlap, 'The overlap', 'overlap', 0)
  const last = frames + overlap - 1
  if (!Number.isSafeInteger(start) || start < 0 || start > last) {
    throw new Refusal(
      'start-past-turn',
      `A loop cannot start at frame ${start}: ${frames + overlap} frames are shot, the turn's and the overlap's. Enter a whole number from 0 to ${last}.`,
      { field: 'start' },
    )
  }
  const forward = Array.from({ length: frames }, (_, i) =>
    start + i <= last ? start + i : start + i - frames,
  )
  return isReversed ? forward.reverse() : forward
}

/** A clip of whole loops. */
export interface Repeats {
  readonly repeats: number
  readonly frames: number
  readonly seconds: Seconds
  /** Length of the clip as a timecode. */
  readonly timecode: string
  /** Frames past the wished length, rounded up to whole frames; under one loop. */
  readonly framesOver: number
}

/** A day in ms: no clip is longer, and the products below stay exact. */
const dayMs = 86_400_000

/**
 * The fewest whole loops that last at least as long as wished, so that the clip itself loops again.
 * @param loop      frames of one loop
 * @param rateName  one of `frameRateNames`
 * @param wishedMs  whole milliseconds, over 0 and under a day
 */
export function repeatsFor(loop: number, rateName: string, wishedMs: number): Repeats {
  checkFrames(loop, 'The number of frames', 'frames')
  const rate = frameRate(rateName)
  if (!Number.isSafeInteger(wishedMs) || wishedMs <= 0 || wishedMs >= dayMs) {
    throw new Refusal(
      'bad-clip-length',
      `A clip of ${wishedMs / 1000} s cannot be cut. Enter a length over 0 and under 24 hours.`,
      { field: 'wishedMs' },
    )
  }
  const wished = Math.ceil((wishedMs * rate.numerator) / (1000 * rate.denominator))
  const repeats = Math.ceil(wished / loop)
  const frames = repeats * loop
  return {
    repeats,
    frames,
    seconds: loopSeconds(frames, rateName),
    timecode: timecode(frames, rateName),
    framesOver: frames - wished,
  }
}
