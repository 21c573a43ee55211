import { formatDecimal } from './decimal.ts'

/*
 * The one rule for the sign of every angle up or down: what comes from above is more than 0. A camera that looks down
 * has a positive tilt, a row seen from above a positive viewing angle, a light that falls from above a positive
 * elevation; 0 is level. So a row's viewing angle and the tilt of a camera that looks along it are the same number.
 */

/** The angle in words: '5° down', '2.5° up', 'level'. */
export function lookingText(angleDeg: number): string {
  const mdeg = Math.round(angleDeg * 1000)
  if (mdeg === 0) return 'level'
  return `${formatDecimal(Math.abs(mdeg), 3)}° ${mdeg > 0 ? 'down' : 'up'}`
}

/**
 * Where what looks from a place meets the platter's axis, in mm over the platter's surface: height less distance times
 * the tangent of the angle. Straight up or down it never meets the axis: null.
 * @param distanceMm  level, from the axis
 */
export function meetsAxisMm(distanceMm: number, heightMm: number, angleDeg: number): number | null {
  if (Math.abs(angleDeg) > 89.9) return null
  return heightMm - distanceMm * Math.tan((angleDeg * Math.PI) / 180)
}

/** The angle in degrees that looks from a place at a height on the axis: the way back of `meetsAxisMm`. */
export function angleToAxisDeg(distanceMm: number, heightMm: number, axisHeightMm: number): number {
  return (Math.atan2(heightMm - axisHeightMm, distanceMm) * 180) / Math.PI
}
