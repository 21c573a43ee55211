import type { Answers } from '../../main/api/types.ts'
import type { ActedTake } from '../../main/trade/benchActs.ts'
import { stepOfTake } from '../../main/trade/learning.ts'
import { medianStepMs, missingMarks, nextMark, timeLeftMs } from '../../main/trade/takes.ts'

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
  /** The frame that was made void last and can be made good again: its mark has not been shot since. */
  readonly lastVoid: number | undefined
  readonly shot: number
  /** The number that the last frame will have: void frames keep theirs, and their marks are shot again. */
  readonly lastNumber: number
  readonly missing: readonly number[]
  readonly stepMs: number
  /** False while the pace is that of earlier takes. */
  readonly isOwnPace: boolean
  readonly leftMs: number
  readonly isPaused: boolean
  /** True where the take has been ended here and the studio has yet to hear of it. */
  readonly isEnded: boolean
  readonly faults: readonly { readonly frame: number | null; readonly kind: string }[]
  /** The marks of the faults, counted from 1; those without a frame are left out. */
  readonly faultMarks: readonly { readonly frame: number; readonly kind: string }[]
}

/** The take of a page as acts change it. */
export function actedTake({ take, frames, pauses, faults }: TakePage): ActedTake {
  return {
    number: take.number,
    frames,
    pauses,
    faults,
    note: take.note,
    isEnded: take.endedAt !== null,
  }
}

/**
 * What the bench shows of a take: as the studio last told it, or as `acted` has it after acts that the page does
 * not hold yet.
 */
export function turningState(page: TakePage, acted: ActedTake = actedTake(page)): TurningState {
  const { marksMm } = page
  const { frames, pauses, faults } = acted
  const next = nextMark(frames)
  const { framesPerTurn } = page.take
  const toShoot = framesPerTurn + page.take.overlapFrames
  const own = medianStepMs(frames, pauses)
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
    lastVoid: lastVoidOf(frames),
    shot: frames.length,
    lastNumber: Math.max(frames.length, toShoot + voids),
    missing,
    stepMs,
    isOwnPace: own !== null,
    leftMs: timeLeftMs(frames, toShoot, stepMs),
    isPaused: pauses.some(({ toMs }) => toMs === null),
    isEnded: acted.isEnded,
    faults,
    faultMarks: faults.flatMap(({ frame, kind }) => {
      const mark = frame === null ? undefined : frames[frame - 1]?.mark
      return mark === undefined ? [] : [{ frame: mark + 1, kind }]
    }),
  }
}

function lastVoidOf(frames: ActedTake['frames']): number | undefined {
  const index = frames.findLastIndex(({ isVoid }) => isVoid)
  const one = frames[index]
  if (!one || frames.some(({ isVoid, mark }) => !isVoid && mark === one.mark)) return undefined
  return index + 1
}
