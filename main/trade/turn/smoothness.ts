import { checkOver0 } from '../optics/guard.ts'
import { Refusal } from '../refusal.ts'
import { checkFrames, checkLength } from './guard.ts'

/** The way of one point of the product from frame to frame. */
export interface TurnStep {
  readonly degrees: number
  readonly arcMm: number
  readonly chordMm: number
  /** How far the arc rises over its chord. */
  readonly sagittaMm: number
}

/**
 * One step of a turn at a radius: 360 ÷ N degrees, arc 2πρ ÷ N, chord 2ρ·sin(π ÷ N).
 * @param radiusMm  distance of the point from the axis, over 0
 * @param frames    frames per turn, 2 or more
 */
export function turnStep(radiusMm: number, frames: number): TurnStep {
  checkOver0(radiusMm, 'The radius', 'radiusMm')
  checkFrames(frames, 'The number of frames', 'frames', 2)
  return {
    degrees: 360 / frames,
    arcMm: (2 * Math.PI * radiusMm) / frames,
    chordMm: 2 * radiusMm * Math.sin(Math.PI / frames),
    // 1 − cos x, written so that small steps lose no digits.
    sagittaMm: 2 * radiusMm * Math.sin(Math.PI / (2 * frames)) ** 2,
  }
}

export interface SmoothnessRequest {
  readonly frames: number
  readonly rimUm10: number
  readonly divisionUm10: number
  /** The product's outermost point: half of its swept width. */
  readonly radiusMm: number
  /** From the lens to the axis. */
  readonly distanceMm: number
  /** Delivered pixels for one mm at the axis: `deliveredPxPerMm` gives it. */
  readonly axisPxPerMm: number
}

/** How smooth a turn looks, and whether more frames could still make it smoother. */
export interface Smoothness extends TurnStep {
  /** Step of the outermost point as it passes in front, in delivered pixels: the measure of smoothness. */
  readonly stepPx: number
  /** What half a division at the pointer turns the product by, and shifts that point by on screen. */
  readonly pointerErrorDeg: number
  readonly pointerErrorPx: number
  /** Half a division as a part of the step along the rim. */
  readonly pointerErrorPart: number
  /** More frames than these bring nothing. */
  readonly mostUsefulFrames: number
  /**
   * Why more frames bring nothing, null where they still do. pointer: one step can be wrong by half of itself.
   * pixel: the step is at most one delivered pixel.
   */
  readonly limit: 'pointer' | 'pixel' | null
}

/**
 * Smoothness of a turn on screen. The image is larger at the near face, by d ÷ (d − ρ), and it is there that a
 * point runs across the picture. A mark is read to half a division, so one step can be wrong by a whole one,
 * half at either end: where that is over half of the step, the turn jerks and more frames do not smooth it
 * (common practice, no published source).
 */
export function smoothness(request: SmoothnessRequest): Smoothness {
  const { frames, rimUm10, divisionUm10, radiusMm, distanceMm, axisPxPerMm } = request
  const step = turnStep(radiusMm, frames)
  checkLength(rimUm10, 'The rim', 'rim')
  checkLength(divisionUm10, 'The division', 'division')
  checkOver0(distanceMm, 'The distance', 'distanceMm')
  checkOver0(axisPxPerMm, 'The scale', 'axisPxPerMm', 'pixels per mm')
  if (radiusMm >= distanceMm) {
    throw new Refusal(
      'product-at-lens',
      `A product that reaches ${radiusMm} mm from the axis would touch the lens at ${distanceMm} mm. Move the camera back, or correct the size.`,
      { field: 'distanceMm' },
    )
  }
  const nearPxPerMm = (axisPxPerMm * distanceMm) / (distanceMm - radiusMm)
  const errorTurns = divisionUm10 / 2 / rimUm10
  const byPointer = Math.max(2, Math.floor(rimUm10 / (2 * divisionUm10)))
  const byPixel = framesToOnePixel(2 * radiusMm * nearPxPerMm)
  const mostUsefulFrames = Math.min(byPointer, byPixel)
  return {
    ...step,
    stepPx: step.chordMm * nearPxPerMm,
    pointerErrorDeg: 360 * errorTurns,
    pointerErrorPx: 2 * Math.PI * radiusMm * errorTurns * nearPxPerMm,
    pointerErrorPart: errorTurns * frames,
    mostUsefulFrames,
    limit: frames < mostUsefulFrames ? null : byPixel < byPointer ? 'pixel' : 'pointer',
  }
}

/** The most frames whose step is still one pixel, for a point that runs on a circle of that diameter. */
function framesToOnePixel(diameterPx: number): number {
  return diameterPx <= 1 ? 2 : Math.max(2, Math.floor(Math.PI / Math.asin(1 / diameterPx)))
}
