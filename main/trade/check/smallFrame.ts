/**
 * A frame made small for the check: upright, sRGB (IEC 61966-2-1), 8 bit, three channels, row by row from the top
 * left. The frames of one take have one size.
 */
export interface SmallFrame {
  readonly widthPx: number
  readonly heightPx: number
  readonly rgb: Uint8Array
}

/** A part of the picture, as fractions of its width and height from the top left, so that it fits any size. */
export interface PictureArea {
  readonly left: number
  readonly top: number
  readonly right: number
  readonly bottom: number
}
