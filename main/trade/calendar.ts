import { tzOffset } from '@date-fns/tz'
import { Refusal } from './refusal.ts'

const msPerMinute = 60_000
const msPerDay = 86_400_000

/** A calendar day without time or zone, 'YYYY-MM-DD'. Days compare as text. */
export type Day = string

/** An instant as a Date or as ISO 8601 text with its offset, as the store keeps it. */
export type Instant = Date | string

/** Refuses text that is no day of the calendar, such as '2026-02-30'; gives the day back. */
export function checkedDay(text: string, what = 'The day'): Day {
  const ms = /^\d{4}-\d{2}-\d{2}$/u.test(text) ? Date.parse(`${text}T00:00:00Z`) : Number.NaN
  if (Number.isNaN(ms) || dayFromMs(ms) !== text) {
    throw new Refusal(
      'bad-day',
      `${what}, '${text}', is no day of the calendar. Enter it as year-month-day, such as 2026-03-31.`,
    )
  }
  return text
}

/** Refuses an invalid date and text without an offset, which would mean another instant on another machine. */
export function checkedInstant(instant: Instant, what = 'The time'): Date {
  const date =
    typeof instant === 'string' && !/(?:Z|[+-]\d\d:\d\d)$/u.test(instant) ? undefined : new Date(instant)
  if (date === undefined || Number.isNaN(date.getTime())) {
    throw new Refusal(
      'bad-instant',
      `${what}, '${String(instant)}', is no point in time. Enter a day and a time.`,
    )
  }
  return date
}

/** Refuses a name that the time-zone database lacks; gives the name back. */
export function checkedZone(zone: string): string {
  // A bare offset has no summer time, so it is no time zone for a studio.
  if (!/^(?:UTC|[A-Za-z_]+\/[\w+\-/]+)$/u.test(zone) || Number.isNaN(tzOffset(zone, new Date(0)))) {
    throw new Refusal('unknown-zone', `'${zone}' is no time zone. Choose one such as Europe/Berlin.`)
  }
  return zone
}

/** The day that many calendar days later, or earlier where the count is below 0. */
export function addDays(day: Day, days: number): Day {
  return dayFromMs(msOfDay(day) + whole(days) * msPerDay)
}

/** Calendar days from one day to another; below 0 where `to` is the earlier. */
export function daysBetween(from: Day, to: Day): number {
  return (msOfDay(to) - msOfDay(from)) / msPerDay
}

/** The day of the week, 1 for Monday to 7 for Sunday (ISO 8601). */
export function weekdayOf(day: Day): number {
  return new Date(msOfDay(day)).getUTCDay() || 7
}

/** The ISO 8601 week with its own year: '2026-W53' for 2027-01-03. A week belongs to the year of its Thursday. */
export function weekLabel(day: Day): string {
  const thursday = addDays(day, 4 - weekdayOf(day))
  const year = thursday.slice(0, 4)
  const week = Math.floor(daysBetween(`${year}-01-01`, thursday) / 7) + 1
  return `${year}-W${String(week).padStart(2, '0')}`
}

/** Which days are worked: the days of the week (1 to 7), without single closed days. */
export interface WorkingWeek {
  readonly weekdays: ReadonlySet<number>
  readonly closed: ReadonlySet<Day>
}

/** Monday to Friday with the given closed days: public holidays differ by place, so the studio names its own. */
export function mondayToFriday(closed: Iterable<Day> = []): WorkingWeek {
  return { weekdays: new Set([1, 2, 3, 4, 5]), closed: new Set(closed) }
}

export function isWorkingDay(day: Day, week: WorkingWeek): boolean {
  return week.weekdays.has(weekdayOf(day)) && !week.closed.has(day)
}

/**
 * The n-th working day after the day (before it where n is below 0). The day itself never counts, worked or
 * not; 0 gives the day itself. Refuses a week without a working day, and a search over more than 40 years.
 */
export function addWorkingDays(day: Day, count: number, week: WorkingWeek): Day {
  const step = whole(count) < 0 ? -1 : 1
  let found = checkedDay(day)
  let left = Math.abs(count)
  for (let searched = 0; left > 0; searched += 1) {
    if (searched > 14_610) {
      throw new Refusal(
        'no-working-day',
        `No ${Math.abs(count)} working days can be found from ${day}. Check the studio's closed days.`,
      )
    }
    found = addDays(found, step)
    if (isWorkingDay(found, week)) left -= 1
  }
  return found
}

