import { checkFrames } from './guard.ts'

/** One row of a spin: a turn at one viewing angle, with the frames shot past the full turn. */
export interface RowFrames {
  readonly frames: number
  readonly overlap: number
}

/** Frames to shoot for a spin: over all rows, the frames of the turn and its overlap. */
export function framesToShoot(rows: readonly RowFrames[]): number {
  for (const { frames, overlap } of rows) {
    checkFrames(frames, 'The number of frames', 'frames')
    checkFrames(overlap, 'The overlap', 'overlap', 0)
  }
  return rows.reduce((sum, row) => sum + row.frames + row.overlap, 0)
}

/** A third of a turn as overlap in whole frames, rounded down: 81 of 244. A usual length for loop videos. */
export function thirdOfTurn(frames: number): number {
  checkFrames(frames, 'The number of frames', 'frames')
  return Math.floor(frames / 3)
}
