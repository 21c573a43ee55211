import { type Day, instantAt, minutesOfDay, weekdayOf } from './calendar.ts'
import { Refusal } from './refusal.ts'

/** A stretch of a local day, in minutes since midnight as the studio's clock shows them. */
export interface Stretch {
  readonly fromMinute: number
  readonly toMinute: number
}

/** Opening hours on a day of the week, 1 for Monday to 7 for Sunday. */
export interface Opening extends Stretch {
  readonly weekday: number
}

/** Days on which a bench stays closed, both ends counted. */
export interface Closure {
  readonly fromDay: Day
  readonly toDay: Day
  readonly reason: string
}

/** A block's two instants. */
export interface Times {
  readonly startsAt: Date
  readonly endsAt: Date
}

/** The opening hours of a day, the earliest first; stretches that touch are one. Closures are not looked at. */
export function hoursOn(day: Day, openings: readonly Opening[]): readonly Stretch[] {
  const weekday = weekdayOf(day)
  const hours: Stretch[] = []
  for (const { fromMinute, toMinute } of openings
    .filter((opening) => opening.weekday === weekday)
    .sort((a, b) => a.fromMinute - b.fromMinute)) {
    const last = hours.at(-1)
    if (last && fromMinute <= last.toMinute) {
      hours[hours.length - 1] = {
        fromMinute: last.fromMinute,
        toMinute: Math.max(last.toMinute, toMinute),
      }
    } else hours.push({ fromMinute, toMinute })
  }
  return hours
}

/**
 * The instants of a block given by its local day and clock times. Right across a change of clocks: 01:00 to
 * 04:00 lasts two hours on the day that loses one.
 * Refuses an end at or before the start.
 */
export function timesOf(day: Day, { fromMinute, toMinute }: Stretch, zone: string): Times {
  const startsAt = instantAt(day, fromMinute, zone)
  const endsAt = instantAt(day, toMinute, zone)
  if (endsAt <= startsAt) {
    throw new Refusal(
      'ends-before-start',
      `From ${clock(fromMinute)} to ${clock(toMinute)} on ${day} is no stretch of time. Enter an end after the start.`,
      { field: 'toMinute' },
    )
  }
  return { startsAt, endsAt }
}

/**
 * The local end of work that starts at a clock time and takes that long, in whole minutes rounded up. Past
 * midnight it counts on from 1440, which no opening hours hold.
 */
export function endMinute(day: Day, fromMinute: number, durationMs: number, zone: string): number {
  const end = new Date(instantAt(day, fromMinute, zone).getTime() + Math.ceil(durationMs / 60_000) * 60_000)
  const midnight = instantAt(day, 1440, zone)
  if (end < midnight) return minutesOfDay(end, zone)
  return 1440 + (end.getTime() - midnight.getTime()) / 60_000
}

/**
 * Refuses a block that is not wholly inside one stretch of opening hours, and one on a closed day: a turn is
 * never broken, since light and product must not move between its frames.
 */
export function checkHours(
  bench: string,
  day: Day,
  block: Stretch,
  openings: readonly Opening[],
  closures: readonly Closure[],
): void {
  const closure = closures.find(({ fromDay, toDay }) => fromDay <= day && day <= toDay)
  if (closure) {
    throw new Refusal(
      'bench-closed',
      `${bench} is closed on ${day}: ${closure.reason}. Choose another day.`,
      {
        field: 'day',
      },
    )
  }
  const hours = hoursOn(day, openings)
  if (hours.length === 0) {
    throw new Refusal(
      'bench-closed',
      `${bench} has no opening hours on this day of the week (${day}). Choose another day, or set its hours.`,
      { field: 'day' },
    )
  }
  if (hours.some((open) => open.fromMinute <= block.fromMinute && block.toMinute <= open.toMinute)) return
  const startsInside = hours.find(
    (open) => open.fromMinute <= block.fromMinute && block.fromMinute < open.toMinute,
  )
  const said = hours.map((open) => `${clock(open.fromMinute)} to ${clock(open.toMinute)}`).join(' and ')
  throw startsInside
    ? new Refusal(
        'over-closing-time',
        `${bench} is open ${said} on ${day}, and a turn is not broken over closing time. End by ${clock(startsInside.toMinute)}, or split the block.`,
        { field: 'toMinute' },
      )
    : new Refusal(
        'outside-hours',
        `${bench} is open ${said} on ${day}. Start at ${clock((hours.find((open) => open.toMinute > block.fromMinute) ?? hours[0])?.fromMinute ?? 0)} or choose another day.`,
        { field: 'fromMinute' },
      )
}

/** A minute of the day as a clock reads it: '09:05'; the end of the day is '24:00'. */
export function clock(minute: number): string {
  return `${String(Math.floor(minute / 60)).padStart(2, '0')}:${String(minute % 60).padStart(2, '0')}`
}
