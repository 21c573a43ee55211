import { median } from '../../quantile.ts'
import type { FrameTrace } from '../frameTrace.ts'
import { thumbsAgree, timesCovered } from '../turn/thumbPixels.ts'
import { evBetween } from './luminance.ts'

/** Where in the picture light is watched. 'picture' is what stands still in it, where no backdrop and no platter is told. */
export type LightPlace = 'backdrop' | 'platter' | 'product' | 'picture'

/** The light of a place that does not turn. */
export interface StillLight {
  readonly place: Exclude<LightPlace, 'product'>
  /** In EV against the place's own median over the take; NaN for frames that were not read. */
  readonly ev: Float64Array
  /** Standard deviation of one frame's figure by what four parts of the place say of it on their own. */
  readonly noiseEv: number
}

/** Luminance over which a pixel is taken for clipped, which tells nothing of more light: code 250 of sRGB. */
export const clippedY = 0.955
/** Luminance under which an 8-bit picture has too few codes to tell a twentieth of a stop: code 8 of sRGB. */
export const darkY = 0.0025
/** Black counts as so much, so that figures stay finite: half the darkest code of sRGB. */
export const leastY = 0.00015

/** So many pixels of a place give its median as well as all do, and fewer than the least give none. */
const mostPixels = 240
export const leastPixels = 16
/** So much of a place must be neither clipped nor black. */
const toldShare = 0.25
/** A pixel belongs to what it is within half a stop of. */
const alikeEv = 0.5
/** A pixel that the product covers in more of the frames than this does not stand still. */
const coveredShare = 0.03
/** What is swept by a shadow, an edge or a reflection changes by itself: the stillest half of the pixels counts. */
const stillestShare = 0.5
/** Parts of a place, side by side, that must say the same of its light. */
const strips = 4

/**
 * The light of what stands still, what tells it best first: by the same pixels of the backdrop in every frame, those
 * that the product never covers and that change least on their own; by the platter where the backdrop's noise is too
 * large and the platter's is less; where neither is told, by such pixels of the whole picture. A frame's figure is the
 * median of its pixels' changes against their own median over the take. The other of backdrop and platter comes second
 * where it is told too, and so does a backdrop that is clipped in most frames and not in all.
 * @param sureNoiseEv  the noise with which the backdrop will do
 * @returns none where frames differ in size, or no such pixel is between dark and clipped
 */
export function stillLightsOf(
  traces: readonly (FrameTrace | null)[],
  sureNoiseEv: number,
): readonly StillLight[] {
  const read = traces.filter((trace) => trace !== null)
  if (read.length === 0 || !thumbsAgree(read)) return []
  const typical = typicalLight(read)
  const backdropY = seenY(read, ({ backdropY }) => backdropY)
  const platterY = seenY(read, ({ platterY }) => platterY)
  const toBackdrop = (y: number) => offEv(backdropY, y)
  const toPlatter = (y: number) => offEv(platterY, y)
  const lightAt = (
    place: StillLight['place'],
    counts: (y: number) => boolean,
    tells: (pixel: TypicalPixel) => boolean = ({ isTold }) => isTold,
  ): StillLight | null => {
    const all = typical.filter(({ y }) => counts(y))
    const pixels = all.filter(tells)
    // The rim of what is clipped says little of it.
    const isSeen = pixels.length >= Math.max(leastPixels, toldShare * all.length)
    return !isSeen ? null : { place, ...lightOfPixels(traces, evenly(pixels)) }
  }
  const isBackdrop = (y: number) => toBackdrop(y) <= Math.min(alikeEv, toPlatter(y))
  const backdrop = lightAt('backdrop', isBackdrop)
  const platter = lightAt('platter', (y) => toPlatter(y) <= alikeEv && toPlatter(y) < toBackdrop(y))
  if (backdrop && platter) {
    const isByBackdrop = backdrop.noiseEv <= Math.max(sureNoiseEv, platter.noiseEv)
    return isByBackdrop ? [backdrop, platter] : [platter, backdrop]
  }
  if (backdrop) return [backdrop]
  const clipped = lightAt('backdrop', isBackdrop, ({ isAtTimesTold }) => isAtTimesTold)
  const judged = platter ?? lightAt('picture', () => true)
  return [judged, clipped].filter((light) => light !== null)
}

function offEv(partY: number | null, y: number): number {
  return partY === null ? Number.POSITIVE_INFINITY : Math.abs(evBetween(partY, y))
}

interface TypicalPixel {
  readonly pixel: number
  readonly column: number
  readonly y: number
  /** Neither clipped nor black, in most frames and in a tenth of them. */
  readonly isTold: boolean
  readonly isAtTimesTold: boolean
}

/** The pixels that stand still, with their median over the take; thirty frames tell it as well as all do. */
function typicalLight(read: readonly FrameTrace[]): readonly TypicalPixel[] {
  const thumb = read[0]?.thumb
  if (!thumb) return []
  const every = Math.max(1, Math.floor(read.length / 30))
  const some = read.filter((_, index) => index % every === 0)
  const covered = timesCovered(read)
  const mostTimes = Math.max(1, coveredShare * read.length)
  const found: TypicalPixel[] = []
  const values = new Float64Array(some.length)
  const low = Math.floor(some.length / 4)
  const few = Math.floor(some.length / 10)
  for (let pixel = 0; pixel < thumb.y.length; pixel++) {
    if ((covered[pixel] ?? 0) > mostTimes) continue
    for (let i = 0; i < some.length; i++) values[i] = some[i]?.thumb.y[pixel] ?? 0
    values.sort()
    // What is clipped or black in half of the frames tells of the others that they are not.
    const isIn = (frames: number) =>
      (values[frames] ?? 1) < clippedY && (values[values.length - 1 - frames] ?? 0) > darkY
    found.push({
      pixel,
      column: pixel % thumb.widthPx,
      y: Math.max(leastY, middle(values)),
      isTold: isIn(low),
      isAtTimesTold: isIn(few),
    })
  }
  return found
}

