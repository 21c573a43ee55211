import { Refusal } from '../main/trade/refusal.ts'
import { type Writing, writeEvent } from './events.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { inOneTransaction, prepared } from './statement.ts'
import { framesOf } from './takeFrames.ts'

/** What a person said of how a take is played where it is looked at. */
export interface ChosenPlaying {
  /** First and last frame by the take's numbers; null as the check proposes them. */
  readonly loop: { readonly inFrame: number; readonly outFrame: number } | null
  readonly isReversed: boolean
}

/** How a take is to be played. */
export interface TakePlaying {
  /** Which way the product turns, seen from above, while the frames go on. */
  readonly direction: 'clockwise' | 'anticlockwise'
  /** Null where nobody has said. */
  readonly chosen: ChosenPlaying | null
  /** The frame it begins at and the way round, as it was picked last for a deliverable; null where it is not picked. */
  readonly picked: { readonly startFrame: number; readonly isReversed: boolean } | null
}

/** How a take is to be played; of one that the studio does not have, clockwise. */
export function playingOfTake(db: Db, takeId: Id<'take'>): TakePlaying {
  const row = prepared<[number], Pick<TakePlaying, 'direction'>>(
    db,
    `SELECT brief.direction FROM take JOIN shoot ON shoot.id = take.shoot_id JOIN job ON job.id = shoot.job_id
     JOIN brief ON brief.id = ifnull(shoot.brief_id, job.brief_id) WHERE take.id = ?`,
  ).get(takeId)
  return {
    direction: row?.direction ?? 'clockwise',
    chosen: chosenPlaying(db, takeId),
    picked: pickedPlaying(db, takeId),
  }
}

function chosenPlaying(db: Db, takeId: Id<'take'>): ChosenPlaying | null {
  const row = prepared<[number], { inFrame: number | null; outFrame: number | null; reversed: 0 | 1 }>(
    db,
    'SELECT in_frame AS inFrame, out_frame AS outFrame, reversed FROM take_loop WHERE take_id = ?',
  ).get(takeId)
  if (!row) return null
  const { inFrame, outFrame, reversed } = row
  return {
    loop: inFrame === null || outFrame === null ? null : { inFrame, outFrame },
    isReversed: reversed === 1,
  }
}

/** A pick counts marks from 1; the take counts its exposures, void ones too. */
function pickedPlaying(db: Db, takeId: Id<'take'>): TakePlaying['picked'] {
  const pick = prepared<[number], { startFrame: number; reversed: 0 | 1 }>(
    db,
    `SELECT start_frame AS startFrame, reversed FROM pick WHERE take_id = ? AND withdrawn_at IS NULL
     ORDER BY picked_at DESC, id DESC LIMIT 1`,
  ).get(takeId)
  if (!pick) return null
  const { startFrame, reversed } = pick
  const frame = startFrame === 1 ? 0 : framesOf(db, takeId).findIndex(isAtMark(startFrame - 1)) + 1
  return { startFrame: frame || startFrame, isReversed: reversed === 1 }
}

/** Where a take begins and which way round, as a person chose it where it is looked at. */
export interface ChosenStart {
  /** The mark, counted from 1, as a pick counts. */
  readonly startFrame: number
  readonly reversed: boolean
}

/** The start that a person chose in the viewer, by the marks of a pick; a loop that begins at a void frame begins at the next. */
export function chosenStart(db: Db, takeId: Id<'take'>, framesPerTurn: number): ChosenStart | null {
  const chosen = chosenPlaying(db, takeId)
  if (!chosen) return null
  const { loop, isReversed } = chosen
  const first = loop && framesOf(db, takeId).find(({ isVoid }, at) => !isVoid && at + 1 >= loop.inFrame)
  return { startFrame: first ? (first.mark % framesPerTurn) + 1 : 1, reversed: isReversed }
}

function isAtMark(wanted: number) {
  return ({ isVoid, mark }: { readonly isVoid: boolean; readonly mark: number }) => !isVoid && mark === wanted
}

/**
 * Keeps how a person wants a take played, in place of what was said before; what is as proposed and forward is forgotten.
 * Refuses a loop that ends before it begins, and a take that the studio does not have.
 */
export function choosePlaying(
  writing: Writing,
  takeId: Id<'take'>,
  { loop, isReversed }: ChosenPlaying,
): void {
  const { db } = writing
  if (loop && loop.outFrame < loop.inFrame) {
    throw new Refusal(
      'loop-ends-first',
      `The loop would end at frame ${loop.outFrame}, before it begins at ${loop.inFrame}. Change one of the two.`,
      { field: 'loopOut' },
    )
  }
  inOneTransaction(db, () => {
    if (!prepared<[number], { one: 1 }>(db, 'SELECT 1 AS one FROM take WHERE id = ?').get(takeId)) {
      throw new Refusal('no-take', 'This take is not in the studio.')
    }
    const before = JSON.stringify(chosenPlaying(db, takeId))
    const isForgotten = loop === null && !isReversed && pickedPlaying(db, takeId)?.isReversed !== true
    prepared<[number]>(db, 'DELETE FROM take_loop WHERE take_id = ?').run(takeId)
    if (!isForgotten) {
      prepared<unknown[]>(
        db,
        'INSERT INTO take_loop (take_id, in_frame, out_frame, reversed) VALUES (?, ?, ?, ?)',
      ).run(takeId, loop?.inFrame ?? null, loop?.outFrame ?? null, isReversed ? 1 : 0)
    }
    if (JSON.stringify(chosenPlaying(db, takeId)) === before) return
    const detail = { loop, isReversed }
    writeEvent(writing, { subject: 'take', subjectId: takeId, what: 'loop chosen', detail })
  })
}
