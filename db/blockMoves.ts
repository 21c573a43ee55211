import { createHash } from 'node:crypto'
import { addDays, instantAt } from '../main/trade/calendar.ts'
import { type BenchBlock, moveBlock } from '../main/trade/plan/moving.ts'
import { Refusal } from '../main/trade/refusal.ts'
import { type Bench, findBench } from './benches.ts'
import { type BenchesRead, benchesNow } from './benchesNow.ts'
import { refuseObjections } from './bookingChecks.ts'
import type { Objection } from './bookingObjections.ts'
import { type Booking, theBooking } from './bookings.ts'
import { studioZone } from './calendar.ts'
import type { Writing } from './events.ts'
import type { Id } from './ids.ts'
import { carryBlocks, type MovedBlock, type MovedJob } from './movedBlocks.ts'
import { refusalFor, shortSetChange } from './moveRefusals.ts'
import type { Db } from './open.ts'
import { inOneTransaction, takenBack } from './statement.ts'

/** A block let go somewhere on the bench plan, by the studio's clock. */
export interface MoveAsk {
  readonly bookingId: Id<'booking'>
  readonly benchId: Id<'bench'>
  readonly day: string
  /** Where the block would begin, with its set change. */
  readonly fromMinute: number
  /** True where what follows on the day it leaves is to move up into its place. */
  readonly closesUp: boolean
}

/** What a move does to everything else. */
export interface MoveEffect {
  /** The blocks that would lie elsewhere or have another set change, the moved one first. */
  readonly blocks: readonly MovedBlock[]
  /** Jobs whose last block would end on another side of their due day, or further behind it. */
  readonly jobs: readonly MovedJob[]
  /** Minutes of set change on the benches it touches, today and then. */
  readonly setChangeMinutes: { readonly before: number; readonly after: number }
  /** What refuses the move whatever the reason. */
  readonly refused: { readonly code: string; readonly sentence: string } | null
  /** What the world outside says against it, and did not say before; a reason overrules it. */
  readonly objections: readonly Objection[]
  /** Stands for all of the above: the same text, the same effect. */
  readonly seen: string
}

/** How far ahead what moves along may look for a place. */
const daysAhead = 28

/** What a move would do. Nothing is kept. */
export function tryMove(writing: Writing, ask: MoveAsk): MoveEffect {
  return sealed(orRefused(() => takenBack(writing.db, () => made(writing, ask, null, false))))
}

/**
 * Moves a block and what must move along: all of it or nothing, each keeping its identity in calendars.
 * Refuses what `tryMove` refuses, what speaks against it unless a reason is given, and a move whose effect is no longer
 * the one that was seen.
 * @param seen  null for a move whose effect is told only once it is made
 */
export function makeMove(
  writing: Writing,
  ask: MoveAsk,
  seen: string | null,
  overruledReason: string | null,
): MoveEffect {
  return inOneTransaction(writing.db, () => {
    const effect = tryMove(writing, ask)
    if (seen !== null && effect.seen !== seen) {
      throw new Refusal(
        'changed-meanwhile',
        'The bench has changed since this move was shown, so nothing was moved. Look at what it does now.',
      )
    }
    if (effect.refused) throw new Refusal(effect.refused.code, effect.refused.sentence)
    if (overruledReason === null) refuseObjections(effect.objections)
    made(writing, ask, overruledReason, true)
    return effect
  })
}

type Unsealed = Omit<MoveEffect, 'seen'>

function sealed(effect: Unsealed): MoveEffect {
  return { ...effect, seen: createHash('sha256').update(JSON.stringify(effect)).digest('hex').slice(0, 32) }
}

function orRefused(work: () => Unsealed): Unsealed {
  try {
    return work()
  } catch (error) {
    if (!(error instanceof Refusal)) throw error
    return {
      blocks: [],
      jobs: [],
      setChangeMinutes: { before: 0, after: 0 },
      refused: { code: error.code, sentence: error.message },
      objections: [],
    }
  }
}

/** @param isTold  false where it is taken back again, so that no history and no standing need be written */
function made(writing: Writing, ask: MoveAsk, overruledReason: string | null, isTold: boolean): Unsealed {
  const { db, now } = writing
  const booking = theBooking(db, ask.bookingId)
  const benches = benchesOf(db, booking, ask)
  const [fromDay = ask.day, lastDay = ask.day] = [booking.day, ask.day].toSorted()
  const zone = studioZone(db)
  const at = instantAt(ask.day, ask.fromMinute, zone)
  if (at.toISOString() < now) throw new Refusal('past', 'That time has passed. Choose one to come.')
  const days = { fromDay, toDay: addDays(lastDay, daysAhead) }
  const read = benchesNow(db, benches, ask.bookingId, days, now)
  const minuteOf = (instant: Date) => Math.round((instant.getTime() - read.baseMs) / 60_000)
  const result = moveBlock(read.now, {
    id: ask.bookingId,
    bench: ask.benchId,
    atMin: minuteOf(at),
    closesUp: ask.closesUp,
    closesUntilMin: minuteOf(instantAt(booking.day, 1440, zone)),
  })
  if ('why' in result) throw refusalFor(writing, ask, result)
  const changed = changedBlocks(read, result.blocks, ask.bookingId)
  const carried = carryBlocks(
    writing,
    changed.map(({ before, after }) => ({
      booking: before.id === booking.id ? booking : theBooking(db, before.id as Id<'booking'>),
      setChangeId: read.setChangeIds.get(before.id) ?? null,
      before,
      after,
    })),
    { apartId: read.apart?.id ?? null, baseMs: read.baseMs, overruledReason, isTold },
  )
  const total = (blocks: readonly BenchBlock[]) =>
    blocks.reduce((sum, { setChangeMin }) => sum + setChangeMin, 0)
  return {
    ...carried,
    setChangeMinutes: {
      before: total(read.now.blocks) + (read.apart?.minutes ?? 0),
      after: total(result.blocks),
    },
    refused: null,
    objections: [
      ...carried.objections,
      ...result.short.map(({ id, neededMin }) =>
        shortSetChange(theBooking(db, id as Id<'booking'>), neededMin),
      ),
    ],
  }
}

/** The bench it leaves and the one it comes to. */
function benchesOf(db: Db, booking: Booking, ask: MoveAsk): readonly Bench[] {
  return [...new Set([booking.benchId, ask.benchId])].map((id) => {
    const bench = findBench(db, id)
    if (!bench || (id === ask.benchId && bench.goneAt !== null)) {
      throw new Refusal('no-bench', 'This bench is not in use. Choose another.')
    }
    return bench
  })
}

/** The blocks that lie elsewhere than before, the moved one first and always. */
function changedBlocks({ now }: BenchesRead, blocks: readonly BenchBlock[], movedId: number) {
  const before = new Map(now.blocks.map((block) => [block.id, block]))
  return blocks
    .flatMap((after) => {
      const was = before.get(after.id)
      const isSame =
        was?.bench === after.bench && was.fromMin === after.fromMin && was.setChangeMin === after.setChangeMin
      return was && (!isSame || after.id === movedId) ? [{ before: was, after }] : []
    })
    .sort((a, b) => Number(b.after.id === movedId) - Number(a.after.id === movedId))
}
