import type { FrameTrace, Thumb } from './frameTrace.ts'
import { linearOfCode, luminanceOf, luminancesOf } from './luminance.ts'
import { type FrameParts, framePartsOf, type SilhouetteOptions } from './silhouette.ts'
import type { SmallFrame } from './smallFrame.ts'

/** How wide the thumb is that frames are matched by. */
const thumbWidthPx = 64
/** At most so many pixels are looked at for the means of the parts: more tell nothing more. */
const pixelsForMeans = 24_000

/**
 * What is kept of a frame once its picture is let go: light of its parts, outline, thumb.
 * Luminance is linear (IEC 61966-2-1). The empty frame and the area of the options hold for the whole take.
 */
export function traceOf(small: SmallFrame, options: SilhouetteOptions = {}): FrameTrace {
  const y = luminancesOf(small)
  let sum = 0
  for (let at = 0; at < y.length; at++) sum += y[at] as number
  const parts = framePartsOf(small, options)
  const means = parts ? partMeans(small, parts) : { backdrop: null, platter: null, product: null }
  return {
    widthPx: small.widthPx,
    heightPx: small.heightPx,
    frameY: sum / y.length,
    backdropY: means.backdrop && luminanceOf(means.backdrop),
    platterY: means.platter && luminanceOf(means.platter),
    productY: means.product && luminanceOf(means.product),
    backdropRgb: means.backdrop,
    thumb: thumbOf(y, small.widthPx, small.heightPx),
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

/** The frame in means of equal areas; a frame that is small already stays as it is. */
function thumbOf(y: Float32Array, widthPx: number, heightPx: number): Thumb {
  if (widthPx <= thumbWidthPx) return { widthPx, heightPx, y }
  const wide = thumbWidthPx
  const high = Math.max(1, Math.round((heightPx * thumbWidthPx) / widthPx))
  const sums = new Float32Array(wide * high)
  const counts = new Uint16Array(wide * high)
  for (let row = 0; row < heightPx; row++) {
    const to = Math.floor((row * high) / heightPx) * wide
    for (let column = 0; column < widthPx; column++) {
      const cell = to + Math.floor((column * wide) / widthPx)
      sums[cell] = (sums[cell] as number) + (y[row * widthPx + column] as number)
      counts[cell] = (counts[cell] as number) + 1
    }
  }
  for (let cell = 0; cell < sums.length; cell++) sums[cell] = (sums[cell] as number) / (counts[cell] || 1)
  return { widthPx: wide, heightPx: high, y: sums }
}
