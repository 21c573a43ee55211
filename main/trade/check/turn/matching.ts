import { median, quantile } from '../../quantile.ts'
import type { Thumb } from '../frameTrace.ts'

/**
 * A thumb made ready for matching: the root of its luminance, in which the noise of a sensor is about the same in
 * light and shade, and a change of exposure is still one factor; blurred over three pixels, which takes out more than
 * half of the noise and little of a turn.
 */
export interface MatchPicture {
  readonly widthPx: number
  readonly heightPx: number
  readonly root: Float32Array
}

/** How unlike two pictures are once the second has the exposure of the first. */
export interface PictureMatch {
  /** Root mean square of the differences of root luminance, each counted up to `mostDifference`; 0 for one picture. */
  readonly distance: number
  /** The same with each difference in full: how unlike the pictures are where they may show two different things. */
  readonly wholeDistance: number
  /** How much brighter the second is, in EV: what was taken out before the pictures were compared. */
  readonly gainEv: number
}

/**
 * A difference counts up to here. What has changed by more counts by its area alone, so that the distance grows with
 * the way that edges have gone, and a highlight that swings through weighs no more than a faint edge.
 */
const mostDifference = 0.04
/** Root of luminance above which a pixel is taken for clipped: it tells nothing of exposure. */
const clippedRoot = 0.985
/** Root of luminance below which a ratio is mostly noise. */
const darkRoot = 0.06

/** Makes a thumb ready to be matched. */
export function matchPicture({ widthPx, heightPx, y }: Thumb): MatchPicture {
  const root = new Float32Array(y.length)
  for (let at = 0; at < y.length; at++) root[at] = Math.sqrt(y[at] ?? 0)
  return { widthPx, heightPx, root: softened(root, widthPx, heightPx) }
}

/** Values of a picture, blurred over three pixels along its rows and its columns. */
export function softened(values: Float32Array, widthPx: number, heightPx: number): Float32Array {
  return blurred(blurred(values, widthPx, heightPx, 1), heightPx, widthPx, widthPx)
}

/**
 * Each pixel with half of its own value and a quarter of its neighbours' on either side, along lines of `length` pixels
 * that lie `step` apart.
 */
function blurred(root: Float32Array, length: number, lines: number, step: number): Float32Array {
  const soft = new Float32Array(root.length)
  const nextLine = step === 1 ? length : 1
  for (let line = 0; line < lines; line++) {
    let at = line * nextLine
    let before = root[at] ?? 0
    for (let k = 0; k < length; k++, at += step) {
      const own = root[at] ?? 0
      const behind = k + 1 < length ? (root[at + step] ?? 0) : own
      soft[at] = (before + 2 * own + behind) / 4
      before = own
    }
  }
  return soft
}

/**
 * The distance of two pictures after exposure correction, the one measure of likeness in the check. The exposure is
 * the ratio that most pixels agree on, so neither the product that turned nor clipped white decides it.
 * Throws where the pictures differ in size: that is a bug of the caller.
 */
export function pictureDistance(a: MatchPicture, b: MatchPicture): PictureMatch {
  const gain = gainOf(a, b)
  let sum = 0
  let whole = 0
  for (let at = 0; at < a.root.length; at++) {
    const first = a.root[at] ?? 0
    const second = b.root[at] ?? 0
    const brighter = second / gain - first
    // A clipped pixel may have been any brighter than it is.
    if ((brighter > 0 ? first : second) >= clippedRoot) continue
    const difference = Math.min(Math.abs(brighter), mostDifference)
    sum += difference * difference
    whole += brighter * brighter
  }
  const pixels = a.root.length
  return {
    distance: Math.sqrt(sum / pixels),
    wholeDistance: Math.sqrt(whole / pixels),
    gainEv: 2 * Math.log2(gain),
  }
}

/**
 * The distance that two pictures of the very same thing would have, from the noise in pictures that follow each
 * other: something in them must stand still, a quarter of the pixels or more. 0 for fewer than two pictures.
 */
export function noiseDistance(pictures: readonly MatchPicture[]): number {
  const pairs = pictures.slice(1).map((b, index) => [pictures[index] ?? b, b] as const)
  if (pairs.length === 0) return 0
  const every = Math.ceil(pairs.length / 40)
  return median(
    pairs.filter((_, index) => index % every === 0).map(([a, b]) => deviationOfStill(stillDifferences(a, b))),
  )
}

/** A quarter of normally spread values lies within this many standard deviations of their mean. */
const quarterOfNormal = 0.318_639
/** Variance of normally spread values that lie within 1.5 standard deviations, as a part of the variance of all. */
const varianceWithin = 0.551_6

/**
 * The standard deviation of the still pixels among these differences: they crowd round 0, what turned lies scattered.
 * It begins with the quarter that differs least and then counts what lies within 1.5 deviations, until that settles.
 */
function deviationOfStill(differences: readonly number[]): number {
  if (differences.length === 0) return 0
  let deviation = quantile(differences, 0.25) / quarterOfNormal
  for (let round = 0; round < 8; round++) {
    const within = differences.filter((difference) => difference <= 1.5 * deviation)
    const square = within.reduce((sum, difference) => sum + difference * difference, 0) / within.length
    deviation = Math.sqrt(square / varianceWithin)
    if (!(deviation > 0)) return 0
  }
  return deviation
}

/** Some differences of pixels that are not clipped, without their sign. */
function stillDifferences(a: MatchPicture, b: MatchPicture): number[] {
  const gain = gainOf(a, b)
  const every = strideOf(a)
  const found: number[] = []
  for (let at = 0; at < a.root.length; at += every) {
    const first = a.root[at] ?? 0
    const second = b.root[at] ?? 0
    if (first < clippedRoot && second < clippedRoot) found.push(Math.abs(second / gain - first))
  }
  return found
}

/** A stride that takes some 400 pixels and leaves out no column. */
function strideOf({ root, widthPx }: MatchPicture): number {
  const wished = Math.max(1, Math.floor(root.length / 400))
  return wished > 1 && widthPx % wished === 0 ? wished + 1 : wished
}

/**
 * The factor of root luminance from one picture to the other: the median of the ratios of some pixels, then the
 * least-squares factor of all whose difference from it is small.
 */
export function gainOf(a: MatchPicture, b: MatchPicture): number {
  if (a.widthPx !== b.widthPx || a.heightPx !== b.heightPx) {
    throw new Error(`matching: ${a.widthPx} × ${a.heightPx} against ${b.widthPx} × ${b.heightPx}`)
  }
  const every = strideOf(a)
  const ratios = new Float64Array(Math.ceil(a.root.length / every))
  let count = 0
  for (let at = 0; at < a.root.length; at += every) {
    const first = a.root[at] ?? 0
    const second = b.root[at] ?? 0
    if (isUseful(first) && isUseful(second)) ratios[count++] = second / first
  }
  const middle = ratios.subarray(0, count).sort()[count >> 1] ?? 1
  return count < 10 ? 1 : refined(a, b, middle)
}

function isUseful(root: number): boolean {
  return root > darkRoot && root < clippedRoot
}

/** How far from the first factor a pixel may lie to be counted in the second. */
const agreeing = 0.03

function refined(a: MatchPicture, b: MatchPicture, gain: number): number {
  let cross = 0
  let square = 0
  for (let at = 0; at < a.root.length; at++) {
    const first = a.root[at] ?? 0
    const second = b.root[at] ?? 0
    if (!isUseful(first) || !isUseful(second) || Math.abs(second / gain - first) > agreeing) continue
    cross += first * second
    square += first * first
  }
  return square === 0 ? gain : cross / square
}
