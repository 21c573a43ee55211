/**
 * The least height of a capital letter that is read with ease, as the angle it fills in the eye, in minutes of
 * arc. ISO 9241-303 asks for 16′ at least and prefers 20′ to 22′ (from memory).
 */
export const leastLetterArcmin = 16

/** What is read from the platter, and what is read by the hand that presses it, in mm. */
export const farMm = 2000
export const nearMm = 600

/** A CSS pixel as the standard takes it: a 96th of an inch (W3C, CSS Values and Units 4, 6.2). */
export const cssPixelMm = 25.4 / 96

/** The angle that a height fills in the eye at a distance, in minutes of arc: 2·atan(h ÷ 2d). */
export function heightArcmin(heightMm: number, distanceMm: number): number {
  return ((2 * Math.atan(heightMm / (2 * distanceMm)) * 180) / Math.PI) * 60
}

/** The least height of a capital letter for a distance, in mm: the way back from `leastLetterArcmin`. */
export function leastLetterMm(distanceMm: number): number {
  return 2 * distanceMm * Math.tan(((leastLetterArcmin / 60) * Math.PI) / 360)
}
