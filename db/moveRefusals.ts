import { checkHours, clock, endMinute } from '../main/trade/bench.ts'
import type { MoveRefused } from '../main/trade/plan/moving.ts'
import { Refusal } from '../main/trade/refusal.ts'
import { closuresBetween, findBench } from './benches.ts'
import type { MoveAsk } from './blockMoves.ts'
import { nameOf } from './bookingChecks.ts'
import type { Objection } from './bookingObjections.ts'
import { type Booking, theBooking } from './bookings.ts'
import { studioZone } from './calendar.ts'
import type { Writing } from './events.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'

/** Why a move cannot be, in a sentence. */
export function refusalFor({ db, now }: Writing, ask: MoveAsk, { why, id, lengthMin }: MoveRefused): Refusal {
  if (why === 'closed') return closedRefusal(db, ask, lengthMin)
  const block = theBooking(db, id as Id<'booking'>)
  if (why === 'no place') {
    return new Refusal(
      'no-place',
      `${sentenceName(block)} would have to move along and finds no place in the next four weeks. Let go somewhere else.`,
    )
  }
  if (why === 'stays') return staysRefusal(block, now)
  const stays = staysBecause(block, now)
  return new Refusal(
    'block-in-the-way',
    `${sentenceName(block)} ${stays} from ${clock(block.fromMinute)} to ${clock(block.toMinute)} and is in the way. Let go before or behind it, where there is room.`,
  )
}

/** Refuses to move a block that is fixed, has begun, or stays for another reason. */
export function staysRefusal(block: Booking, now: string): Refusal {
  const advice =
    block.isFixed && block.startsAt > now ? ' Let it move again first: open it and press that.' : ''
  return new Refusal(
    'block-stays',
    `${sentenceName(block)} ${staysBecause(block, now)}, so it is not moved from its place.${advice}`,
  )
}

function staysBecause({ startsAt, isFixed }: Booking, now: string): string {
  if (startsAt <= now) return 'has begun'
  return isFixed ? 'is fixed' : 'stays'
}

function closedRefusal(db: Db, ask: MoveAsk, lengthMin: number): Refusal {
  const bench = findBench(db, ask.benchId)
  const toMinute = endMinute(ask.day, ask.fromMinute, lengthMin * 60_000, studioZone(db))
  const closures = closuresBetween(db, ask.day, ask.day).filter(
    ({ benchId }) => benchId === null || benchId === ask.benchId,
  )
  try {
    checkHours(
      bench?.name ?? '',
      ask.day,
      { fromMinute: ask.fromMinute, toMinute },
      bench?.openings ?? [],
      closures,
    )
  } catch (error) {
    if (error instanceof Refusal) return error
    throw error
  }
  return new Refusal(
    'over-closing-time',
    'What lies before it would take longer then, and it would not end before closing time. Let go somewhere else.',
  )
}

/** A block that stays keeps its set change too, though another rig stands before it now. */
export function shortSetChange(booking: Booking, neededMin: number): Objection {
  return {
    code: 'set-change-short',
    sentence: `${sentenceName(booking)} stays where it is, and the set change before it would now take ${neededMin} min, which is more than is kept for it.`,
    field: 'fromMinute',
  }
}

function sentenceName(booking: Booking): string {
  const name = nameOf(booking)
  return name.charAt(0).toUpperCase() + name.slice(1)
}