/** The median luminance of a part of the frame; null where most frames do not show it. */
function seenY(read: readonly FrameTrace[], luminance: (trace: FrameTrace) => number | null): number | null {
  const seen = read.map(luminance).filter((y) => y !== null)
  return seen.length <= read.length / 2 ? null : median(seen)
}

function evenly(pixels: readonly TypicalPixel[]): readonly TypicalPixel[] {
  const every = pixels.length / Math.min(pixels.length, mostPixels)
  return Array.from(
    { length: Math.floor(pixels.length / every) },
    (_, i) => pixels[Math.floor(i * every)],
  ).filter((pixel) => pixel !== undefined)
}

function lightOfPixels(
  traces: readonly (FrameTrace | null)[],
  pixels: readonly TypicalPixel[],
): Pick<StillLight, 'ev' | 'noiseEv'> {
  const changes = traces.map((trace) => trace && changesOf(trace, pixels))
  const all = pixels.map((_, index) => index)
  const roughly = mediansOf(
    changes,
    all.filter((index) => index % 3 === 0),
  )
  const restless = all.map((index) => restlessness(changes, roughly, index))
  const stillest = all
    .toSorted((a, b) => (restless[a] ?? 0) - (restless[b] ?? 0))
    .slice(0, Math.max(leastPixels, Math.ceil(stillestShare * all.length)))
    .sort((a, b) => (pixels[a]?.column ?? 0) - (pixels[b]?.column ?? 0))
  const parts = Array.from({ length: strips }, (_, strip) =>
    mediansOf(
      changes,
      stillest.slice(
        Math.floor((strip * stillest.length) / strips),
        Math.floor(((strip + 1) * stillest.length) / strips),
      ),
    ),
  )
  const four = new Float64Array(strips)
  const ev = Float64Array.from(traces, (_, at) => {
    parts.forEach((part, strip) => {
      four[strip] = part[at] as number
    })
    return middle(four.sort())
  })
  return { ev, noiseEv: noiseOf(parts) }
}

/** How each pixel differs from what it typically is, in EV; of a clipped one that is the least that it does. */
function changesOf({ thumb }: FrameTrace, pixels: readonly TypicalPixel[]): Float64Array {
  const changes = new Float64Array(pixels.length)
  pixels.forEach(({ pixel, y }, index) => {
    // Where a light failed nearly nothing may be left, which still says that it failed.
    changes[index] = Math.log2(Math.max(thumb.y[pixel] ?? 0, leastY) / y)
  })
  return changes
}

function mediansOf(changes: readonly (Float64Array | null)[], indexes: readonly number[]): Float64Array {
  const values = new Float64Array(indexes.length)
  return Float64Array.from(changes, (frame) => {
    if (!frame) return Number.NaN
    indexes.forEach((index, at) => {
      values[at] = frame[index] as number
    })
    return middle(values.sort())
  })
}

/** What is far off in a frame counts no more than a tenth of a stop. */
const mostOff = 0.1

/** How far a pixel goes its own way in the mean. */
function restlessness(
  changes: readonly (Float64Array | null)[],
  roughly: Float64Array,
  index: number,
): number {
  let sum = 0
  changes.forEach((frame, at) => {
    const off = frame ? Math.abs((frame[index] as number) - (roughly[at] as number)) : 0
    sum += Math.min(off, mostOff)
  })
  return sum
}

/** The eighth decile of the standard deviation of four values of a standard normal: the root of chi² of 3 over 3. */
const eighthDecile = 1.244

/** The standard deviation of the median of four normal values against that of their mean. */
const medianOfFour = 1.092

/**
 * Light that changes for the whole place changes for each of its parts; by what they differ from frame to frame is
 * noise, or something that moves in the picture.
 */
function noiseOf(parts: readonly Float64Array[]): number {
  const frames = parts[0]?.length ?? 0
  const spreads: number[] = []
  for (let at = 1; at < frames; at++) {
    const changes = parts.map((ev) => (ev[at] ?? Number.NaN) - (ev[at - 1] ?? Number.NaN))
    const mean = changes.reduce((sum, each) => sum + each, 0) / strips
    const square = changes.reduce((sum, each) => sum + (each - mean) ** 2, 0) / (strips - 1)
    if (Number.isFinite(square)) spreads.push(Math.sqrt(square))
  }
  if (spreads.length === 0) return 0
  spreads.sort((a, b) => a - b)
  const spread = spreads[Math.floor(0.8 * (spreads.length - 1))] ?? 0
  // The figure of a frame is told by all parts together; a change is the difference of two such figures.
  return (medianOfFour * spread) / eighthDecile / Math.sqrt(strips) / Math.SQRT2
}

/** The median of values in their order. */
export function middle(values: Float64Array): number {
  const half = values.length >> 1
  return values.length % 2 === 1
    ? (values[half] ?? Number.NaN)
    : ((values[half - 1] ?? Number.NaN) + (values[half] ?? Number.NaN)) / 2
}
