/** A point in millimetres or on a page. */
export interface Point {
  readonly x: number
  readonly y: number
}

/** A light's or camera's place round the platter's axis, seen from above. */
export interface Bearing {
  /** Degrees clockwise from the camera's side (camera 0, left 90, behind 180, right 270). */
  readonly bearingDeg: number
  /** Level, from the platter's axis, in mm. */
  readonly distanceMm: number
}

/** The place in mm round the axis, x to the right, y towards the camera, as the plan is drawn. */
export function placeOf({ bearingDeg, distanceMm }: Bearing): Point {
  const angle = (bearingDeg * Math.PI) / 180
  return { x: -distanceMm * Math.sin(angle), y: distanceMm * Math.cos(angle) }
}

/** The way back of `placeOf`: the bearing from 0 to under 360, and the distance. At the axis itself the bearing is 0. */
export function bearingOf({ x, y }: Point): Bearing {
  const degrees = (Math.atan2(-x, y) * 180) / Math.PI
  const bearingDeg = degrees < 0 ? degrees + 360 : degrees
  return {
    bearingDeg: bearingDeg >= 360 || Object.is(bearingDeg, -0) ? 0 : bearingDeg,
    distanceMm: Math.hypot(x, y),
  }
}

/**
 * The place seen from the side, from the camera's right: the camera stands at the left, x runs away from it through
 * the axis, y runs down from the platter's surface.
 */
export function sidePlaceOf(place: Bearing & { readonly heightMm: number }): Point {
  return { x: -placeOf(place).y, y: -place.heightMm }
}
