import type { Point } from './places.ts'

/** What a drawing shows, in mm round the axis. */
export interface Extent {
  readonly left: number
  readonly right: number
  readonly top: number
  readonly bottom: number
}

/** Where the axis stands on the page, and how many units of the page a millimetre takes. */
export interface Fit {
  readonly perMm: number
  readonly axis: Point
}

/** The page a drawing stands on, in px or points. */
export interface PageSize {
  readonly width: number
  readonly height: number
  readonly marginX: number
  readonly marginY: number
}

/** The rectangle that holds all points, in mm. */
export function extentOf(points: readonly Point[]): Extent {
  const xs = points.map(({ x }) => x)
  const ys = points.map(({ y }) => y)
  return { left: Math.min(...xs), right: Math.max(...xs), top: Math.min(...ys), bottom: Math.max(...ys) }
}

/**
 * Puts an extent inside the margins, in the middle.
 * @param mmPer  millimetres to a unit of the page: one scale for several drawings; without it the largest that fits
 */
export function fitPage(extent: Extent, page: PageSize, mmPer?: number): Fit {
  const perMm =
    mmPer === undefined
      ? Math.min(
          (page.width - 2 * page.marginX) / Math.max(extent.right - extent.left, 1),
          (page.height - 2 * page.marginY) / Math.max(extent.bottom - extent.top, 1),
        )
      : 1 / mmPer
  return {
    perMm,
    axis: {
      x: page.width / 2 - ((extent.left + extent.right) / 2) * perMm,
      y: page.height / 2 - ((extent.top + extent.bottom) / 2) * perMm,
    },
  }
}

/** A point in mm round the axis on the page. */
export function onPage({ perMm, axis }: Fit, { x, y }: Point): Point {
  return { x: axis.x + x * perMm, y: axis.y + y * perMm }
}

/** A point of the page in mm round the axis: the way back of `onPage`. */
export function inMm({ perMm, axis }: Fit, { x, y }: Point): Point {
  return { x: (x - axis.x) / perMm, y: (y - axis.y) / perMm }
}
