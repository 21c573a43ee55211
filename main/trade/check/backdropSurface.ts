import { median } from '../quantile.ts'
import { leastSquares } from './leastSquares.ts'
import type { pixelsOf } from './luminance.ts'
import type { SmallFrame } from './smallFrame.ts'

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
  const border = borderPixels(small, box)
  const upper = border.filter(({ isUpper }) => isUpper)
  let surface = levelSurface(small, box, upper)
  // The lower sides may show the platter: they count only once the upper border has said what the backdrop is.
  // The upper border alone tells a slope, not how the backdrop bends below; so what joins it may lie a little off.
  for (const { pixels, terms, deviations } of [
    { pixels: upper, terms: 3, deviations: 4 },
    { pixels: border, terms: termCount, deviations: 8 },
    { pixels: border, terms: termCount, deviations: 4 },
    { pixels: border, terms: termCount, deviations: 4 },
  ]) {
    const near = pixels.filter(({ pixel }) => isOn(small, surface, pixel, deviations))
    if (near.length < Math.max(leastShare * pixels.length, 3 * termCount)) return null
    surface = fitted(small, box, near, terms)
  }
  return surface
}

/** Codes of the surface at a place; `out` takes red, green, blue. */
export function surfaceAt({ box, terms }: BackdropSurface, x: number, y: number, out: Float64Array): void {
  const u = (2 * (x - box.fromX)) / (box.toX - box.fromX) - 1
  const v = (2 * (y - box.fromY)) / (box.toY - box.fromY) - 1
  for (let channel = 0; channel < 3; channel++) {
    const t = terms[channel] as Float64Array
    const code =
      (t[0] as number) +
      (t[1] as number) * u +
      (t[2] as number) * v +
      (t[3] as number) * u * u +
      (t[4] as number) * u * v +
      (t[5] as number) * v * v
    out[channel] = Math.min(255, Math.max(0, code))
  }
}

export interface BorderPixel {
  readonly pixel: number
  readonly isUpper: boolean
}

/** Six terms are told by so many pixels to a small part of a code. */
const borderSamples = 800

/** Some pixels of the upper strip and the two sides, evenly. */
export function borderPixels(small: SmallFrame, box: PixelBox): BorderPixel[] {
  const wide = box.toX - box.fromX
  const high = box.toY - box.fromY
  const strip = Math.max(2, Math.round(0.07 * high))
  const side = Math.max(2, Math.round(0.06 * wide))
  const all: BorderPixel[] = []
  for (let y = box.fromY; y < box.toY; y++) {
    for (let x = box.fromX; x < box.toX; x++) {
      const isTop = y < box.fromY + strip
      if (!isTop && x >= box.fromX + side && x < box.toX - side) {
        x = box.toX - side - 1
        continue
      }
      all.push({ pixel: y * small.widthPx + x, isUpper: isTop || y < box.fromY + high / 2 })
    }
  }
  const every = Math.max(1, Math.floor(all.length / borderSamples))
  return all.filter((_, index) => index % every === 0)
}

function levelSurface(small: SmallFrame, box: PixelBox, border: readonly BorderPixel[]): BackdropSurface {
  const pixels = border.map(({ pixel }) => pixel)
  const level = (channel: number) => {
    const terms = new Float64Array(termCount)
    terms[0] = median(pixels.map((pixel) => small.rgb[pixel * 3 + channel] ?? 0))
    return terms
  }
  const start: BackdropSurface = { box, terms: [level(0), level(1), level(2)], deviation: 12 }
  const spread = 1.4826 * median(pixels.map((pixel) => offSurface(small, start, pixel)))
  return { ...start, deviation: Math.max(6, spread) }
}

function isOn(small: SmallFrame, surface: BackdropSurface, pixel: number, deviations: number): boolean {
  return offSurface(small, surface, pixel) <= deviations * Math.max(0.75, surface.deviation)
}

const at = new Float64Array(3)

function offSurface({ rgb, widthPx }: SmallFrame, surface: BackdropSurface, pixel: number): number {
  const x = pixel % widthPx
  surfaceAt(surface, x, (pixel - x) / widthPx, at)
  let off = 0
  for (let channel = 0; channel < 3; channel++) {
    off += (rgb[pixel * 3 + channel] as number) - (at[channel] as number)
  }
  return Math.abs(off) / 3
}

function fitted(
  small: SmallFrame,
  box: PixelBox,
  border: readonly BorderPixel[],
  count: number,
): BackdropSurface {
  const pixels = border.map(({ pixel }) => pixel)
  const rows = pixels.map((pixel) => {
    const x = pixel % small.widthPx
    const [u, v] = inBox(box, x, (pixel - x) / small.widthPx)
    return [1, u, v, u * u, u * v, v * v].slice(0, count)
  })
  const channels = [0, 1, 2].map((channel) => {
    const codes = pixels.map((pixel) => small.rgb[pixel * 3 + channel] as number)
    // A border of two sides and a top says little of the middle: what it does not tell stays level.
    const fit = leastSquares(rows, codes, { ridge: 4e-3 * pixels.length })
    const terms = new Float64Array(termCount)
    terms.set(fit?.terms ?? [median(codes)])
    return terms
  })
  const surface: BackdropSurface = {
    box,
    terms: channels as [Float64Array, Float64Array, Float64Array],
    deviation: 1,
  }
  return { ...surface, deviation: 1.4826 * median(pixels.map((pixel) => offSurface(small, surface, pixel))) }
}

/** From −1 to 1 over the box. */
function inBox(box: PixelBox, x: number, y: number): readonly [number, number] {
  return [
    (2 * (x - box.fromX)) / (box.toX - box.fromX) - 1,
    (2 * (y - box.fromY)) / (box.toY - box.fromY) - 1,
  ]
}
