import { Refusal } from '../refusal.ts'
import { checkLens, checkOver0 } from './guard.ts'

export interface FocusedLens {
  readonly focalMm: number
  /** Where the lens is focused. */
  readonly distanceMm: number
  readonly fNumber: number
  /** The largest blur that still counts as sharp, on the sensor: here one delivered pixel. */
  readonly circleMm: number
}

/** What is sharp around the plane of focus, in mm from the lens. */
export interface DepthOfField {
  readonly nearMm: number
  /** Infinity where everything behind the focus is sharp. */
  readonly farMm: number
  readonly totalMm: number
}

/** Depth of field of a thin lens, exact: s·f² ÷ (f² ± N·c·(s − f)). Source: mapleprimes.com/posts/202620. */
export function depthOfField({ focalMm, distanceMm, fNumber, circleMm }: FocusedLens): DepthOfField {
  checkLens(focalMm, distanceMm)
  checkStop(fNumber, circleMm)
  const square = focalMm ** 2
  const spread = fNumber * circleMm * (distanceMm - focalMm)
  const nearMm = (distanceMm * square) / (square + spread)
  const farMm = spread >= square ? Infinity : (distanceMm * square) / (square - spread)
  return { nearMm, farMm, totalMm: farMm - nearMm }
}

/**
 * Depth of field at close range by magnification alone, 2·N·c·(m + 1) ÷ m², in mm: right to a percent from
 * m = 1/20 up with product lenses, far too long for landscapes. Source: the Manual of Photography's close-up
 * form, cited at l-camera-forum.com topic 52273.
 */
export function closeUpDepthMm(fNumber: number, circleMm: number, magnified: number): number {
  checkStop(fNumber, circleMm)
  checkOver0(magnified, 'The magnification', 'magnification', '')
  return (2 * fNumber * circleMm * (magnified + 1)) / magnified ** 2
}

/** Where to focus so that the nearest and the farthest part are equally sharp: 2·n·F ÷ (n + F), in mm. */
export function focusBetweenMm(nearMm: number, farMm: number): number {
  checkRange(nearMm, farMm)
  return (2 * nearMm * farMm) / (nearMm + farMm)
}

/**
 * The widest f-number that keeps everything from near to far sharp to the circle, focused by `focusBetweenMm`:
 * f²·(F − n) ÷ (c·(2nF − f·(n + F))), the exact depth of field solved for N.
 */
export function fNumberHolding(focalMm: number, nearMm: number, farMm: number, circleMm: number): number {
  checkRange(nearMm, farMm)
  checkLens(focalMm, focusBetweenMm(nearMm, farMm))
  checkOver0(circleMm, 'The circle of confusion', 'circleMm')
  return (focalMm ** 2 * (farMm - nearMm)) / (circleMm * (2 * nearMm * farMm - focalMm * (nearMm + farMm)))
}

function checkStop(fNumber: number, circleMm: number): void {
  checkOver0(fNumber, 'The f-number', 'fNumber', '')
  checkOver0(circleMm, 'The circle of confusion', 'circleMm')
}

function checkRange(nearMm: number, farMm: number): void {
  checkOver0(nearMm, 'The near distance', 'nearMm')
  checkOver0(farMm, 'The far distance', 'farMm')
  if (nearMm >= farMm) {
    throw new Refusal(
      'near-not-nearer',
      `The near distance, ${nearMm} mm, is not nearer than the far one, ${farMm} mm. Swap or correct them.`,
      { field: 'nearMm' },
    )
  }
}
