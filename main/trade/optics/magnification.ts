import { Refusal } from '../refusal.ts'
import { checkLens, checkOver0 } from './guard.ts'

/**
 * Size on the sensor ÷ size of the thing, m = f ÷ (s − f), of a thin lens focused at s. All distances of the
 * optics are taken from the lens's front principal plane; measured from the middle of the lens they are right
 * to a few centimetres.
 * Source of the thin-lens formulas: photo.stackexchange.com/q/114916, mapleprimes.com/posts/202620.
 */
export function magnification(focalMm: number, distanceMm: number): number {
  checkLens(focalMm, distanceMm)
  return focalMm / (distanceMm - focalMm)
}

/**
 * The f-number that counts at close range, N × (1 + m): the light and the diffraction of a lens moved out to
 * focus are those of a smaller stop. For a lens whose pupils are alike; refuses a negative magnification.
 */
export function effectiveFNumber(fNumber: number, magnified: number): number {
  checkOver0(fNumber, 'The f-number', 'fNumber', '')
  checkMagnified(magnified)
  return fNumber * (1 + magnified)
}

/** Width or height of what a sensor side sees in the plane of focus, in mm: side ÷ m. */
export function fieldMm(sensorSideMm: number, magnified: number): number {
  checkOver0(sensorSideMm, 'The side of the sensor', 'sensorSideMm')
  checkOver0(magnified, 'The magnification', 'magnification', '')
  return sensorSideMm / magnified
}

/** Angle of view over a sensor side, 2 × atan(side ÷ 2f(1 + m)), in degrees; a magnification of 0 is focus far away. */
export function angleOfViewDeg(sensorSideMm: number, focalMm: number, magnified: number): number {
  checkOver0(sensorSideMm, 'The side of the sensor', 'sensorSideMm')
  checkOver0(focalMm, 'The focal length', 'focalMm')
  checkMagnified(magnified)
  return (360 / Math.PI) * Math.atan(sensorSideMm / (2 * focalMm * (1 + magnified)))
}

function checkMagnified(magnified: number): void {
  if (!Number.isFinite(magnified) || magnified < 0) {
    throw new Refusal('bad-size', `The magnification is ${magnified}. Enter 0 or more.`, {
      field: 'magnification',
    })
  }
}
