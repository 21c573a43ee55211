import type { SmallFrame } from '../smallFrame.ts'
import type { BackdropSurface, PixelBox } from './backdropSurface.ts'

/**
 * What lies behind the product, as codes: the backdrop as a surface, or the frame without the product. `gain` brings the
 * empty frame to this frame's exposure, a factor per channel.
 */
export type Behind =
  | { readonly by: 'surface'; readonly surface: BackdropSurface }
  | {
      readonly by: 'empty frame'
      readonly empty: SmallFrame
      readonly gain: readonly [number, number, number]
    }

/** Which pixels are something else than what lies behind: worked out once for all that looks at a frame. */
export interface OffBehind {
  readonly box: PixelBox
  readonly behind: Behind
  /** A mark for each pixel of the frame, row by row: 1 where it is off; 0 outside of the box. */
  readonly isOff: Uint8Array
}

/** @param threshold from how many codes off, as a mean of the channels, a pixel is something else */
export function offBehind(small: SmallFrame, behind: Behind, box: PixelBox, threshold: number): OffBehind {
  const isOff = new Uint8Array(small.widthPx * small.heightPx)
  const row = new Float64Array(3 * (box.toX - box.fromX))
  const most = 3 * threshold
  for (let y = box.fromY; y < box.toY; y++) {
    offRow(small, behind, box, y, row)
    let pixel = y * small.widthPx + box.fromX
    for (let at = 0; at < row.length; at += 3, pixel++) {
      const size =
        Math.abs(row[at] as number) + Math.abs(row[at + 1] as number) + Math.abs(row[at + 2] as number)
      isOff[pixel] = size > most ? 1 : 0
    }
  }
  return { box, behind, isOff }
}

/** Red, green and blue of a row of the box, pixel after pixel, less those of what lies behind, in codes, into `out`. */
export function offRow(small: SmallFrame, behind: Behind, box: PixelBox, y: number, out: Float64Array): void {
  const start = (y * small.widthPx + box.fromX) * 3
  if (behind.by === 'surface') offSurfaceRow(small, behind.surface, y, start, out)
  else {
    const [red, green, blue] = behind.gain
    const { rgb } = small
    const empty = behind.empty.rgb
    for (let at = 0, from = start; at < out.length; at += 3, from += 3) {
      out[at] = (rgb[from] as number) - clipped(red * (empty[from] as number))
      out[at + 1] = (rgb[from + 1] as number) - clipped(green * (empty[from + 1] as number))
      out[at + 2] = (rgb[from + 2] as number) - clipped(blue * (empty[from + 2] as number))
    }
  }
}

/** The surface is of the second degree along a row too: three terms to a channel, worked out once for the row. */
function offSurfaceRow(
  { rgb }: SmallFrame,
  { box, terms }: BackdropSurface,
  y: number,
  start: number,
  out: Float64Array,
): void {
  const v = (2 * (y - box.fromY)) / (box.toY - box.fromY) - 1
  const [red, green, blue] = terms
  const [red0, red1, red2] = alongRow(red, v)
  const [green0, green1, green2] = alongRow(green, v)
  const [blue0, blue1, blue2] = alongRow(blue, v)
  const step = 2 / (box.toX - box.fromX)
  let u = -1
  for (let at = 0, from = start; at < out.length; at += 3, from += 3, u += step) {
    out[at] = (rgb[from] as number) - clipped(red0 + u * (red1 + u * red2))
    out[at + 1] = (rgb[from + 1] as number) - clipped(green0 + u * (green1 + u * green2))
    out[at + 2] = (rgb[from + 2] as number) - clipped(blue0 + u * (blue1 + u * blue2))
  }
}

function alongRow(terms: Float64Array, v: number): readonly [number, number, number] {
  const [one, x, y, xx, xy, yy] = terms as unknown as readonly [
    number,
    number,
    number,
    number,
    number,
    number,
  ]
  return [one + v * (y + v * yy), x + v * xy, xx]
}

function clipped(code: number): number {
  return Math.min(255, Math.max(0, code))
}
