import { addDays, type Day, daysBetween, weekdayOf } from '../calendar.ts'

/** On which days something comes again: the parts of RFC 5545's RRULE that days are told by. */
export interface DayRule {
  readonly every: 'DAILY' | 'WEEKLY' | 'MONTHLY' | 'YEARLY'
  readonly interval: number
  /** How often in all, the first time counted; null for without end. */
  readonly count: number | null
  readonly until: Day | null
  readonly months: readonly number[]
  /** Below 0 from the month's end. */
  readonly monthDays: readonly number[]
  /** Weekdays, 1 for Monday; `nth` of the month or year, below 0 from its end, 0 for each. */
  readonly weekdays: readonly { readonly nth: number; readonly weekday: number }[]
  /** Of a period's days only those at these places, below 0 from the end. */
  readonly places: readonly number[]
  /** On which weekday a week begins. */
  readonly weekStart: number
}

/**
 * The days on which a rule falls between two days, both counted (RFC 5545, 3.3.10). A day that the calendar lacks, such as
 * 29 February in most years, is left out and not moved. Reads no more periods than lie between, or with a count than lie
 * between its first day and the last.
 * @param start  the first time; what is not told otherwise, weekday, month or day, is its own
 */
export function repeatedDays(rule: DayRule, start: Day, fromDay: Day, toDay: Day): readonly Day[] {
  const last = rule.until !== null && rule.until < toDay ? rule.until : toDay
  const found: Day[] = []
  let counted = 0
  const first = rule.count === null ? Math.max(0, Math.floor(periodsFrom(rule, start, fromDay))) : 0
  for (let period = first - (first % rule.interval); ; period += rule.interval) {
    const days = daysOfPeriod(rule, start, period)
    if ((days[0] ?? start) > last) return found
    for (const day of placed(
      days.filter((one) => fits(rule, start, one)),
      rule.places,
    )) {
      if (day < start || day > last) continue
      counted += 1
      if (rule.count !== null && counted > rule.count) return found
      if (day >= fromDay) found.push(day)
    }
  }
}

/** How many whole periods lie between the start's and a day's. */
function periodsFrom({ every, weekStart }: DayRule, start: Day, day: Day): number {
  if (every === 'DAILY') return daysBetween(start, day)
  if (every === 'WEEKLY') return daysBetween(weekOf(start, weekStart), weekOf(day, weekStart)) / 7
  const [years, months] = [yearOf(day) - yearOf(start), monthOf(day) - monthOf(start)]
  return every === 'YEARLY' ? years : years * 12 + months
}

/** Every day of a period, counted from the start's own, which is 0. */
function daysOfPeriod({ every, weekStart }: DayRule, start: Day, period: number): readonly Day[] {
  if (every === 'DAILY') return [addDays(start, period)]
  if (every === 'WEEKLY') return stretch(addDays(weekOf(start, weekStart), 7 * period), 7)
  const month = every === 'YEARLY' ? 0 : monthOf(start) - 1 + period
  const year = yearOf(start) + (every === 'YEARLY' ? period : Math.floor(month / 12))
  if (every === 'YEARLY') return stretch(dayAt(year, 1), daysBetween(dayAt(year, 1), dayAt(year + 1, 1)))
  return stretch(dayAt(year, (month % 12) + 1), daysInMonth(dayAt(year, (month % 12) + 1)))
}

function fits(rule: DayRule, start: Day, day: Day): boolean {
  const { every, months, monthDays, weekdays } = rule
  if (months.length > 0 && !months.includes(monthOf(day))) return false
  if (monthDays.length > 0 && !monthDays.some((one) => one === dayOfMonth(day) || one === fromEnd(day)))
    return false
  if (weekdays.length > 0) return weekdays.some((one) => isThatWeekday(rule, one, day))
  if (monthDays.length > 0 || every === 'DAILY') return true
  if (every === 'WEEKLY') return weekdayOf(day) === weekdayOf(start)
  const isThatMonth = every === 'MONTHLY' || months.length > 0 || monthOf(day) === monthOf(start)
  return isThatMonth && dayOfMonth(day) === dayOfMonth(start)
}

/** Whether a day is a weekday that is named; 'the second' counts in the month, and in the year where no month is named. */
function isThatWeekday(
  { every, months }: DayRule,
  { nth, weekday }: DayRule['weekdays'][number],
  day: Day,
): boolean {
  if (weekdayOf(day) !== weekday) return false
  if (nth === 0 || every === 'DAILY' || every === 'WEEKLY') return true
  if (every === 'MONTHLY' || months.length > 0) return nthIs(nth, dayOfMonth(day), daysInMonth(day))
  const newYear = dayAt(yearOf(day), 1)
  return nthIs(nth, daysBetween(newYear, day) + 1, daysBetween(newYear, dayAt(yearOf(day) + 1, 1)))
}

function nthIs(nth: number, place: number, length: number): boolean {
  return nth > 0 ? Math.ceil(place / 7) === nth : Math.ceil((length - place + 1) / 7) === -nth
}

function placed(days: readonly Day[], places: readonly number[]): readonly Day[] {
  if (places.length === 0) return days
  return days.filter((_, index) => places.includes(index + 1) || places.includes(index - days.length))
}

const yearOf = (day: Day) => Number(day.slice(0, 4))
const monthOf = (day: Day) => Number(day.slice(5, 7))
const dayOfMonth = (day: Day) => Number(day.slice(8))

function fromEnd(day: Day): number {
  return dayOfMonth(day) - daysInMonth(day) - 1
}

function daysInMonth(day: Day): number {
  const [year, month] = [yearOf(day), monthOf(day)]
  return daysBetween(dayAt(year, month), month === 12 ? dayAt(year + 1, 1) : dayAt(year, month + 1))
}

function dayAt(year: number, month: number): Day {
  return `${String(year).padStart(4, '0')}-${String(month).padStart(2, '0')}-01`
}

function weekOf(day: Day, weekStart: number): Day {
  return addDays(day, -((weekdayOf(day) - weekStart + 7) % 7))
}

function stretch(first: Day, length: number): readonly Day[] {
  return Array.from({ length }, (_, index) => addDays(first, index))
}
