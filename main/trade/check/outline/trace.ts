import type { FrameTrace, Thumb } from '../frameTrace.ts'
import { linearOfCode, luminanceAt, luminanceOf } from '../light/luminance.ts'
import type { SmallFrame } from '../smallFrame.ts'
import { type FrameParts, framePartsOf, type SilhouetteOptions } from './silhouette.ts'

/** How wide the thumb is that frames are matched by. */
const thumbWidthPx = 64
/** At most so many pixels are looked at for the means of the parts: more tell nothing more. */
const pixelsForMeans = 12_000

/**
 * What is kept of a frame once its picture is let go: light of its parts, outline, thumb.
 * Luminance is linear (IEC 61966-2-1). The empty frame and the area of the options hold for the whole take.
 */
export function traceOf(small: SmallFrame, options: SilhouetteOptions = {}): FrameTrace {
  const { thumb, frameY } = thumbOf(small)
  const parts = framePartsOf(small, options)
  const means = parts ? partMeans(small, parts) : { backdrop: null, platter: null, product: null }
  return {
    widthPx: small.widthPx,
    heightPx: small.heightPx,
    frameY,
    backdropY: means.backdrop && luminanceOf(means.backdrop),
    platterY: means.platter && luminanceOf(means.platter),
    productY: means.product && luminanceOf(means.product),
    backdropRgb: means.backdrop,
    thumb,
    silhouette: parts?.silhouette ?? null,
  }
}

type Rgb = readonly [number, number, number]

/** A part of fewer looked-at pixels than this has no light to speak of. */
const leastPixels = 12

function partMeans(
  { rgb, widthPx }: SmallFrame,
  { box, partAt }: FrameParts,
): Readonly<Record<'backdrop' | 'platter' | 'product', Rgb | null>> {
  const sums = { backdrop: [0, 0, 0, 0], platter: [0, 0, 0, 0], product: [0, 0, 0, 0] }
  const pixels = (box.toX - box.fromX) * (box.toY - box.fromY)
  const every = Math.max(1, Math.ceil(Math.sqrt(pixels / pixelsForMeans)))
  for (let y = box.fromY; y < box.toY; y += every) {
    for (let x = box.fromX; x < box.toX; x += every) {
      const part = partAt(x, y)
      if (part === 'none') continue
      const sum = sums[part]
      const at = (y * widthPx + x) * 3
      for (let c = 0; c < 3; c++)
        sum[c] = (sum[c] as number) + (linearOfCode[rgb[at + c] as number] as number)
      sum[3] = (sum[3] as number) + 1
    }
  }
  const mean = ([red = 0, green = 0, blue = 0, count = 0]: readonly number[]): Rgb | null =>
    count < leastPixels ? null : [red / count, green / count, blue / count]
  return { backdrop: mean(sums.backdrop), platter: mean(sums.platter), product: mean(sums.product) }
}

/** The frame in means of equal areas, and its mean; a frame that is small already stays as it is. */
export function thumbOf(small: SmallFrame): { readonly thumb: Thumb; readonly frameY: number } {
  const { rgb, widthPx, heightPx } = small
  const isSmall = widthPx <= thumbWidthPx
  const wide = isSmall ? widthPx : thumbWidthPx
  const high = isSmall ? heightPx : Math.max(1, Math.round((heightPx * thumbWidthPx) / widthPx))
  // A column or a row belongs to the area in which it begins.
  const ends = Array.from({ length: wide }, (_, cell) => Math.ceil(((cell + 1) * widthPx) / wide))
  const rows = new Uint16Array(high)
  const y = new Float32Array(wide * high)
  let sum = 0
  for (let row = 0, at = 0; row < heightPx; row++) {
    const line = Math.floor((row * high) / heightPx)
    rows[line] = (rows[line] as number) + 1
    for (let cell = 0, column = 0; cell < wide; cell++) {
      let light = 0
      for (const end = ends[cell] as number; column < end; column++, at += 3) {
        light += luminanceAt(rgb, at)
      }
      sum += light
      y[line * wide + cell] = (y[line * wide + cell] as number) + light
    }
  }
  for (let cell = 0; cell < y.length; cell++) {
    const column = cell % wide
    const columns = (ends[column] as number) - (ends[column - 1] ?? 0)
    y[cell] = (y[cell] as number) / (columns * (rows[(cell - column) / wide] || 1))
  }
  return { thumb: { widthPx: wide, heightPx: high, y }, frameY: sum / (widthPx * heightPx) }
}
