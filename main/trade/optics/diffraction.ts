import { checkOver0 } from './guard.ts'
import { effectiveFNumber } from './magnification.ts'

/** Green light in nm, for which the Airy discs of lens makers' tables are usually given. */
export const greenNm = 520

/**
 * Diameter on the sensor, in mm, of the disc that a perfect lens makes of a point: 2.44 × wavelength ×
 * effective f-number (to the first dark ring). Source: edmundoptics.com, 'The Airy Disk and Diffraction Limit'.
 */
export function airyDiscMm(fNumber: number, magnified: number, wavelengthNm = greenNm): number {
  checkOver0(wavelengthNm, 'The wavelength', 'wavelengthNm', 'nm')
  return 2.44 * wavelengthNm * 1e-6 * effectiveFNumber(fNumber, magnified)
}

/** The f-number, as engraved, past which that disc is larger than the circle: one delivered pixel. */
export function diffractionFNumber(circleMm: number, magnified: number, wavelengthNm = greenNm): number {
  checkOver0(circleMm, 'The circle of confusion', 'circleMm')
  return circleMm / airyDiscMm(1, magnified, wavelengthNm)
}
