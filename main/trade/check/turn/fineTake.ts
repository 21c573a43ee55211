import { gainOf, type MatchPicture, softened } from './matching.ts'

/**
 * The frames of a take of many frames, made ready to measure steps that change less than the noise of one pixel: each
 * frame as one long row of numbers, in which the noise of all pixels averages out. Frames are counted from 0.
 */
export interface FineTake {
  readonly frames: number
  has(frame: number): boolean
  /** The sum of the squares of all differences of two frames; NaN where one of them is not there. */
  squareApart(a: number, b: number): number
  /** The sum of the products of two frames, at most `mostApart` frames apart. */
  product(a: number, b: number): number
}

/** From so many frames per turn on the steps are too fine to be told by how unlike two frames are. */
export const fineFrom = 120
/** How far apart the frames are whose products are asked for, as a rule. */
const mostApart = 6
/** The picture is at least so wide, so that a fine step is a part of a pixel, and changes it evenly. */
const leastWidthPx = 32
const blurs = 2
/** Blurs by which the light of whole faces is told, and taken out: a face that flashes in the light has not turned. */
const blursOfFaces = 4

/** @param pictures  one size, null where a frame could not be read */
export function fineTake(pictures: readonly (MatchPicture | null)[]): FineTake {
  const first = pictures.find((picture) => picture !== null)
  const rows = pictures.map((picture) => (picture && first ? edgesOf(picture, gainOf(first, picture)) : null))
  const known = new Map<number, number>()
  const product = (a: number, b: number) => {
    const one = rows[Math.min(a, b)]
    const other = rows[Math.max(a, b)]
    if (!one || !other) return Number.NaN
    if (Math.abs(a - b) > mostApart) return productOf(one, other)
    const key = Math.min(a, b) * (mostApart + 1) + Math.abs(a - b)
    const found = known.get(key) ?? productOf(one, other)
    known.set(key, found)
    return found
  }
  return {
    frames: pictures.length,
    has: (frame) => Boolean(rows[frame]),
    squareApart: (a, b) => product(a, a) + product(b, b) - 2 * product(a, b),
    product,
  }
}

function productOf(a: Float32Array, b: Float32Array): number {
  let sum = 0
  for (let at = 0; at < a.length; at++) sum += (a[at] as number) * (b[at] as number)
  return sum
}

/** The picture at another's exposure, small, soft, and without the light of whole faces: what is left moves. */
function edgesOf({ root, widthPx, heightPx }: MatchPicture, gain: number): Float32Array {
  const cell = Math.max(1, Math.floor(widthPx / leastWidthPx))
  const wide = Math.floor(widthPx / cell)
  const high = Math.max(1, Math.floor(heightPx / cell))
  let soft: Float32Array = new Float32Array(wide * high)
  for (let row = 0; row < high * cell; row++) {
    const to = Math.floor(row / cell) * wide
    for (let column = 0; column < wide * cell; column++) {
      const at = to + Math.floor(column / cell)
      soft[at] = (soft[at] as number) + (root[row * widthPx + column] ?? 0) / (gain * cell * cell)
    }
  }
  for (let time = 0; time < blurs; time++) soft = softened(soft, wide, high)
  let faces = soft
  for (let time = 0; time < blursOfFaces; time++) faces = softened(faces, wide, high)
  return soft.map((value, at) => value - (faces[at] as number))
}
