import type { Answers } from '../../main/api/types.ts'
import { stepOfTake } from '../../main/trade/learning.ts'
import { medianStepMs, missingMarks, nextMark, timeLeftMs } from '../../main/trade/takes.ts'
import type { KeptPress } from './presses.ts'

export type TakePage = Answers['takes']['one']

/** What the bench shows of a take. Marks count from 0, as the store keeps them. */
export interface TurningState {
  readonly nextMark: number
  /** The tape reading to turn to, in mm; undefined where the rim's marks are not known. */
  readonly nextMarkMm: number
  readonly framesPerTurn: number
  readonly toShoot: number
  readonly isClosed: boolean
  readonly isDone: boolean
  /** Good frames of the turn. */
  readonly good: number
  readonly voids: number
  /** The number of the last good frame, or undefined before the first. */
  readonly lastGood: number | undefined
  readonly shot: number
  readonly missing: readonly number[]
  readonly stepMs: number
  /** False while the pace is that of earlier takes. */
  readonly isOwnPace: boolean
  readonly leftMs: number
  readonly isPaused: boolean
}

/**
 * The state of a take from what the studio last told, carried on by the presses that were kept since: the
 * next answer is on its way, but the hand at the platter is faster, by more than one frame where it lags.
 * @param kept  the presses kept while this page stands, in their order
 */
export function turningState(page: TakePage, kept: readonly KeptPress[]): TurningState {
  const { take, pauses, marksMm } = page
  const since = kept.filter(({ frame }) => frame > page.frames.length)
  const last = since.at(-1)
  const offsetMs = page.frames.at(-1)?.offsetMs ?? 0
  const frames = [...page.frames, ...since.map(({ mark }) => ({ offsetMs, isVoid: false, mark, file: null }))]
  const next = last?.nextMark ?? nextMark(frames)
  const { framesPerTurn } = take
  const toShoot = framesPerTurn + take.overlapFrames
  const own = medianStepMs(page.frames, pauses)
  const stepMs = stepOfTake(own, frames.length, page.usualStepMs)
  const voids = frames.filter(({ isVoid }) => isVoid).length
  const lastGood = frames.findLastIndex(({ isVoid }) => !isVoid) + 1
  const missing = missingMarks(frames, Math.min(next, framesPerTurn))
  return {
    nextMark: next,
    nextMarkMm: marksMm[next % marksMm.length] ?? 0,
    framesPerTurn,
    toShoot,
    isClosed: next >= framesPerTurn && missing.length === 0,
    isDone: next >= toShoot && missing.length === 0,
    good: frames.length - voids,
    voids,
    lastGood: lastGood === 0 ? undefined : lastGood,
    shot: frames.length,
    missing,
    stepMs,
    isOwnPace: own !== null,
    leftMs: timeLeftMs(frames, toShoot, stepMs),
    isPaused: last === undefined && pauses.some(({ toMs }) => toMs === null),
  }
}

/** The faults of a take where the ring shows them: at their marks, counted from 1; those without a frame apart. */
export function faultsOnRing(page: TakePage): readonly { readonly frame: number; readonly kind: string }[] {
  return page.faults.flatMap(({ frame, kind }) => {
    const mark = frame === null ? undefined : page.frames[frame - 1]?.mark
    return mark === undefined ? [] : [{ frame: mark + 1, kind }]
  })
}
