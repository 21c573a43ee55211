import type { Point } from './ringGeometry.ts'

/** A light's or camera's place round the platter's axis, seen from above. */
export interface Bearing {
  /** Degrees clockwise from the camera's side (camera 0, left 90, behind 180, right 270). */
  readonly bearingDeg: number
  /** From the platter's axis, in mm. */
  readonly distanceMm: number
}

/** The place in mm round the axis, x to the right, y towards the camera, as the plan is drawn. */
export function placeOf({ bearingDeg, distanceMm }: Bearing): Point {
  const angle = (bearingDeg * Math.PI) / 180
  return { x: -distanceMm * Math.sin(angle), y: distanceMm * Math.cos(angle) }
}

/** What a plan shows, in mm. */
export interface PlanExtent {
  readonly left: number
  readonly right: number
  readonly top: number
  readonly bottom: number
}

/** The rectangle that holds the platter and every place, in mm round the axis. */
export function extentOf(platterRadiusMm: number, places: readonly Point[]): PlanExtent {
  const xs = [...places.map((place) => place.x), platterRadiusMm, -platterRadiusMm]
  const ys = [...places.map((place) => place.y), platterRadiusMm, -platterRadiusMm]
  return { left: Math.min(...xs), right: Math.max(...xs), top: Math.min(...ys), bottom: Math.max(...ys) }
}

/**
 * Where the axis stands in px, and px per mm, so that the extent lies inside the margins, in the middle.
 * @param mmPerPx  one scale for several plans; without it the largest that fits
 */
export function fitPlan(
  extent: PlanExtent,
  size: {
    readonly width: number
    readonly height: number
    readonly marginX: number
    readonly marginY: number
  },
  mmPerPx?: number,
): { readonly pxPerMm: number; readonly axis: Point } {
  const roomX = size.width - 2 * size.marginX
  const roomY = size.height - 2 * size.marginY
  const fits = Math.min(roomX / (extent.right - extent.left), roomY / (extent.bottom - extent.top))
  const pxPerMm = mmPerPx ? 1 / mmPerPx : fits
  return {
    pxPerMm,
    axis: {
      x: size.width / 2 - ((extent.left + extent.right) / 2) * pxPerMm,
      y: size.height / 2 - ((extent.top + extent.bottom) / 2) * pxPerMm,
    },
  }
}
