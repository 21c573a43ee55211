import type { Finish, SizeClass } from './product.ts'

/**
 * The studio's own figures, from which estimates start until its takes have taught better ones. Times in ms,
 * chances and spread in ppm.
 */
export interface Pace {
  /** Median time from one frame to the next: move to the mark, settle, fire. */
  readonly stepMs: number
  /** Spread of a take's median step from take to take: standard deviation of its logarithm, 250,000 is 0.25. */
  readonly stepSpreadPpm: number
  /** Frames shot before the turn to check focus, light and centring. */
  readonly checkFrames: number
  /** From one row's last frame to the next row's first. */
  readonly rowChangeMs: number
  /** Chance that a spin's take has to be restarted once. */
  readonly restartPpm: number
  /** From the end of a rejected take to the start of the next one of its spin, while the set stands. */
  readonly restartPauseMs: number
  /** Chance that a spin is shot again after its set is gone. */
  readonly reshootPpm: number
  readonly changePlatterMs: number
  /** Per light that is moved or changed. */
  readonly changeLightMs: number
  readonly changeCameraMs: number
  readonly changeLensMs: number
  readonly changeBackdropMs: number
  readonly changeSettingsMs: number
  readonly frameBytes: number
  readonly copyBytesPerSecond: number
  readonly developFrameMs: number
  readonly pickSpinMs: number
  readonly exportFrameMs: number
  readonly handling: readonly Handling[]
  /** Spread of handling from product to product, as that of the step: standard deviation of its logarithm. */
  readonly handlingSpreadPpm: number
  /**
   * The part of handling that a second person can do beside the platter while a spin is turned: unpacking,
   * cleaning, mounting. Placing and centring stay on the platter.
   */
  readonly besidePpm: number
}

/** How many people work at the bench: one does everything, or a second one prepares. */
export type BenchPeople = 1 | 2

/** Unpacking, cleaning, placing and centring a product, by its size and finish: mean times. */
export interface Handling {
  readonly sizeClass: SizeClass
  readonly finish: Finish
  /** For the first product of a family. */
  readonly firstMs: number
  /** For each that follows it. */
  readonly followingMs: number
  /** Its own spread where takes have taught one; else the studio's. */
  readonly spreadPpm?: number
}
