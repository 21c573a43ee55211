import type { TakeFrame } from './pack.ts'
import { Refusal } from './refusal.ts'
import { type FaultKind, missingMarks, nextMark, type Pause } from './takes.ts'

/** What a person does at the bench to a running take. Frames count from 1, marks from 0. */
export type BenchAct =
  /** Shoots the next mark, or one that was skipped or made void. */
  | { readonly kind: 'frame'; readonly mark?: number | undefined }
  | { readonly kind: 'void'; readonly frame: number }
  | { readonly kind: 'restore'; readonly frame: number }
  | { readonly kind: 'back'; readonly mark: number }
  | { readonly kind: 'pause'; readonly reason: string | null }
  | { readonly kind: 'resume' }
  | {
      readonly kind: 'fault'
      readonly fault: FaultKind
      readonly frame: number | null
      readonly note: string | null
      /** Makes the frame void as well. */
      readonly isVoid: boolean
    }
  | { readonly kind: 'note'; readonly note: string | null }
  | { readonly kind: 'end' }

/** A take as far as acts change it. Times in milliseconds from its start. */
export interface ActedTake {
  readonly number: number
  readonly frames: readonly TakeFrame[]
  readonly pauses: readonly (Pause & { readonly reason: string | null })[]
  readonly faults: readonly {
    readonly kind: FaultKind
    readonly frame: number | null
    readonly note: string | null
  }[]
  readonly note: string | null
  readonly isEnded: boolean
}

/**
 * The take after one act, by the very rules the store keeps; what the bench shows while the studio does not
 * answer. Refuses what the store refuses, in the same words.
 * @param offsetMs  when it was done, in milliseconds from the start of the take; never earlier than the act before
 */
export function applyAct(take: ActedTake, act: BenchAct, offsetMs: number): ActedTake {
  if (take.isEnded) throw takeEnded(take.number)
  const { frames } = take
  const atMs = Math.max(offsetMs, latestMs(take))
  switch (act.kind) {
    case 'frame': {
      if (act.mark !== undefined) refuseTakenMark(frames, act.mark)
      const mark = act.mark ?? nextMark(frames)
      return {
        ...goOn(take, atMs),
        frames: [...frames, { offsetMs: atMs, isVoid: false, mark, file: null }],
      }
    }
    case 'void':
      return { ...take, frames: withVoid(frames, act.frame, true) }
    case 'restore':
      refuseShotAgain(frames, act.frame)
      return { ...take, frames: withVoid(frames, act.frame, false) }
    case 'back':
      refuseMarkAhead(frames, act.mark)
      return {
        ...take,
        frames: frames.map((one) => (one.mark >= act.mark && !one.isVoid ? { ...one, isVoid: true } : one)),
      }
    case 'pause':
      return take.pauses.some(({ toMs }) => toMs === null)
        ? take
        : { ...take, pauses: [...take.pauses, { fromMs: atMs, toMs: null, reason: act.reason }] }
    case 'resume':
      return goOn(take, atMs)
    case 'fault': {
      const { fault, frame, note, isVoid } = act
      if (frame !== null) refuseNoFrame(frames.length, frame)
      return {
        ...take,
        frames: isVoid && frame !== null ? withVoid(frames, frame, true) : frames,
        faults: inOrder([...take.faults, { kind: fault, frame, note }]),
      }
    }
    case 'note':
      return { ...take, note: act.note }
    case 'end':
      return { ...goOn(take, atMs), isEnded: true }
  }
}

/** Refuses a mark to be shot on the way that is not missing. */
export function refuseTakenMark(frames: readonly TakeFrame[], mark: number): void {
  if (missingMarks(frames, nextMark(frames)).includes(mark)) return
  throw new Refusal('mark-not-missing', `Mark ${mark + 1} is not missing. Shoot the next mark instead.`, {
    field: 'mark',
  })
}

/** Refuses to make a void frame good whose mark has been shot once more since. */
export function refuseShotAgain(frames: readonly TakeFrame[], frame: number): void {
  const one = frames[frame - 1]
  if (!one?.isVoid || !frames.some(({ isVoid, mark }) => !isVoid && mark === one.mark)) return
  throw new Refusal(
    'mark-shot-again',
    `Mark ${one.mark + 1} has been shot again since. Make that frame void first, then bring back frame ${frame}.`,
  )
}

/** Refuses to go back to a mark the take has not come to. */
export function refuseMarkAhead(frames: readonly TakeFrame[], mark: number): void {
  const next = nextMark(frames)
  if (mark < next) return
  throw new Refusal(
    'mark-ahead',
    next === 0
      ? 'No frame is shot yet, so there is no mark to go back to.'
      : `The take has come to mark ${next}. Go back to one from 1 to ${next}.`,
    { field: 'mark' },
  )
}

/** Refuses a frame number that was not shot. */
export function refuseNoFrame(shot: number, frame: number): void {
  if (frame <= shot) return
  throw new Refusal('no-frame', `The take has no frame ${frame}. Choose one that was shot.`, {
    field: 'frame',
  })
}

/** Why nothing more is done to a take. */
export function takeEnded(number: number): Refusal {
  return new Refusal('take-ended', `Take ${number} has ended. Start a new take of this spin.`)
}

/** The latest instant of a take: no act is earlier than the one before it, whatever a clock says. */
function latestMs({ frames, pauses }: ActedTake): number {
  const pause = pauses.at(-1)
  return Math.max(0, frames.at(-1)?.offsetMs ?? 0, pause?.fromMs ?? 0, pause?.toMs ?? 0)
}

function goOn(take: ActedTake, atMs: number): ActedTake {
  return {
    ...take,
    pauses: take.pauses.map((pause) => (pause.toMs === null ? { ...pause, toMs: atMs } : pause)),
  }
}

function withVoid(frames: readonly TakeFrame[], frame: number, isVoid: boolean): readonly TakeFrame[] {
  refuseNoFrame(frames.length, frame)
  return frames.map((one, index) => (index === frame - 1 ? { ...one, isVoid } : one))
}

/** As the studio lists them: those of the whole take first, then frame by frame, each as it was said. */
function inOrder<Fault extends { readonly frame: number | null }>(
  faults: readonly Fault[],
): readonly Fault[] {
  return [...faults].sort((a, b) => (a.frame ?? 0) - (b.frame ?? 0))
}
