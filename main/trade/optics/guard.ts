import { Refusal } from '../refusal.ts'

/** Refuses a size, f-number or time that is zero, negative, infinite or no number. */
export function checkOver0(value: number, what: string, field: string, unit = 'mm'): void {
  if (typeof value !== 'number' || !Number.isFinite(value) || value <= 0) {
    throw new Refusal(
      'bad-size',
      `${what} is ${value}${unit && ` ${unit}`}. Enter a number over 0${unit && ` in ${unit}`}.`,
      { field },
    )
  }
}

/** Refuses a count of pixels that is not a whole number over 0. */
export function checkPixels(value: number, what: string, field: string): void {
  if (!Number.isSafeInteger(value) || value <= 0) {
    throw new Refusal('bad-pixels', `${what} is ${value} pixels. Enter a whole number of pixels over 0.`, {
      field,
    })
  }
}

/** Refuses a view angle that does not lie between straight up and straight down. */
export function checkViewAngle(viewAngleDeg: number): void {
  if (typeof viewAngleDeg !== 'number' || !(Math.abs(viewAngleDeg) <= 90)) {
    throw new Refusal('bad-angle', `The view angle is ${viewAngleDeg}°. Enter an angle from −90° to 90°.`, {
      field: 'viewAngleDeg',
    })
  }
}

/** Refuses a focal length that reaches or passes the distance: such a lens throws no picture on the sensor. */
export function checkLens(focalMm: number, distanceMm: number): void {
  checkOver0(focalMm, 'The focal length', 'focalMm')
  checkOver0(distanceMm, 'The distance', 'distanceMm')
  if (focalMm >= distanceMm) {
    throw new Refusal(
      'focal-over-distance',
      `The focal length, ${focalMm} mm, is not shorter than the distance, ${distanceMm} mm. Move the camera back, or enter a shorter lens.`,
      { field: 'focalMm' },
    )
  }
}
