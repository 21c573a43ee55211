import { hoursOn, type Stretch } from '../main/trade/bench.ts'
import { addDays, dayOf, instantAt, minutesOfDay } from '../main/trade/calendar.ts'
import { type Bench, closuresBetween, listBenches } from './benches.ts'
import { studioZone } from './calendar.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { prepared } from './statement.ts'

/** The days on which a bench has room, from today on. */
export interface FreeBench {
  /** The first day with a free stretch long enough for one spin, and how much of that bench's day is free. */
  readonly first: { readonly day: string; readonly bench: string; readonly freeMs: number } | null
  /** The first day by which all of the work fits into free stretches of one bench. */
  readonly allBy: { readonly day: string; readonly bench: string } | null
}

const daysSearched = 120

/**
 * Where the next work fits: every bench in use, day by day from now on, its opening hours less closures and what is
 * booked. A spin is never broken, so a stretch shorter than one spin is no room. Samples, people and rigs are not
 * looked at; booking does that.
 * @param spinMs  bench time of one spin
 * @param allMs   bench time of all of them
 */
export function nextFreeBench(db: Db, spinMs: number, allMs: number, now: string): FreeBench {
  const zone = studioZone(db)
  const today = dayOf(now, zone)
  const left = new Map<Id<'bench'>, number>()
  const benches = listBenches(db)
  let first: FreeBench['first'] = null
  for (let ahead = 0; ahead < daysSearched; ahead += 1) {
    const day = addDays(today, ahead)
    for (const bench of benches) {
      const rooms = freeMs(db, bench, day, now, zone).filter((ms) => ms >= Math.max(spinMs, 1))
      if (rooms.length === 0) continue
      const free = rooms.reduce((sum, ms) => sum + ms, 0)
      first ??= { day, bench: bench.name, freeMs: free }
      // Only whole spins count, so that the ends of stretches are not promised away.
      const usable = rooms.reduce(
        (sum, ms) => sum + Math.floor(ms / Math.max(spinMs, 1)) * Math.max(spinMs, 1),
        0,
      )
      const before = left.get(bench.id) ?? allMs
      left.set(bench.id, before - usable)
      if (before - usable <= 0) return { first, allBy: { day, bench: bench.name } }
    }
  }
  return { first, allBy: null }
}

/** The lengths of a bench's free stretches on a day, in ms as the day really runs, also when the clocks change. */
function freeMs(db: Db, bench: Bench, day: string, now: string, zone: string): readonly number[] {
  if (closuresBetween(db, day, day).some(({ benchId }) => benchId === null || benchId === bench.id)) return []
  const earliest = day === dayOf(now, zone) ? minutesOfDay(now, zone) : 0
  const taken = takenOn(db, bench.id, day, zone)
  return hoursOn(day, bench.openings)
    .flatMap((hours) => without(hours, taken, earliest))
    .map(({ fromMinute, toMinute }) => {
      return instantAt(day, toMinute, zone).getTime() - instantAt(day, fromMinute, zone).getTime()
    })
}

function takenOn(db: Db, benchId: Id<'bench'>, day: string, zone: string): readonly Stretch[] {
  const [from, to] = [instantAt(day, 0, zone).toISOString(), instantAt(day, 1440, zone).toISOString()]
  // A block lies within one local day, so nothing that began two days before can still run.
  return prepared<[number, string, string, string], { startsAt: string; endsAt: string }>(
    db,
    `SELECT starts_at AS startsAt, ends_at AS endsAt FROM booking WHERE bench_id = ? AND cancelled_at IS NULL
       AND starts_at > ? AND starts_at < ? AND ends_at > ? ORDER BY starts_at`,
  )
    .all(benchId, instantAt(addDays(day, -2), 0, zone).toISOString(), to, from)
    .map(({ startsAt, endsAt }) => ({
      fromMinute: startsAt <= from ? 0 : minutesOfDay(startsAt, zone),
      toMinute: endsAt >= to ? 1440 : minutesOfDay(endsAt, zone),
    }))
}

/** What of the opening hours is left beside what is taken, in its order. */
function without(hours: Stretch, taken: readonly Stretch[], earliest: number): readonly Stretch[] {
  const free: Stretch[] = []
  let at = Math.max(hours.fromMinute, earliest)
  for (const block of taken) {
    if (block.fromMinute > at)
      free.push({ fromMinute: at, toMinute: Math.min(block.fromMinute, hours.toMinute) })
    at = Math.max(at, block.toMinute)
  }
  if (at < hours.toMinute) free.push({ fromMinute: at, toMinute: hours.toMinute })
  return free.filter(({ fromMinute, toMinute }) => toMinute > fromMinute)
}
