import { median, quantile } from '../quantile.ts'
import type { Thumb } from './frameTrace.ts'

/**
 * A thumb made ready for matching. The root of luminance is kept, at three sizes: in it the noise of a sensor is about
 * the same in light and shade, and a change of exposure is still one factor.
 */
export interface MatchPicture {
  readonly levels: readonly MatchLevel[]
}

interface MatchLevel {
  readonly widthPx: number
  readonly heightPx: number
  readonly root: Float32Array
}

/** How unlike two pictures are once the second has the exposure of the first. */
export interface PictureMatch {
  /** Root mean square of the differences of root luminance, over three sizes of picture; 0 for the same picture. */
  readonly distance: number
  /** How much brighter the second is, in EV: what was taken out before the pictures were compared. */
  readonly gainEv: number
}

/** Root of luminance above which a pixel is taken for clipped: it tells nothing of exposure. */
const clippedRoot = 0.985
/** Root of luminance below which a ratio is mostly noise. */
const darkRoot = 0.06
/** A difference counts up to here: a highlight that swings through must not outweigh the whole product. */
const mostDifference = 0.3

/**
 * Makes a thumb ready to be matched. The coarser sizes see turns that are longer than the grain of the product's
 * texture, which the finest one cannot tell from each other.
 */
export function matchPicture({ widthPx, heightPx, y }: Thumb): MatchPicture {
  const levels: MatchLevel[] = [
    { widthPx, heightPx, root: Float32Array.from(y, (light) => Math.sqrt(light)) },
  ]
  for (let last = levels[0]; last && levels.length < 3 && Math.min(last.widthPx, last.heightPx) >= 8; ) {
    last = halved(last)
    levels.push(last)
  }
  return { levels }
}

/** Means of two by two; an odd last row or column is left out. */
function halved({ widthPx, heightPx, root }: MatchLevel): MatchLevel {
  const width = widthPx >> 1
  const height = heightPx >> 1
  const half = new Float32Array(width * height)
  for (let row = 0; row < height; row++) {
    for (let column = 0; column < width; column++) {
      const at = 2 * row * widthPx + 2 * column
      const below = at + widthPx
      const sum = (root[at] ?? 0) + (root[at + 1] ?? 0) + (root[below] ?? 0) + (root[below + 1] ?? 0)
      half[row * width + column] = sum / 4
    }
  }
  return { widthPx: width, heightPx: height, root: half }
}

/**
 * The distance of two pictures after exposure correction, the one measure of likeness in the check. The exposure is
 * the ratio that most pixels agree on, so neither the product that turned nor clipped white decides it.
 * Throws where the pictures differ in size: that is a bug of the caller.
 */
export function pictureDistance(a: MatchPicture, b: MatchPicture): PictureMatch {
  const gain = gainOf(finest(a), finest(b))
  let sum = 0
  a.levels.forEach((level, index) => {
    sum += meanSquare(level, b.levels[index] ?? level, gain)
  })
  return { distance: Math.sqrt(sum / a.levels.length), gainEv: 2 * Math.log2(gain) }
}

/**
 * The distance that two pictures of the very same thing would have, from the noise in pictures that follow each
 * other: something in them must stand still, a quarter of the pixels or more. 0 for fewer than two pictures.
 */
export function noiseDistance(pictures: readonly MatchPicture[]): number {
  const pairs = pictures.slice(1).map((b, index) => [pictures[index] ?? b, b] as const)
  if (pairs.length === 0) return 0
  const every = Math.ceil(pairs.length / 40)
  return median(pairs.filter((_, index) => index % every === 0).map(([a, b]) => noiseOfPair(a, b)))
}

function noiseOfPair(a: MatchPicture, b: MatchPicture): number {
  const gain = gainOf(finest(a), finest(b))
  const squares = a.levels.map(
    (level, index) => deviationOfStill(stillDifferences(level, b.levels[index] ?? level, gain)) ** 2,
  )
  return Math.sqrt(squares.reduce((sum, square) => sum + square, 0) / squares.length)
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

/** At most some 600 differences of pixels that are not clipped, without their sign. */
function stillDifferences(a: MatchLevel, b: MatchLevel, gain: number): number[] {
  const every = strideOf(a)
  const found: number[] = []
  for (let at = 0; at < a.root.length; at += every) {
    const first = a.root[at] ?? 0
    const second = b.root[at] ?? 0
    if (first < clippedRoot && second < clippedRoot) found.push(Math.abs(second / gain - first))
  }
  return found
}

function finest({ levels }: MatchPicture): MatchLevel {
  const [level] = levels
  if (level === undefined) throw new Error('matching: a picture without pixels')
  return level
}

/** A stride with no factor in common with the width, so that no column is left out. */
function strideOf({ root, widthPx }: MatchLevel): number {
  const wished = Math.max(1, Math.floor(root.length / 600))
  return wished > 1 && widthPx % wished === 0 ? wished + 1 : wished
}

/**
 * The factor of root luminance from one picture to the other: the median of the ratios of some pixels, then the
 * least-squares factor of all whose difference from it is small.
 */
function gainOf(a: MatchLevel, b: MatchLevel): number {
  if (a.widthPx !== b.widthPx || a.heightPx !== b.heightPx) {
    throw new Error(`matching: ${a.widthPx} × ${a.heightPx} against ${b.widthPx} × ${b.heightPx}`)
  }
  const every = strideOf(a)
  const ratios: number[] = []
  for (let at = 0; at < a.root.length; at += every) {
    const first = a.root[at] ?? 0
    const second = b.root[at] ?? 0
    if (isUseful(first) && isUseful(second)) ratios.push(second / first)
  }
  return ratios.length < 10 ? 1 : refined(a, b, median(ratios))
}

function isUseful(root: number): boolean {
  return root > darkRoot && root < clippedRoot
}

/** How far from the first factor a pixel may lie to be counted in the second. */
const agreeing = 0.03

function refined(a: MatchLevel, b: MatchLevel, gain: number): number {
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

function meanSquare(a: MatchLevel, b: MatchLevel, gain: number): number {
  let sum = 0
  for (let at = 0; at < a.root.length; at++) {
    const difference = Math.min(Math.abs((b.root[at] ?? 0) / gain - (a.root[at] ?? 0)), mostDifference)
    sum += difference * difference
  }
  return sum / a.root.length
}
