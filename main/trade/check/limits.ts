/**
 * From where the check of a take finds fault: the studio's own limits. What a new studio starts from is common
 * practice, no published source.
 */
export interface CheckLimits {
  /** Light from one frame to the next, in thousandths of an EV. */
  readonly flickerMev: number
  /** A change of light that stays, in thousandths of an EV. */
  readonly lightStepMev: number
  /** Slow change of light over the whole take, in thousandths of an EV. */
  readonly driftMev: number
  /** How far the product may stand off the axis, in micrometres. */
  readonly centreUm: number
  /** The room the product keeps to the picture's edges at every angle, in millionths of the picture's longest side. */
  readonly marginPpm: number
}
