import { formatLength } from '../length.ts'
import { Refusal } from '../refusal.ts'
import { checkLength } from './guard.ts'

/** How a turn of equal steps meets its own start. */
export interface Closing {
  /** Whole steps that fit on the rim. */
  readonly fullSteps: number
  /** The rim left after the last full step, in tenths of a micrometre: 0 where the turn closes. */
  readonly remainderUm10: number
  readonly remainderDeg: number
  /** The remainder as a part of one step, 0 to less than 1. */
  readonly remainderPart: number
  readonly closes: boolean
  /** The number of frames per turn whose even step is nearest to the wished one. */
  readonly nearestFrames: number
  /** Step that closes the turn with `nearestFrames`, in tenths of a micrometre; not always whole. */
  readonly evenStepUm10: number
  readonly evenStepDeg: number
  /**
   * How far the last step of `nearestFrames` equal wished steps misses the start, in tenths of a micrometre:
   * more than 0 leaves a long seam, less than 0 a short one.
   */
  readonly seamUm10: number
}

/**
 * Frames per turn N = rim ÷ step and what is left at the seam. The rim is what the tape itself reads where it
 * comes round to its start, not π × diameter: a tape's own thickness makes it read longer.
 * @param rimUm10   rim as the tape reads it, in tenths of a micrometre, over 0
 * @param stepUm10  way moved along the rim between two frames, over 0 and at most half the rim
 */
export function closing(rimUm10: number, stepUm10: number): Closing {
  checkLength(rimUm10, 'The rim', 'rim')
  checkLength(stepUm10, 'The step', 'step')
  if (2 * stepUm10 > rimUm10) {
    throw new Refusal(
      'step-too-long',
      `The step, ${formatLength(stepUm10)}, is over half of the rim, ${formatLength(rimUm10)}. Enter a shorter step, or measure the rim again.`,
      { field: 'step' },
    )
  }
  const remainderUm10 = rimUm10 % stepUm10
  const fullSteps = (rimUm10 - remainderUm10) / stepUm10
  const nearestFrames = 2 * remainderUm10 >= stepUm10 ? fullSteps + 1 : fullSteps
  return {
    fullSteps,
    remainderUm10,
    remainderDeg: (360 * remainderUm10) / rimUm10,
    remainderPart: remainderUm10 / stepUm10,
    closes: remainderUm10 === 0,
    nearestFrames,
    evenStepUm10: rimUm10 / nearestFrames,
    evenStepDeg: 360 / nearestFrames,
    seamUm10: rimUm10 - nearestFrames * stepUm10,
  }
}
