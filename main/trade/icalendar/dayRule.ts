import { dayOf } from '../calendar.ts'
import type { DayRule } from './repeating.ts'

const everies = ['DAILY', 'WEEKLY', 'MONTHLY', 'YEARLY'] as const
const weekdays = ['MO', 'TU', 'WE', 'TH', 'FR', 'SA', 'SU']
const known = new Set([
  'freq',
  'interval',
  'count',
  'until',
  'bymonth',
  'bymonthday',
  'byday',
  'bysetpos',
  'wkst',
])

/**
 * A rule as ical.js hands it out (RFC 7265, 3.6.10); undefined where it has a part by which no day is told here (weeks or days
 * of the year, hours), or repeats more often than daily.
 * @param zone  in which an end given as an instant falls on a day
 */
export function dayRuleOf(recur: Readonly<Record<string, unknown>>, zone: string): DayRule | undefined {
  const every = everies.find((one) => one === recur.freq)
  const interval = Number(recur.interval ?? 1)
  const days = listOf(recur.byday).map((one) => /^([+-]?\d{1,2})?([A-Z]{2})$/u.exec(String(one)))
  if (!every || !Number.isInteger(interval) || interval < 1) return undefined
  if (Object.keys(recur).some((part) => !known.has(part)) || days.some((one) => one === null))
    return undefined
  return {
    every,
    interval,
    count: recur.count === undefined ? null : Number(recur.count),
    until: recur.until === undefined ? null : untilDay(String(recur.until), zone),
    months: listOf(recur.bymonth).map(Number),
    monthDays: listOf(recur.bymonthday).map(Number),
    weekdays: days.map((one) => ({
      nth: Number(one?.[1] ?? 0),
      weekday: weekdays.indexOf(one?.[2] ?? '') + 1,
    })),
    places: listOf(recur.bysetpos).map(Number),
    weekStart: weekdays.indexOf(String(recur.wkst ?? 'MO')) + 1,
  }
}

function listOf(value: unknown): readonly unknown[] {
  return value === undefined ? [] : Array.isArray(value) ? value : [value]
}

function untilDay(until: string, zone: string): string {
  return until.endsWith('Z') ? dayOf(until, zone) : until.slice(0, 10)
}
