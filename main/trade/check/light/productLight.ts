import { median } from '../../quantile.ts'
import type { FrameTrace } from '../frameTrace.ts'
import { productPixels, thumbsAgree } from '../turn/thumbPixels.ts'
import type { LightMark } from './lightParts.ts'
import { clippedY, darkY, leastPixels, leastY } from './lightSeries.ts'

/** So much of the product must agree on a change of its light. */
const sharedByProduct = 0.7
/** The product must be seen in so much of the take for its light to be judged. */
const seenShare = 0.9
/** The product's change is large or not told: fewer pixels do. */
const mostOfProduct = 120
/** Parts of the product, side by side, that must agree on how a frame differs from those beside it. */
const strips = 4
/** So many pixels of a strip give its median as well as all do, and fewer than the least give none. */
const mostOfStrip = 60
const leastOfStrip = 8

type Take = readonly (FrameTrace | null)[]

/** The product is seen in enough of the take. */
function isTold(traces: Take): boolean {
  const read = traces.filter((trace) => trace !== null)
  return read.length > 0 && read.filter(isSeen).length >= seenShare * read.length && thumbsAgree(read)
}

/**
 * What the light on the product did, in EV against the first frame: the change that nearly all pixels share which show
 * it in two frames in a row, added up. A highlight or a face that turns into the light brightens some of them and so
 * does not count. Slow changes are lost in the adding up.
 * @returns null where the product is seen in too few frames
 */
export function productLightEv(traces: Take): Float64Array | null {
  if (!isTold(traces)) return null
  const ev = new Float64Array(traces.length).fill(Number.NaN)
  let before: FrameTrace | null = null
  let sum = 0
  traces.forEach((trace, index) => {
    if (!trace || !isSeen(trace)) return
    if (before) sum += sharedGainEv(before, trace)
    ev[index] = sum
    before = trace
  })
  return ev
}

/**
 * How much brighter the product is in each frame than midway between the frames on both sides, in EV, as far as all its
 * strips agree; 0 where they do not, NaN where it cannot be told.
 */
function productBesideEv(traces: Take): Float64Array {
  let pixelsBefore: readonly number[] = []
  return Float64Array.from(traces, (trace, at) => {
    const before = traces[at - 1]
    const after = traces[at + 1]
    if (!trace || !after || !isSeen(trace) || !isSeen(after)) {
      pixelsBefore = []
      return Number.NaN
    }
    const pixels = productPixels(trace, after)
    const inBoth = new Uint8Array(trace.thumb.y.length)
    for (const pixel of pixelsBefore) inBoth[pixel] = 1
    pixelsBefore = pixels
    return before
      ? sharedBesideEv(
          [before, trace, after],
          pixels.filter((pixel) => inBoth[pixel] === 1),
        )
      : Number.NaN
  })
}

/** The least that all strips of these pixels differ by in the middle frame, 0 where they do not agree which way. */
function sharedBesideEv(
  [before, here, after]: readonly [FrameTrace, FrameTrace, FrameTrace],
  pixels: readonly number[],
): number {
  const { widthPx } = here.thumb
  const columns = pixels.map((pixel) => pixel % widthPx)
  const left = columns.reduce((least, column) => Math.min(least, column), widthPx)
  const wide = columns.reduce((most, column) => Math.max(most, column), 0) + 1 - left
  const every = Math.max(1, Math.floor(pixels.length / (strips * mostOfStrip)))
  const parts = Array.from({ length: strips }, (): number[] => [])
  for (let i = 0; i < pixels.length; i += every) {
    const pixel = pixels[i] ?? 0
    const a = before.thumb.y[pixel] ?? 0
    const b = here.thumb.y[pixel] ?? 0
    const c = after.thumb.y[pixel] ?? 0
    if (Math.min(a, b, c) <= darkY || Math.max(a, b, c) >= clippedY) continue
    parts[Math.floor((strips * ((columns[i] ?? 0) - left)) / wide)]?.push(Math.log2((b * b) / (a * c)) / 2)
  }
  if (parts.some(({ length }) => length < leastOfStrip)) return Number.NaN
  const middles = parts.map(median)
  const [low, high] = [Math.min(...middles), Math.max(...middles)]
  return low > 0 ? low : Math.min(0, high)
}

