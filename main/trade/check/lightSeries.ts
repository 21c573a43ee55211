import { median } from '../quantile.ts'
import type { FrameTrace, Silhouette, Thumb } from './frameTrace.ts'
import { evBetween } from './luminance.ts'

/** Where in the picture light is watched. 'picture' is what most of it did, where nothing else could be told apart. */
export type LightPlace = 'backdrop' | 'platter' | 'product' | 'picture'

/** Luminance over which a mean holds clipped pixels, which tell nothing of more light: code 250 of sRGB. */
const clippedY = 0.955
/** Luminance under which an 8-bit picture has too few codes to tell a twentieth of a stop: code 8 of sRGB. */
const darkY = 0.0025
/** Black counts as so much, so that figures stay finite: half the darkest code of sRGB. */
const leastY = 0.00015
/** So much of the product must agree on a change of its light. */
const sharedByProduct = 0.7
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
 * What the light on the product did, in EV against the first frame: the change that nearly all pixels share which show
 * it in two frames in a row, added up. A highlight or a face that turns into the light brightens some of them and so
 * does not count. Slow changes are lost in the adding up.
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
    if (before) sum += gainEv(before.thumb, trace.thumb, insideOf(before, trace), sharedByProduct)
    ev[index] = sum
    before = trace
  })
  return ev
}

function isSeen({ productY, silhouette }: FrameTrace): boolean {
  return productY !== null && silhouette !== null
}

/** A pixel belongs to what it is within half a stop of. */
const alikeEv = 0.5
const leastPixels = 12

/**
 * What most of the pixels did that the product never covers, in EV: the median of their changes against their own median
 * over the take. A hand, a swinging shadow or a highlight touch few of them.
 * @param nearY  only pixels of about this luminance count; null for all of them
 * @returns null where too few such pixels are seen, or frames differ in size
 */
export function stillPixelsEv(
  traces: readonly (FrameTrace | null)[],
  nearY: number | null,
): Float64Array | null {
  const read = traces.filter((trace) => trace !== null)
  const first = read[0]?.thumb
  if (!first || read.some(({ thumb }) => thumb.y.length !== first.y.length)) return null
  // Thirty frames give the median over the take as well as all do.
  const every = Math.max(1, Math.floor(read.length / 30))
  const some = read.filter((_, index) => index % every === 0)
  const typical: Thumb = {
    ...first,
    y: Float32Array.from(first.y, (_, pixel) => median(some.map(({ thumb }) => thumb.y[pixel] ?? 0))),
  }
  const isCovered = new Uint8Array(first.y.length)
  for (const trace of read) for (const pixel of insideOf(trace, trace)) isCovered[pixel] = 1
  const pixels = Array.from(first.y, (_, pixel) => pixel).filter((pixel) => {
    const light = typical.y[pixel] ?? 0
    const isAlike = nearY === null || Math.abs(evBetween(nearY, light)) < alikeEv
    return isAlike && isCovered[pixel] === 0 && tellsLight(light)
  })
  if (pixels.length < leastPixels) return null
  return Float64Array.from(traces, (trace) => (trace ? gainEv(typical, trace.thumb, pixels, 0) : Number.NaN))
}

/**
 * The change that this middle share of the pixels has at least, 0 where they do not agree which way; a share of 0 is
 * the median. Pixels that are dark or clipped in the brighter picture do not count.
 */
function gainEv(from: Thumb, to: Thumb, pixels: readonly number[], share: number): number {
  // A few hundred pixels give the median as well as all do.
  const every = Math.max(1, Math.floor(pixels.length / 300))
  const ratios = new Float64Array(pixels.length)
  let count = 0
  for (let i = 0; i < pixels.length; i += every) {
    const pixel = pixels[i] ?? 0
    const a = from.y[pixel] ?? 0
    const b = to.y[pixel] ?? 0
    // Where a light failed nearly nothing may be left: only what was dark before and is dark now says nothing.
    const brighter = Math.max(a, b)
    if (brighter > darkY && brighter < clippedY) ratios[count++] = Math.max(b, leastY) / Math.max(a, leastY)
  }
  const sorted = ratios.subarray(0, count).sort()
  const at = (share: number) => Math.log2(sorted[Math.floor(share * (count - 1))] ?? 1)
  const [low, high] = [at((1 - share) / 2), at((1 + share) / 2)]
  return low > 0 ? low : Math.min(0, high)
}

/** The pixels of the thumb that lie on the product in both frames. */
function insideOf(a: FrameTrace, b: FrameTrace): readonly number[] {
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
