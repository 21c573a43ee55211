import { median } from '../../quantile.ts'
import { solvedNormal } from '../centre/leastSquares.ts'
import type { pixelsOf } from '../light/luminance.ts'
import type { SmallFrame } from '../smallFrame.ts'

/** Whole pixels of a picture; the ends are the first that lie outside. */
export type PixelBox = ReturnType<typeof pixelsOf>

/**
 * A backdrop as its codes run over the picture: for each channel a surface of the second degree, which follows a
 * backdrop that is lighter on one side or in its middle. What is not backdrop stands out from it.
 */
export interface BackdropSurface {
  readonly box: PixelBox
  /** Of 1, x, y, x², xy, y² with x and y from −1 to 1 over the box; red, green, blue. */
  readonly terms: readonly [Float64Array, Float64Array, Float64Array]
  /** How far a pixel of the backdrop lies off it, as a standard deviation of the mean of its channels, in codes. */
  readonly deviation: number
}

const termCount = 6
/** Fewer of the border's pixels on one surface than this: no backdrop can be told. */
const leastShare = 0.3

/**
 * The backdrop, taken from the upper border of the box and its sides. The product, the platter and what else stands
 * there fall out, since they do not lie on the surface that most of the border lies on.
 * @returns null where too little of the border lies on one surface
 */
export function backdropSurface(small: SmallFrame, box: PixelBox): BackdropSurface | null {
  const border = borderOf(small, box)
  let surface = levelSurface(small, border)
  // The lower sides may show the platter: they count only once the upper border has said what the backdrop is.
  // The upper border alone tells a slope, not how the backdrop bends below; so what joins it may lie a little off.
  for (const { pixels, terms, deviations } of [
    { pixels: border.upper, terms: 3, deviations: 4 },
    { pixels: border.all, terms: termCount, deviations: 8 },
    { pixels: border.all, terms: termCount, deviations: 4 },
    { pixels: border.all, terms: termCount, deviations: 4 },
  ]) {
    const most = deviations * Math.max(0.75, surface.deviation)
    const offs = offsOf(small, border, surface, pixels)
    const near = pixels.filter((_, i) => (offs[i] as number) <= most)
    if (near.length < Math.max(leastShare * pixels.length, 3 * termCount)) return null
    surface = fitted(small, border, near, terms)
  }
  return surface
}

/** Some pixels of the upper strip and the two sides of a box, evenly. */
export interface Border {
  readonly widthPx: number
  readonly box: PixelBox
  /** Their places in the frame, row by row. */
  readonly pixels: Int32Array
  /** 1, x, y, x², xy, y² of each, with x and y from −1 to 1 over the box. */
  readonly design: Float64Array
  /** Which of them are taken: all, or those of the upper half. */
  readonly all: Int32Array
  readonly upper: Int32Array
}

/** Six terms are told by so many pixels to a small part of a code. */
const borderSamples = 400

let lastBorder: Border | null = null

/** The border of a box. The frames of a take have the same one: it is worked out once. */
export function borderOf({ widthPx }: Pick<SmallFrame, 'widthPx'>, box: PixelBox): Border {
  const last = lastBorder
  if (last && last.widthPx === widthPx && isSameBox(last.box, box)) return last
  const wide = box.toX - box.fromX
  const high = box.toY - box.fromY
  const strip = Math.max(2, Math.round(0.07 * high))
  const side = Math.max(2, Math.round(0.06 * wide))
  const all: number[] = []
  for (let y = box.fromY; y < box.toY; y++) {
    for (let x = box.fromX; x < box.toX; x++) {
      if (y >= box.fromY + strip && x === box.fromX + side && x < box.toX - side) x = box.toX - side
      all.push(y * widthPx + x)
    }
  }
  const every = Math.max(1, Math.floor(all.length / borderSamples))
  const pixels = Int32Array.from(all.filter((_, index) => index % every === 0))
  const design = new Float64Array(pixels.length * termCount)
  pixels.forEach((pixel, i) => {
    const u = (2 * ((pixel % widthPx) - box.fromX)) / wide - 1
    const v = (2 * (Math.floor(pixel / widthPx) - box.fromY)) / high - 1
    design.set([1, u, v, u * u, u * v, v * v], i * termCount)
  })
  const taken = pixels.map((_, i) => i)
  const half = Math.max(strip, high / 2)
  const upper = taken.filter((i) => Math.floor((pixels[i] as number) / widthPx) < box.fromY + half)
  lastBorder = { widthPx, box, pixels, design, all: taken, upper }
  return lastBorder
}

