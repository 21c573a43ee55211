import { dayOf } from '../main/trade/calendar.ts'
import { type LearnedFigures, type LearnedStep, Learning } from '../main/trade/learning.ts'
import type { Pace } from '../main/trade/pace.ts'
import type { PaceFrom } from '../main/trade/paceFrom.ts'
import { studioZone } from './calendar.ts'
import type { Db } from './open.ts'
import { thePace } from './pace.ts'
import { prepared } from './statement.ts'
import { newestTakeFacts } from './takeFacts.ts'

/** The studio's figures with what its takes have taught in their place. */
export interface LearnedPace {
  readonly pace: Pace
  /** The studio's step, and from how many takes. */
  readonly learned: LearnedStep
  /** The step of each rig that was turned on over the studio's. */
  readonly stepFactors: ReadonlyMap<number, number>
  readonly figures: LearnedFigures
}

/** How many of the newest takes are learned from: five times as many as count in full, and soon read. */
export const teachingTakes = 1000

interface Known {
  readonly setting: string
  readonly stamp: TakesStamp
  readonly learned: LearnedPace
}

const known = new WeakMap<Db, Known>()

/**
 * What estimates are made with. Learned anew when a take was ended or judged, a spin called for again or a
 * setting changed, and kept until then, since a quote asks for it with every opening.
 */
export function learnedPace(db: Db): LearnedPace {
  const setting = thePace(db)
  const settingText = JSON.stringify(setting)
  const before = known.get(db)
  if (before?.setting === settingText && !haveTakesChanged(db, before.stamp)) return before.learned
  const stamp = takesStamp(db)
  const learned = learnFrom(db, setting)
  // What a transaction sees may be taken back, and the next one could bear the same stamp.
  if (!db.inTransaction) known.set(db, { setting: settingText, stamp, learned })
  return learned
}

function learnFrom(db: Db, setting: Pace): LearnedPace {
  const learning = new Learning(setting)
  for (const take of newestTakeFacts(db, teachingTakes)) learning.see(take)
  const figures = learning.figures()
  return { pace: learning.pace(), learned: figures.step, stepFactors: learning.stepFactors(), figures }
}

/**
 * What an estimate rests on: the takes of the rig, where all its spins are planned on one that was turned on;
 * else all takes.
 * @param rigIds  the rigs its spins are planned on
 */
export function paceFrom(db: Db, rigIds: readonly number[]): PaceFrom {
  const { figures } = learnedPace(db)
  const [rigId, ...others] = new Set(rigIds)
  const rig = others.length === 0 ? figures.rigs.find((one) => one.rigId === rigId) : undefined
  const { takes, lastMs } = rig ?? figures.step
  return {
    takes,
    lastDay: lastMs === null ? null : dayOf(new Date(lastMs), studioZone(db)),
    rigName: rig ? rigName(db, rig.rigId) : null,
  }
}

function rigName(db: Db, rigId: number): string | null {
  return (
    prepared<[number], { name: string }>(db, 'SELECT name FROM rig WHERE id = ?').get(rigId)?.name ?? null
  )
}

/** How far takes, verdicts and reshoots had come: each of them writes an event. */
export interface TakesStamp {
  readonly eventId: number
  readonly takeId: number
  readonly reshootId: number
}

export function takesStamp(db: Db): TakesStamp {
  const row = prepared<[], TakesStamp>(
    db,
    `SELECT ifnull((SELECT max(id) FROM event), 0) AS eventId, ifnull((SELECT max(id) FROM take), 0) AS takeId,
       ifnull((SELECT max(id) FROM reshoot), 0) AS reshootId`,
  ).get()
  if (!row) throw new Error('The store holds no takes to count.')
  return row
}

/** Whether anything that takes teach has changed since; only the events written since are looked at. */
export function haveTakesChanged(db: Db, since: TakesStamp): boolean {
  const now = takesStamp(db)
  if (now.takeId !== since.takeId || now.reshootId !== since.reshootId || now.eventId < since.eventId)
    return true
  const changed = prepared<[number], { one: 1 }>(
    db,
    `SELECT 1 AS one FROM event WHERE id > ? AND +subject = 'take' LIMIT 1`,
  ).get(since.eventId)
  return changed !== undefined
}
