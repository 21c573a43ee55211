import { type Day, instantAt, weekdayOf } from './calendar.ts'

/** A stretch of time between two instants. */
export interface Stretch {
  readonly startsAt: Date
  readonly endsAt: Date
}

/** When a place is open on one day of the week, in minutes of the local day. */
export interface OpeningHours {
  /** 1 is Monday, 7 is Sunday (ISO 8601). */
  readonly weekday: number
  readonly opensMinute: number
  /** Up to 1440, the end of the day. */
  readonly closesMinute: number
}

/**
 * The stretches in which a place is open on a day, in order of time, as instants: right also on the days when
 * the clocks change, where eight hours on the clock may be seven or nine.
 */
export function openStretches(
  day: Day,
  hours: readonly OpeningHours[],
  closed: ReadonlySet<Day>,
  zone: string,
): Stretch[] {
  if (closed.has(day)) return []
  const weekday = weekdayOf(day)
  return hours
    .filter((opening) => opening.weekday === weekday)
    .map((opening) => ({
      startsAt: instantAt(day, opening.opensMinute, zone),
      endsAt: instantAt(day, opening.closesMinute, zone),
    }))
    .filter(({ startsAt, endsAt }) => startsAt < endsAt)
    .sort((a, b) => a.startsAt.getTime() - b.startsAt.getTime())
}
