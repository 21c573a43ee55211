import type { Refusal } from '../main/trade/refusal.ts'
import type { Writing } from './events.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { prepared } from './statement.ts'

/** What the studio answered to one act at the bench. */
export interface ActAnswer {
  readonly key: string
  /** Its place among the acts of the take, from 1; null where it was never the take's. */
  readonly number: number | null
  /** The frame and mark that a frame act made. */
  readonly frame: number | null
  readonly mark: number | null
  readonly refusal: { readonly code: string; readonly sentence: string } | null
}

/** A tablet that comes back within a week is answered as it would have been at once. */
const keptDays = 7

interface AnswerRow extends Omit<ActAnswer, 'refusal'> {
  readonly code: string | null
  readonly sentence: string | null
}

/** What was answered to this act before, or undefined where it is new. */
export function answeredBefore(db: Db, takeId: Id<'take'>, key: string): ActAnswer | undefined {
  const row = prepared<[number, string], AnswerRow>(
    db,
    `SELECT act_key AS key, number, frame, mark, refusal_code AS code, refusal_sentence AS sentence
     FROM take_act WHERE take_id = ? AND act_key = ?`,
  ).get(takeId, key)
  return row && toAnswer(row)
}

/** Keeps what is answered to an act, and gives it. Call inside the transaction that does the act. */
export function keepAnswer(
  db: Db,
  takeId: Id<'take'>,
  key: string,
  answer: {
    readonly pressed?: { readonly frame: number; readonly mark: number } | undefined
    readonly refusal?: Refusal
  },
): ActAnswer {
  const { pressed, refusal } = answer
  const row = prepared<unknown[], AnswerRow>(
    db,
    `INSERT INTO take_act (take_id, act_key, number, frame, mark, refusal_code, refusal_sentence)
     SELECT ?, ?, (SELECT ifnull(max(number), 0) + 1 FROM take_act WHERE take_id = ?), ?, ?, ?, ?
     RETURNING act_key AS key, number, frame, mark, refusal_code AS code, refusal_sentence AS sentence`,
  ).get(
    takeId,
    key,
    takeId,
    pressed?.frame ?? null,
    pressed?.mark ?? null,
    refusal?.code ?? null,
    refusal?.message ?? null,
  )
  if (!row) throw new Error('The answer to an act was not kept.')
  return toAnswer(row)
}

/** How many acts of a take were answered so far. */
export function actsOf(db: Db, takeId: Id<'take'>): number {
  const row = prepared<[number], { acts: number | null }>(
    db,
    'SELECT max(number) AS acts FROM take_act WHERE take_id = ?',
  ).get(takeId)
  return row?.acts ?? 0
}

/** Forgets the acts of takes from before the takes of the last week; a take that still runs keeps its own. */
export function forgetOldActs({ db, now }: Writing): void {
  const from = new Date(Date.parse(now) - keptDays * 86_400_000).toISOString()
  prepared<[string]>(
    db,
    `DELETE FROM take_act WHERE take_id < (SELECT min(id) FROM take WHERE started_at > ?)
       AND take_id NOT IN (SELECT id FROM take WHERE ended_at IS NULL)`,
  ).run(from)
}

function toAnswer({ code, sentence, ...answer }: AnswerRow): ActAnswer {
  return { ...answer, refusal: code === null || sentence === null ? null : { code, sentence } }
}
