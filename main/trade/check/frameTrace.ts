/**
 * What is kept of a frame once its picture is let go: a take of 310 frames is held in some 15 MB. Light is linear
 * (Y of CIE XYZ, 0 black to 1 white), lengths are pixels of the small frame it was taken from.
 */
export interface FrameTrace {
  readonly widthPx: number
  readonly heightPx: number
  /** Mean luminance of the whole frame. */
  readonly frameY: number
  /** Of the backdrop, the platter and the product; null where none was found. */
  readonly backdropY: number | null
  readonly platterY: number | null
  readonly productY: number | null
  /** Mean linear red, green and blue of the backdrop, for the white balance. */
  readonly backdropRgb: readonly [red: number, green: number, blue: number] | null
  /** The frame made smaller still, in linear luminance, to match frames by. */
  readonly thumb: Thumb
  /** The product's outline; null where none was found. */
  readonly silhouette: Silhouette | null
}

export interface Thumb {
  readonly widthPx: number
  readonly heightPx: number
  readonly y: Float32Array
}

/** The product against its backdrop, row by row, to parts of a pixel. */
export interface Silhouette {
  /** The first row that holds some of it; the row after the last is `topPx + leftPx.length`. */
  readonly topPx: number
  /** Where it begins and ends in each row; NaN in a row that holds none of it. */
  readonly leftPx: Float32Array
  readonly rightPx: Float32Array
  readonly areaPx: number
  readonly centroidXPx: number
  readonly centroidYPx: number
}
