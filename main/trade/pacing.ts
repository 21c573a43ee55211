import { Refusal } from './refusal.ts'

/** The three cues of a paced frame: turn the platter, let it come to rest, fire. */
export const cues = ['move', 'wait', 'shoot'] as const
export type Cue = (typeof cues)[number]

/** How long each cue lasts, in whole milliseconds. */
export interface Rhythm {
  readonly moveMs: number
  readonly waitMs: number
  readonly shootMs: number
}

/** One cue on the clock, in ms from the start of the pacing. */
export interface Beat {
  readonly cue: Cue
  /** Which frame of this stretch of pacing it belongs to, counted from 0. */
  readonly index: number
  readonly atMs: number
  readonly untilMs: number
}

/** Shortest and longest cue that a hand can follow; common practice, no published source. */
export const shortestCueMs = 200
export const longestCueMs = 60_000

/** The length of one paced frame in ms. Refuses a cue that is no whole number, too short or too long. */
export function cycleMs({ moveMs, waitMs, shootMs }: Rhythm): number {
  for (const [cue, ms] of [
    ['move', moveMs],
    ['wait', waitMs],
    ['shoot', shootMs],
  ] as const) {
    if (!Number.isInteger(ms) || ms < shortestCueMs || ms > longestCueMs) {
      throw new Refusal(
        'bad-rhythm',
        `‘${cue}’ lasts ${ms / 1000} s. Enter from ${shortestCueMs / 1000} to ${longestCueMs / 1000} s.`,
        { field: `${cue}Ms` },
      )
    }
  }
  return moveMs + waitMs + shootMs
}

/**
 * A rhythm that takes one step together: half of it to move, three tenths to rest, the remainder to shoot. The
 * shares are common practice, no published source.
 * @param stepMs  the rig's median step in ms; held between 1 s and 120 s
 */
export function rhythmOfStep(stepMs: number): Rhythm {
  const step = Math.min(2 * longestCueMs, Math.max(5 * shortestCueMs, Math.round(stepMs)))
  const moveMs = Math.round(step * 0.5)
  const waitMs = Math.round(step * 0.3)
  return { moveMs, waitMs, shootMs: step - moveMs - waitMs }
}

/**
 * The cue at an instant, reckoned from the start of the pacing and not from the cue before: an hour on, it is
 * where it would be if no timer had ever been late.
 */
export function beatAt(rhythm: Rhythm, elapsedMs: number): Beat {
  const cycle = cycleMs(rhythm)
  const index = Math.floor(elapsedMs / cycle)
  let atMs = index * cycle
  for (const [cue, ms] of [
    ['move', rhythm.moveMs],
    ['wait', rhythm.waitMs],
  ] as const) {
    if (elapsedMs < atMs + ms) return { cue, index, atMs, untilMs: atMs + ms }
    atMs += ms
  }
  return { cue: 'shoot', index, atMs, untilMs: (index + 1) * cycle }
}

/** The cue that follows one. */
export function nextBeat(rhythm: Rhythm, beat: Beat): Beat {
  return beatAt(rhythm, beat.untilMs)
}

/**
 * Whether a cue comes too late to be followed: the device slept, or the page stood still, so that the hand never
 * heard it. Such a cue counts nothing, and the pacing stops and says so.
 */
export function isMissed(beat: Beat, elapsedMs: number): boolean {
  return elapsedMs >= beat.untilMs
}