/** So many parts of a turn, and in so many of them a product must flicker: a face flashes in one or two alone. */
const sectors = 8
const leastSectors = 5
/**
 * What turning does at most to all of a product between a frame and those on both sides, as EV times the frames of a
 * turn. Common practice, no published source: twice what it does to drawn solids.
 */
const turningEv = 2

/**
 * The frames in which the light on the product alone flickers: those that differ from the frames on both sides by more
 * than the limit, and by more than turning does, otherwise than what stands still. None where they do so in a few parts
 * of the turn alone.
 * @param still  the light of what stands still, in EV
 */
export function productFlicker(
  traces: Take,
  still: ArrayLike<number>,
  { flickerEv, framesPerTurn }: { readonly flickerEv: number; readonly framesPerTurn: number },
): readonly LightMark[] {
  const least = Math.max(2 * flickerEv, turningEv / framesPerTurn)
  const marks = Array.from(productBesideEv(traces), (ev, at): LightMark => {
    const [before = 0, here = 0, after = 0] = [still[at - 1], still[at], still[at + 1]]
    return { at, ev: ev - (here - (before + after) / 2) }
  }).filter(({ ev }) => Math.abs(ev) > least)
  const parts = new Set(marks.map(({ at }) => Math.floor((sectors * (at % framesPerTurn)) / framesPerTurn)))
  return parts.size < leastSectors ? [] : marks
}

/**
 * How much brighter the product is a turn later, otherwise than what stands still: by the frames past the turn against
 * those of the same mark, and of the marks on both sides, in case one was passed over or shot twice. The least of the
 * three counts, and none where they do not agree, or one is missing.
 * @returns null where no frame past the turn tells it
 */
export function productTurnLaterEv(
  traces: Take,
  still: ArrayLike<number>,
  framesPerTurn: number,
): number | null {
  const told = traces.flatMap((trace, at) => {
    const first = at - framesPerTurn
    if (first < 0) return []
    const off = [first - 1, first, first + 1]
      .map(
        (other) =>
          productGainEv(traces[other], trace) - ((still[at] ?? Number.NaN) - (still[other] ?? Number.NaN)),
      )
      .filter(Number.isFinite)
    if (off.length < 3) return []
    const [low, high] = [Math.min(...off), Math.max(...off)]
    return [low > 0 ? low : Math.min(0, high)]
  })
  return told.length === 0 ? null : median(told)
}

/** The change that half of the product's pixels have at least and half at most; NaN where it cannot be told. */
export function productGainEv(
  from: FrameTrace | null | undefined,
  to: FrameTrace | null | undefined,
): number {
  if (!from || !to || !isSeen(from) || !isSeen(to)) return Number.NaN
  const ratios = gains(from, to)
  return ratios.length < leastPixels ? Number.NaN : Math.log2(ratios[ratios.length >> 1] ?? 1)
}

function isSeen({ productY, silhouette }: FrameTrace): boolean {
  return productY !== null && silhouette !== null
}

/** The change that most of the product's pixels have at least, 0 where they do not agree which way. */
function sharedGainEv(from: FrameTrace, to: FrameTrace): number {
  const sorted = gains(from, to)
  if (sorted.length < leastPixels) return 0
  const at = (share: number) => Math.log2(sorted[Math.floor(share * (sorted.length - 1))] ?? 1)
  const [low, high] = [at((1 - sharedByProduct) / 2), at((1 + sharedByProduct) / 2)]
  return low > 0 ? low : Math.min(0, high)
}

/** By what factor each pixel of the product is brighter, the least first. */
function gains(from: FrameTrace, to: FrameTrace): Float64Array {
  const pixels = productPixels(from, to)
  const every = Math.max(1, Math.floor(pixels.length / mostOfProduct))
  const ratios = new Float64Array(pixels.length)
  let count = 0
  for (let i = 0; i < pixels.length; i += every) {
    const pixel = pixels[i] ?? 0
    const a = from.thumb.y[pixel] ?? 0
    const b = to.thumb.y[pixel] ?? 0
    // Where a light failed nearly nothing may be left: only what was dark before and is dark now says nothing.
    const brighter = Math.max(a, b)
    if (brighter > darkY && brighter < clippedY) ratios[count++] = Math.max(b, leastY) / Math.max(a, leastY)
  }
  return ratios.subarray(0, count).sort()
}
