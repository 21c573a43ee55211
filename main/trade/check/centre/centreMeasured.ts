/** What the offset was measured on. */
export type CentreMeasured = 'round body' | 'body' | 'swept outline'

/** Where the middle of a product was measured: mm to the right and away from the camera in the pose of 0°. */
export interface Measured {
  readonly measuredOn: CentreMeasured
  readonly x: number
  readonly y: number
  readonly axis: number
  /** Two standard deviations and what the outline cannot tell, in mm. */
  readonly error: number
  readonly quality: number
  readonly radius: number
}

/** Fewer frames with an outline tell nothing. */
export const leastFrames = 4

/** What remains of an edge's place however many frames there are, in pixels: where in its pixel it falls is not chance. */
export const readingErrorPx = 0.08
