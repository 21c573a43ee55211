import type { TakeFrame } from './pack.ts'
import { median } from './quantile.ts'
import { Refusal } from './refusal.ts'
import { turnMarks } from './turn/marks.ts'

/** What can go wrong with a take, in the trade's words. */
export const faultKinds = [
  'flicker',
  'bump',
  'off centre',
  'missed step',
  'focus',
  'dust',
  'light change',
  'product moved',
] as const
export type FaultKind = (typeof faultKinds)[number]

/** A stretch in which nobody turned, in milliseconds from the take's start; null while it lasts. */
export interface Pause {
  readonly fromMs: number
  readonly toMs: number | null
}

/** The mark to turn to next: one past the farthest good frame, so that a void last frame is shot again. */
export function nextMark(frames: readonly TakeFrame[]): number {
  return frames.reduce((next, { isVoid, mark }) => (isVoid ? next : Math.max(next, mark + 1)), 0)
}

/** Marks before `upTo` at which no good frame stands: those skipped, and those whose frame is void. */
export function missingMarks(frames: readonly TakeFrame[], upTo: number): number[] {
  const good = new Set(frames.filter(({ isVoid }) => !isVoid).map(({ mark }) => mark))
  return Array.from({ length: upTo }, (_, mark) => mark).filter((mark) => !good.has(mark))
}

/** A step as it was turned: the mark it led to, and how long it took in milliseconds. */
export interface StepGap {
  readonly mark: number
  readonly ms: number
}

/**
 * The gaps between neighbouring good frames. A gap beside a void frame holds a step turned twice, and one with a
 * pause in it holds no turning, so neither counts.
 */
export function stepGaps(frames: readonly TakeFrame[], pauses: readonly Pause[]): readonly StepGap[] {
  return frames.flatMap((frame, index) => {
    const before = frames[index - 1]
    if (!before || before.isVoid || frame.isVoid) return []
    const isPaused = pauses.some(({ fromMs }) => fromMs >= before.offsetMs && fromMs < frame.offsetMs)
    const ms = frame.offsetMs - before.offsetMs
    return isPaused || ms <= 0 ? [] : [{ mark: frame.mark, ms }]
  })
}

/**
 * The take's own pace in milliseconds: the median of its steps (`stepGaps`).
 * @returns null where fewer than two good frames stand side by side
 */
export function medianStepMs(frames: readonly TakeFrame[], pauses: readonly Pause[]): number | null {
  const gaps = stepGaps(frames, pauses)
  return gaps.length === 0 ? null : Math.max(1, Math.round(median(gaps.map(({ ms }) => ms))))
}

/**
 * Milliseconds left at a pace: the frames still to shoot, gaps behind the pointer among them.
 * @param toShoot  frames of the turn and its overlap
 */
export function timeLeftMs(frames: readonly TakeFrame[], toShoot: number, stepMs: number): number {
  const next = Math.min(nextMark(frames), toShoot)
  return (toShoot - next + missingMarks(frames, next).length) * stepMs
}

/**
 * Where the tape stands under the pointer for each frame of a turn, in tenths of a micrometre. Where the step
 * is finer than the tape's division, as on a rim strip of the studio's own, it is the true place, k × rim ÷
 * frames, to the nearest tenth of a micrometre.
 */
export function benchMarks(rimUm10: number, frames: number, divisionUm10: number): number[] {
  try {
    return turnMarks(rimUm10, frames, divisionUm10)
  } catch (error) {
    if (!(error instanceof Refusal) || error.code !== 'step-under-division') throw error
    return Array.from({ length: frames }, (_, k) => Math.round((k * rimUm10) / frames))
  }
}
