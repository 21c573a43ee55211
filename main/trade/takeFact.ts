import type { Finish, SizeClass } from './product.ts'

/** What an ended take tells about time. Instants in ms since 1970; takes are told in the order of their start. */
export interface TakeFact {
  readonly jobId: number
  readonly shootId: number
  readonly row: number
  /** Rows of its spin. */
  readonly rows: number
  readonly rigId: number
  readonly rigRevisionId: number
  readonly settingsId: number
  readonly benchId: number
  readonly startedMs: number
  readonly endedMs: number
  /** From its first frame to its last, in ms; null where frames were only counted. */
  readonly spanMs: number | null
  /** Pauses the person marked, in ms. */
  readonly pausedMs: number
  readonly framesShot: number
  /** Of the turn and its overlap. */
  readonly framesWanted: number
  /** The median of its steps; where frames were only counted, the mean. */
  readonly medianStepMs: number | null
  readonly verdict: 'keep' | 'reject' | null
  /** How often the spin had been called for again before it; the client's own wishes, which are billed, aside. */
  readonly reshoots: number
  readonly sizeClass: SizeClass
  readonly finish: Finish
  readonly familyId: number | null
}

/** Stops count up to this part of a take's turning; what is longer is a break and says nothing of the next take. */
const mostStops = 0.25

/**
 * The time a frame took over the whole take, its short stops included, in ms: from the first frame to the last,
 * without marked pauses, over the steps. A take timed frame by frame counts at most a quarter over its median
 * step, so that a long break nobody marked does not spoil it.
 * @returns null where fewer than two frames were shot, or nothing is known of the step
 */
export function takeStepMs(take: TakeFact): number | null {
  const { framesShot, medianStepMs, spanMs, pausedMs } = take
  if (framesShot < 2 || medianStepMs === null) return null
  if (spanMs === null) return medianStepMs
  const overall = (spanMs - pausedMs) / (framesShot - 1)
  return overall > 0 ? Math.min(overall, medianStepMs * (1 + mostStops)) : medianStepMs
}

/** How long the take turned, breaks left out, in ms. */
export function turnedMs(take: TakeFact): number {
  return (takeStepMs(take) ?? 0) * take.framesShot
}
