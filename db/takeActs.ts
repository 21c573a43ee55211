import type { BenchAct } from '../main/trade/benchActs.ts'
import { refuseNoFrame } from '../main/trade/benchActs.ts'
import { Refusal } from '../main/trade/refusal.ts'
import type { Writing } from './events.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { inOneTransaction, prepared } from './statement.ts'
import { type ActAnswer, answeredBefore, keepAnswer } from './takeAnswers.ts'
import {
  addFrame,
  backToMark,
  type FileOfFrame,
  framesShot,
  instantOfAct,
  type Pressed,
  pauseTake,
  refuseUnlessRunning,
  restoreFrame,
  resumeTake,
  voidFrame,
  whyNotRunning,
} from './takeFrames.ts'
import { type Holder, holdTake, whyNotHeld } from './takeHolds.ts'
import { addFault, endTake, noteTake } from './takes.ts'

/** An act as a device sends it: a key of its own, and how long ago it was done, in milliseconds. */
export interface SentAct {
  readonly key: string
  readonly agoMs: number
  readonly act: BenchAct
}

/** The take that acts are sent for, by whom. */
export interface ActsFor {
  readonly takeId: Id<'take'>
  /** When it started, as the device knows it: it may keep acts for a take of another studio. */
  readonly startedAt?: string | undefined
  readonly holder: Holder
  /**
   * When they were sent by the studio's clock, as the device knows it, in milliseconds since 1970: acts that
   * were long on their way were done longer ago than the device could say.
   */
  readonly sentMs?: number | undefined
}

/**
 * Does acts of the device that has the take in hand, in their order: each exactly once, durably, in one
 * transaction of its own. The same key again is answered as it was the first time, also after the take's end. A take that nobody has is the
 * device's from then on. What the rules refuse is answered with its sentence and stays refused; a take that
 * has ended, or that another has, refuses without remembering it, so that the device may ask again.
 * Refuses acts for a take of another studio as a whole.
 */
export function actOnTake(writing: Writing, of: ActsFor, acts: readonly SentAct[]): readonly ActAnswer[] {
  refuseOtherStudio(writing.db, of)
  const lateMs = Math.max(0, Date.parse(writing.now) - (of.sentMs ?? Number.POSITIVE_INFINITY))
  return acts.map((sent) => answerTo(writing, of, { ...sent, agoMs: sent.agoMs + lateMs }))
}

function answerTo(writing: Writing, { takeId, holder }: ActsFor, sent: SentAct): ActAnswer {
  const { db } = writing
  return inOneTransaction(db, () => {
    const before = answeredBefore(db, takeId, sent.key)
    if (before) return before
    const turnedAway = whyNotRunning(db, takeId) ?? whyNotHeld(writing, takeId, holder.key)
    if (turnedAway) return notTaken(sent.key, turnedAway)
    holdTake(writing, takeId, holder)
    try {
      const pressed = inOneTransaction(db, () => done(writing, takeId, sent))
      return keepAnswer(db, takeId, sent.key, { pressed })
    } catch (error) {
      if (!(error instanceof Refusal)) throw error
      return keepAnswer(db, takeId, sent.key, { refusal: error })
    }
  })
}

/**
 * Keeps one frame of a running take that the studio itself counted, durably. The same `pressKey` again gives the
 * frame it made the first time. It asks nobody who has the take in hand.
 * @param press.mark   a mark that was skipped or made void, to shoot it now; else the next one
 * @param press.agoMs  how long ago it was shot, in milliseconds; now, where it is left out
 * @param press.file   its file, in one of the take's folders
 */
export function pressFrame(
  writing: Writing,
  press: {
    readonly takeId: Id<'take'>
    readonly pressKey: string
    readonly mark?: number | undefined
    readonly agoMs?: number | undefined
    readonly file?: FileOfFrame | undefined
  },
): Pressed {
  const { takeId, pressKey, mark, file } = press
  return inOneTransaction(writing.db, () => {
    const before = answeredBefore(writing.db, takeId, pressKey)
    if (before && before.frame !== null && before.mark !== null) {
      return { frame: before.frame, mark: before.mark }
    }
    refuseUnlessRunning(writing.db, takeId)
    const at = instantOfAct(writing, takeId, press.agoMs ?? 0)
    const pressed = addFrame(writing.db, { takeId, at, mark, file })
    keepAnswer(writing.db, takeId, pressKey, { pressed })
    return pressed
  })
}

function done(writing: Writing, takeId: Id<'take'>, { act, agoMs }: SentAct): Pressed | undefined {
  const at = instantOfAct(writing, takeId, agoMs)
  switch (act.kind) {
    case 'frame':
      return addFrame(writing.db, { takeId, at, mark: act.mark })
    case 'void':
      voidFrame(writing, takeId, act.frame)
      return undefined
    case 'restore':
      restoreFrame(writing, takeId, act.frame)
      return undefined
    case 'back':
      backToMark(writing, takeId, act.mark)
      return undefined
    case 'pause':
      pauseTake(writing, takeId, at, act.reason)
      return undefined
    case 'resume':
      resumeTake(writing.db, takeId, at)
      return undefined
    case 'fault': {
      const { fault: kind, frame, note, isVoid } = act
      if (frame !== null) refuseNoFrame(framesShot(writing.db, takeId), frame)
      addFault({ ...writing, now: at }, takeId, { kind, frame, note })
      if (isVoid && frame !== null) voidFrame(writing, takeId, frame)
      return undefined
    }
    case 'note':
      noteTake(writing, takeId, act.note)
      return undefined
    case 'end':
      endTake(writing, takeId, at)
      return undefined
  }
}

function refuseOtherStudio(db: Db, { takeId, startedAt }: ActsFor): void {
  const take = prepared<[number], { startedAt: string }>(
    db,
    'SELECT started_at AS startedAt FROM take WHERE id = ?',
  ).get(takeId)
  if (take && (startedAt === undefined || take.startedAt === startedAt)) return
  throw new Refusal(
    'other-studio',
    'This take is not in the studio that is open. Open the studio it was started in.',
  )
}

function notTaken(key: string, { code, message }: Refusal): ActAnswer {
  return { key, number: null, frame: null, mark: null, refusal: { code, sentence: message } }
}
