import { median } from '../quantile.ts'
import type { FrameTrace, Silhouette, Thumb } from './frameTrace.ts'
import { evBetween } from './luminance.ts'

/** Where in the picture light is watched. 'picture' is what most of it did, where nothing else could be told apart. */
export type LightPlace = 'backdrop' | 'platter' | 'product' | 'picture'

/** Luminance over which a mean holds clipped pixels, which tell nothing of more light: code 250 of sRGB. */
const clippedY = 0.955
/** Luminance under which an 8-bit picture has too few codes to tell a twentieth of a stop: code 8 of sRGB. */
const darkY = 0.0025
/** A place must be seen in so much of the take to be judged. */
const seenShare = 0.9

/**
 * A place's luminance in EV against its median over the take; NaN for frames that were not read or do not show it.
 * @returns null where it is seen in too few frames
 */
export function meansEv(
  traces: readonly (FrameTrace | null)[],
  luminance: (trace: FrameTrace) => number | null,
): { readonly ev: Float64Array; readonly medianY: number } | null {
  const y = traces.map((trace) => trace && luminance(trace))
  const seen = y.filter((each) => each !== null)
  const read = traces.filter((trace) => trace !== null).length
  if (seen.length === 0 || seen.length < seenShare * read) return null
  const medianY = median(seen)
  return {
    ev: Float64Array.from(y, (each) => (each === null ? Number.NaN : evBetween(medianY, each))),
    medianY,
  }
}

/** Whether light can be judged by a place of this luminance: it is neither clipped nor too dark. */
export function tellsLight(medianY: number): boolean {
  return medianY > darkY && medianY < clippedY
}

/**
 * What the light on the product did, in EV against the first frame: of the pixels that show it in two frames in a row the
 * median of their changes, added up. A highlight that swings through brightens few pixels and so does not count, nor
 * does the product's turning, which brightens some and darkens others. Slow changes are lost in the adding up.
 * @returns null where the product is seen in too few frames
 */
export function productLightEv(traces: readonly (FrameTrace | null)[]): Float64Array | null {
  const read = traces.filter((trace) => trace !== null)
  if (read.length === 0 || read.filter(isSeen).length < seenShare * read.length) return null
  const ev = new Float64Array(traces.length).fill(Number.NaN)
  let before: FrameTrace | null = null
  let sum = 0
  traces.forEach((trace, index) => {
    if (!trace || !isSeen(trace)) return
    if (before) sum += gainEv(before.thumb, trace.thumb, bothInside(before, trace))
    ev[index] = sum
    before = trace
  })
  return ev
}

function isSeen({ productY, silhouette }: FrameTrace): boolean {
  return productY !== null && silhouette !== null
}

/**
 * What most of the picture did, in EV: of all pixels the median of their changes against their own median over the take.
 * For takes in which no backdrop and no platter could be told apart.
 */
export function pictureLightEv(traces: readonly (FrameTrace | null)[]): Float64Array | null {
  const thumbs = traces.flatMap((trace) => (trace ? [trace.thumb] : []))
  const first = thumbs[0]
  if (!first || thumbs.some(({ y }) => y.length !== first.y.length)) return null
  // Thirty frames give the median over the take as well as all do.
  const every = Math.max(1, Math.floor(thumbs.length / 30))
  const some = thumbs.filter((_, index) => index % every === 0)
  const typical: Thumb = {
    ...first,
    y: Float32Array.from(first.y, (_, pixel) => median(some.map(({ y }) => y[pixel] ?? 0))),
  }
  const pixels = Array.from(first.y, (_, pixel) => pixel)
  return Float64Array.from(traces, (trace) => (trace ? gainEv(typical, trace.thumb, pixels) : Number.NaN))
}

/** The median of the changes of these pixels; those that are dark or clipped in either picture do not count. */
function gainEv(from: Thumb, to: Thumb, pixels: readonly number[]): number {
  const changes = pixels.flatMap((pixel) => {
    const a = from.y[pixel] ?? 0
    const b = to.y[pixel] ?? 0
    // Where a light failed nearly nothing may be left: only what was dark before and is dark now says nothing.
    return Math.max(a, b) < darkY || Math.max(a, b) > clippedY ? [] : [evBetween(a, b)]
  })
  return changes.length === 0 ? 0 : median(changes)
}

/** The pixels of the thumb that lie on the product in both frames. */
function bothInside(a: FrameTrace, b: FrameTrace): readonly number[] {
  const { widthPx, heightPx } = a.thumb
  const pixels: number[] = []
  for (let row = 0; row < heightPx; row++) {
    const [leftA, rightA] = rowOf(a, row)
    const [leftB, rightB] = rowOf(b, row)
    const to = Math.min(rightA, rightB, widthPx)
    for (let column = Math.ceil(Math.max(leftA, leftB, 0)); column + 1 <= to; column++) {
      pixels.push(row * widthPx + column)
    }
  }
  return pixels
}

/** Where the product begins and ends in a row of the thumb, in pixels of the thumb. */
function rowOf({ silhouette, thumb, widthPx, heightPx }: FrameTrace, row: number): readonly [number, number] {
  if (!silhouette) return [0, 0]
  const at = Math.floor(((row + 0.5) * heightPx) / thumb.heightPx) - silhouette.topPx
  const scale = thumb.widthPx / widthPx
  return [edge(silhouette, 'leftPx', at) * scale, edge(silhouette, 'rightPx', at) * scale]
}

function edge(silhouette: Silhouette, side: 'leftPx' | 'rightPx', row: number): number {
  const at = silhouette[side][row]
  return at === undefined || Number.isNaN(at) ? 0 : at
}