/**
 * The instant of a local clock time: minute 0 is midnight, 1440 the end of the day. A time that daylight
 * saving leaves out is moved on by the missing stretch, and of a time that comes twice the first is meant
 * ('compatible', as RFC 5545 reads a local time).
 */
export function instantAt(day: Day, minutesOfDay: number, zone: string): Date {
  if (!Number.isSafeInteger(minutesOfDay) || minutesOfDay < 0 || minutesOfDay > 1440) {
    throw new Refusal(
      'bad-time-of-day',
      `Minute ${minutesOfDay} is not within the day. Enter a time from 00:00 to 24:00.`,
    )
  }
  const local = msOfDay(day) + minutesOfDay * msPerMinute
  // Clocks change at most once within these two days, so the two offsets are those before and after.
  const before = local - offsetMs(zone, local - msPerDay)
  const after = local - offsetMs(zone, local + msPerDay)
  const fits = [before, after].filter((ms) => ms + offsetMs(zone, ms) === local)
  return new Date(fits.length > 0 ? Math.min(...fits) : before)
}

/** The local day on which an instant falls in the zone. */
export function dayOf(instant: Instant, zone: string): Day {
  return dayFromMs(localMs(instant, zone))
}

/** The local clock time of an instant in the zone, in minutes from midnight as the clock shows them. */
export function minutesOfDay(instant: Instant, zone: string): number {
  const local = localMs(instant, zone)
  return Math.floor((((local % msPerDay) + msPerDay) % msPerDay) / msPerMinute)
}

/** The clock and day of an instant as they were read in the zone: `2026-03-02 09:05:31`. Twice a year two share one. */
export function localText(instant: Instant, zone: string): string {
  return new Date(localMs(instant, zone)).toISOString().slice(0, 19).replace('T', ' ')
}

/** Whole minutes that really pass between two instants, rounded down. */
export function minutesBetween(from: Instant, to: Instant): number {
  return Math.floor((checkedInstant(to).getTime() - checkedInstant(from).getTime()) / msPerMinute)
}

function localMs(instant: Instant, zone: string): number {
  const ms = checkedInstant(instant).getTime()
  return ms + offsetMs(zone, ms)
}

function offsetMs(zone: string, ms: number): number {
  const quarter = Math.floor(ms / msPerQuarterHour)
  if (ms < offsetsChangeByQuarters) return lookedUpOffsetMs(zone, ms)
  let known = offsets.get(zone)
  if (!known || known.size >= offsetsKept) {
    known = new Map()
    offsets.set(zone, known)
  }
  const found = known.get(quarter)
  if (found !== undefined) return found
  const offset = lookedUpOffsetMs(zone, ms)
  known.set(quarter, offset)
  return offset
}

// Asking the time-zone database takes some 10 µs, and a full week of benches asks it thousands of times. In the database
// every change of a zone since 1973 falls on a whole quarter of an hour.
const msPerQuarterHour = 15 * msPerMinute
const offsetsChangeByQuarters = Date.UTC(1973, 0)
const offsetsKept = 20_000
const offsets = new Map<string, Map<number, number>>()

function lookedUpOffsetMs(zone: string, ms: number): number {
  const minutes = tzOffset(zone, new Date(ms))
  if (Number.isNaN(minutes)) checkedZone(zone)
  return Math.round(minutes * msPerMinute)
}

function msOfDay(day: Day): number {
  return Date.parse(`${checkedDay(day)}T00:00:00Z`)
}

function dayFromMs(ms: number): Day {
  const date = new Date(ms)
  if (Number.isNaN(ms) || Number.isNaN(date.getTime())) {
    throw new Refusal('bad-day', 'This day is beyond the calendar. Enter one between the years 1 and 9999.')
  }
  return date.toISOString().slice(0, 10)
}

function whole(days: number): number {
  if (!Number.isSafeInteger(days)) throw new Refusal('bad-days', `${days} is not a whole number of days.`)
  return days
}
