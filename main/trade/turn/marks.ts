import { formatLength } from '../length.ts'
import { Refusal } from '../refusal.ts'
import { checkFrames, checkLength } from './guard.ts'

/**
 * Marks for one turn: mark k is k × rim ÷ frames, rounded from the start to the tape's division (a half
 * upwards), so that no error gathers at the seam. Each mark is within half a division of its true place, two
 * neighbours are within one division of the true step, and the marks rise.
 * Refuses a step shorter than one division, on which two frames would share a mark.
 * @param rimUm10       rim as the tape reads it, in tenths of a micrometre
 * @param frames        frames per turn, a whole number, 2 or more
 * @param divisionUm10  the tape's readable division, in tenths of a micrometre
 * @returns             the tape reading for each frame, in tenths of a micrometre, the first 0
 */
export function turnMarks(rimUm10: number, frames: number, divisionUm10: number): number[] {
  checkLength(rimUm10, 'The rim', 'rim')
  checkLength(divisionUm10, 'The division', 'division')
  checkFrames(frames, 'The number of frames', 'frames', 2)
  if (rimUm10 < frames * divisionUm10) {
    const most = Math.floor(rimUm10 / divisionUm10)
    throw new Refusal(
      'step-under-division',
      `${frames} frames on ${formatLength(rimUm10)} need a step finer than the tape's division, ${formatLength(divisionUm10)}. Enter at most ${most} frames, or a finer division.`,
      { field: 'frames' },
    )
  }
  const twice = 2 * frames * divisionUm10
  return Array.from(
    { length: frames },
    (_, k) => Math.floor((2 * k * rimUm10 + frames * divisionUm10) / twice) * divisionUm10,
  )
}

/** The way from each mark to the next in tenths of a micrometre, the last one over the seam to the start. */
export function markGaps(rimUm10: number, marks: readonly number[]): number[] {
  return marks.map((mark, k) => (marks[k + 1] ?? rimUm10 + (marks[0] ?? 0)) - mark)
}
