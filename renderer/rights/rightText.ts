import { dayText } from '../parts/format.ts'

interface Days {
  readonly fromDay: string | null
  readonly toDay: string | null
}

/** The days of a right: `1 March to 28 February 2027`, `from 1 March, without end`. */
export function daysOfRight({ fromDay, toDay }: Days, today: string): string {
  if (fromDay !== null && toDay !== null) return `${dayText(fromDay, today)} to ${dayText(toDay, today)}`
  if (toDay !== null) return `until ${dayText(toDay, today)}`
  return fromDay === null ? 'without end' : `from ${dayText(fromDay, today)}, without end`
}
