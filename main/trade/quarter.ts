import { addDays } from './calendar.ts'

/** A quarter of the calendar year: `2026-Q1`. */
export type Quarter = string

/** The quarter a day lies in. */
export function quarterOf(day: string): Quarter {
  return `${day.slice(0, 4)}-Q${Math.ceil(Number(day.slice(5, 7)) / 3)}`
}

/** The first and last day of a quarter. */
export function daysOfQuarter(quarter: Quarter): { readonly fromDay: string; readonly toDay: string } {
  const fromDay = firstDay(quarter)
  return { fromDay, toDay: addDays(firstDay(quarterBeside(quarter, 1)), -1) }
}

/** The quarter so many after another; before it where the number is negative. */
export function quarterBeside(quarter: Quarter, by: number): Quarter {
  const count = Number(quarter.slice(0, 4)) * 4 + Number(quarter.slice(6)) - 1 + by
  return `${Math.floor(count / 4)}-Q${(count % 4) + 1}`
}

function firstDay(quarter: Quarter): string {
  const month = (Number(quarter.slice(6)) - 1) * 3 + 1
  return `${quarter.slice(0, 4)}-${String(month).padStart(2, '0')}-01`
}
