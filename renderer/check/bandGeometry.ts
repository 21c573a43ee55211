import type { PictureArea } from '../../main/trade/check/smallFrame.ts'

/** A place in the picture, as parts of its width and height from the top left. */
export interface PicturePoint {
  readonly x: number
  readonly y: number
}

/** A band that is thinner, as a part of the picture, was a slip of the pointer, and none to go by. */
export const leastPart = 0.01

/** The band between two corners, cut to the picture; null while it is too thin to be one. */
export function bandFromDrag(from: PicturePoint, to: PicturePoint): PictureArea | null {
  const [left, right] = [within(Math.min(from.x, to.x)), within(Math.max(from.x, to.x))]
  const [top, bottom] = [within(Math.min(from.y, to.y)), within(Math.max(from.y, to.y))]
  return right - left < leastPart || bottom - top < leastPart ? null : { left, top, right, bottom }
}

/** The band somewhere else, as large as it was, stopped by the picture's edges. */
export function movedBand({ left, top, right, bottom }: PictureArea, by: PicturePoint): PictureArea {
  const x = Math.max(-left, Math.min(1 - right, by.x))
  const y = Math.max(-top, Math.min(1 - bottom, by.y))
  return { left: left + x, top: top + y, right: right + x, bottom: bottom + y }
}

/** The band with its lower right corner somewhere else, never thinner than a band can be. */
export function resizedBand(band: PictureArea, by: PicturePoint): PictureArea {
  return {
    ...band,
    right: Math.max(Math.min(1, band.left + leastPart), within(band.right + by.x)),
    bottom: Math.max(Math.min(1, band.top + leastPart), within(band.bottom + by.y)),
  }
}

function within(part: number): number {
  return Math.min(1, Math.max(0, part))
}