export function isSameBox(a: PixelBox, b: PixelBox): boolean {
  return a.fromX === b.fromX && a.toX === b.toX && a.fromY === b.fromY && a.toY === b.toY
}

function levelSurface(small: SmallFrame, border: Border): BackdropSurface {
  const level = (channel: number) => {
    const terms = new Float64Array(termCount)
    terms[0] = median(codesOf(small, border, border.upper, channel))
    return terms
  }
  const start: BackdropSurface = { box: border.box, terms: [level(0), level(1), level(2)], deviation: 12 }
  const spread = 1.4826 * median(offsOf(small, border, start, border.upper))
  return { ...start, deviation: Math.max(6, spread) }
}

function codesOf({ rgb }: SmallFrame, { pixels }: Border, taken: Int32Array, channel: number): Float64Array {
  return Float64Array.from(taken, (i) => rgb[(pixels[i] as number) * 3 + channel] as number)
}

/** How far pixels lie off a surface, as the size of the mean of their channels, in codes. */
function offsOf(
  { rgb }: SmallFrame,
  { pixels, design }: Border,
  { terms }: BackdropSurface,
  taken: Int32Array,
): Float64Array {
  const offs = new Float64Array(taken.length)
  for (let k = 0; k < taken.length; k++) {
    const i = taken[k] as number
    let off = 0
    for (let channel = 0; channel < 3; channel++) {
      const t = terms[channel] as Float64Array
      let code = 0
      for (let j = 0; j < termCount; j++) code += (t[j] as number) * (design[i * termCount + j] as number)
      off += (rgb[(pixels[i] as number) * 3 + channel] as number) - Math.min(255, Math.max(0, code))
    }
    offs[k] = Math.abs(off) / 3
  }
  return offs
}

function fitted(small: SmallFrame, border: Border, near: Int32Array, count: number): BackdropSurface {
  const { design, pixels, box } = border
  const normal = new Float64Array(count * count)
  const rights = new Float64Array(3 * count)
  for (let n = 0; n < near.length; n++) {
    const i = near[n] as number
    const from = i * termCount
    const rgb = (pixels[i] as number) * 3
    for (let j = 0; j < count; j++) {
      const term = design[from + j] as number
      for (let k = 0; k <= j; k++) {
        normal[j * count + k] = (normal[j * count + k] as number) + term * (design[from + k] as number)
      }
      for (let channel = 0; channel < 3; channel++) {
        const at = channel * count + j
        rights[at] = (rights[at] as number) + term * (small.rgb[rgb + channel] as number)
      }
    }
  }
  const lines = (from: Float64Array) =>
    Array.from({ length: from.length / count }, (_, i) => [...from.subarray(i * count, (i + 1) * count)])
  // A border of two sides and a top says little of the middle: what it does not tell stays level.
  const solved = solvedNormal(lines(normal), lines(rights), 4e-3 * near.length)
  const [red, green, blue] = [0, 1, 2].map((channel) => {
    const terms = new Float64Array(termCount)
    terms.set(solved?.[channel] ?? [median(codesOf(small, border, near, channel))])
    return terms
  }) as [Float64Array, Float64Array, Float64Array]
  const surface: BackdropSurface = { box, terms: [red, green, blue], deviation: 1 }
  return { ...surface, deviation: 1.4826 * median(offsOf(small, border, surface, near)) }
}
