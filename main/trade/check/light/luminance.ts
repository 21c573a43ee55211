import type { PictureArea, SmallFrame } from '../smallFrame.ts'

/** Linear red, green and blue, 0 to 1. */
export type LinearRgb = readonly [red: number, green: number, blue: number]

/** Luminance of linear red, green and blue: IEC 61966-2-1, the primaries of ITU-R BT.709. */
const redY = 0.2126
const greenY = 0.7152
const blueY = 0.0722

/** Linear light (0 to 1) of each code of 8 bits. IEC 61966-2-1. */
export const linearOfCode: Float64Array = Float64Array.from({ length: 256 }, (_, code) =>
  linearOf(code / 255),
)

/** Half the darkest code that is not black: what an 8-bit picture cannot tell from nothing. */
const blackY = linearOf(0.5 / 255)

/** Linear light of a value of sRGB, 0 to 1. IEC 61966-2-1, with its threshold of 0.04045. */
export function linearOf(value: number): number {
  return value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4
}

/** The code of sRGB, 0 to 255 and not rounded, that has this linear light: `linearOf` the way back. */
export function codeOf(linear: number): number {
  return 255 * (linear <= 0.04045 / 12.92 ? linear * 12.92 : 1.055 * linear ** (1 / 2.4) - 0.055)
}

/** Luminance Y (0 black to 1 white) of linear red, green and blue. */
export function luminanceOf([red, green, blue]: LinearRgb): number {
  return redY * red + greenY * green + blueY * blue
}

/** What each code of a channel adds to the luminance. */
const redYOfCode = linearOfCode.map((linear) => redY * linear)
const greenYOfCode = linearOfCode.map((linear) => greenY * linear)
const blueYOfCode = linearOfCode.map((linear) => blueY * linear)

/** The luminance of the pixel whose codes begin at `at`. */
export function luminanceAt(rgb: Uint8Array, at: number): number {
  return (
    (redYOfCode[rgb[at] as number] as number) +
    (greenYOfCode[rgb[at + 1] as number] as number) +
    (blueYOfCode[rgb[at + 2] as number] as number)
  )
}

/** The luminance of every pixel, row by row. */
export function luminancesOf({ rgb, widthPx, heightPx }: SmallFrame): Float32Array {
  const y = new Float32Array(widthPx * heightPx)
  for (let pixel = 0, at = 0; pixel < y.length; pixel++, at += 3) {
    y[pixel] = luminanceAt(rgb, at)
  }
  return y
}

/** A part of the picture in whole pixels; the ends are the first pixels that lie outside. */
export function pixelsOf(
  { widthPx, heightPx }: Pick<SmallFrame, 'widthPx' | 'heightPx'>,
  { left, top, right, bottom }: PictureArea,
): { readonly fromX: number; readonly toX: number; readonly fromY: number; readonly toY: number } {
  const within = (share: number, pixels: number) => Math.min(pixels, Math.max(0, Math.round(share * pixels)))
  return {
    fromX: within(left, widthPx),
    toX: within(right, widthPx),
    fromY: within(top, heightPx),
    toY: within(bottom, heightPx),
  }
}

/**
 * How much brighter the second light is than the first, in stops (EV): log2 of their ratio, more than 0 is brighter.
 * Both are linear. Black counts as half the darkest code, so that a frame without any light is many stops dark, not
 * infinitely many.
 */
export function evBetween(from: number, to: number): number {
  return Math.log2(Math.max(to, blackY) / Math.max(from, blackY))
}
