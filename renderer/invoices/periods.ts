import { addDays } from '../../main/trade/calendar.ts'

/** Days of a period, both within. */
export interface Period {
  readonly fromDay: string
  readonly toDay: string
}

function firstOfMonth(day: string, monthsLater: number): string {
  const [year = 0, month = 1] = day.split('-').map(Number)
  const date = new Date(Date.UTC(year, month - 1 + monthsLater, 1))
  return date.toISOString().slice(0, 10)
}

/** So many months that end with the month before today's, or that begin with the one today lies in. */
function months(first: string, count: number): Period {
  return { fromDay: first, toDay: addDays(firstOfMonth(first, count), -1) }
}

/** Periods that are asked for most, by their names. */
export function commonPeriods(today: string): readonly (readonly [name: string, period: Period])[] {
  const quarter = firstOfMonth(today, -((Number(today.slice(5, 7)) - 1) % 3))
  const year = `${today.slice(0, 4)}-01-01`
  return [
    ['This month', months(firstOfMonth(today, 0), 1)],
    ['Last month', months(firstOfMonth(today, -1), 1)],
    ['This quarter', months(quarter, 3)],
    ['Last quarter', months(firstOfMonth(quarter, -3), 3)],
    ['This year', months(year, 12)],
    ['Last year', months(firstOfMonth(year, -12), 12)],
  ]
}
