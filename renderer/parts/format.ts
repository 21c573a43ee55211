import { differenceInCalendarDays } from 'date-fns/differenceInCalendarDays'
import { parseISO } from 'date-fns/parseISO'
import { formatLength } from '../../main/trade/length.ts'
import { formatMoney } from '../../main/trade/money.ts'

/** Keeps a figure and its unit on one line. */
const nbsp = '\u00a0'

const plain = new Intl.NumberFormat('en-GB', { maximumFractionDigits: 2 })

/** A number as it is read: `1,220`, `0.5`; at most `digits` decimals. */
export function numberText(value: number, digits = 2): string {
  const written =
    digits === 2
      ? plain.format(value)
      : new Intl.NumberFormat('en-GB', { maximumFractionDigits: digits }).format(value)
  return written.replace('-', '−')
}

/** A figure with its unit, held together: `1,220 mm`. */
export function withUnit(value: number, unit: string, digits = 2): string {
  return `${numberText(value, digits)}${nbsp}${unit}`
}

/** An amount in minor units, as British English writes it: `€1,234.50`. */
export function moneyText(minor: number, currency: string): string {
  return formatMoney(minor, currency, 'en-GB')
}

/** A length kept in tenths of a micrometre (rim, step, division), written in mm: 12,200,000 is `1,220 mm`. */
export function um10Text(lengthUm10: number): string {
  return formatLength(lengthUm10).replace(' ', nbsp)
}

/** A mass in g: grams under a kilogram, kilograms to 10 g from there. */
export function massText(massG: number): string {
  return massG < 1000 ? withUnit(massG, 'g', 0) : withUnit(massG / 1000, 'kg')
}

/** A stretch of working time in minutes: `48 min`, `8 h 48`, `8 h`. Under a minute: `under 1 min`. */
export function durationText(minutes: number): string {
  if (minutes > 0 && minutes < 1) return `under${nbsp}1${nbsp}min`
  const whole = Math.round(Math.abs(minutes))
  const sign = minutes < 0 && whole > 0 ? '−' : ''
  const hours = Math.floor(whole / 60)
  const rest = whole % 60
  if (hours === 0) return `${sign}${rest}${nbsp}min`
  return rest === 0
    ? `${sign}${numberText(hours)}${nbsp}h`
    : `${sign}${numberText(hours)}${nbsp}h${nbsp}${String(rest).padStart(2, '0')}`
}

const tenths = new Intl.NumberFormat('en-GB', { minimumFractionDigits: 1, maximumFractionDigits: 1 })

/** Seconds between frames, always to a tenth so that a column of them lines up: `6.2 s`, `6.0 s`. */
export function secondsText(seconds: number): string {
  return `${tenths.format(seconds)}${nbsp}s`
}

/** A share as per cent, from 0 to 1: `80 %`. */
export function percentText(share: number, digits = 0): string {
  return `${numberText(share * 100, digits)}${nbsp}%`
}

/** Minutes since midnight as a clock reads them: `09:05`. */
export function clockText(minuteOfDay: number): string {
  const minute = Math.round(minuteOfDay)
  return `${String(Math.floor(minute / 60)).padStart(2, '0')}:${String(minute % 60).padStart(2, '0')}`
}

/** How many of what: `1 spin`, `40 spins`. */
export function countText(count: number, one: string, many = `${one}s`): string {
  return `${numberText(count, 0)}${nbsp}${count === 1 ? one : many}`
}

/** A word as it begins a line: `Small`. */
export function capital(word: string): string {
  return word.charAt(0).toUpperCase() + word.slice(1)
}

/** A file's size in bytes, by thousands as file managers and cards count: `4.2 MB`. */
export function bytesText(bytes: number): string {
  const units = ['B', 'kB', 'MB', 'GB', 'TB'] as const
  let size = bytes
  let at = 0
  while (size >= 999.5 && at < units.length - 1) {
    size /= 1000
    at += 1
  }
  return withUnit(size, units[at] ?? 'TB', size < 10 && at > 0 ? 1 : 0)
}

/**
 * A calendar day `YYYY-MM-DD` as said: `3 May`, with the year where it is not this one.
 * @param today  the studio's day, `YYYY-MM-DD`; without it the year is always written
 */
export function dayText(day: string, today?: string): string {
  return dayParts(day, today, false)
}

/** The same with the weekday before it: `Tue 3 May`. */
export function weekdayText(day: string, today?: string): string {
  return dayParts(day, today, true)
}

// British English sets a comma after the weekday in some browsers and none in others, so we join by hand.
function dayParts(day: string, today: string | undefined, weekday: boolean): string {
  const date = new Date(`${day}T00:00:00Z`)
  const part = (options: Intl.DateTimeFormatOptions) =>
    new Intl.DateTimeFormat('en-GB', { ...options, timeZone: 'UTC' }).format(date)
  const parts = [part({ day: 'numeric' }), part({ month: 'short' }).slice(0, 3)]
  if (weekday) parts.unshift(part({ weekday: 'short' }))
  if (!today || today.slice(0, 4) !== day.slice(0, 4)) parts.push(day.slice(0, 4))
  return parts.join(nbsp)
}

/** How far a due day is away: `due today`, `due tomorrow`, `due in 4 days`, `late by 1 day`. */
export function dueText(dueDay: string, today: string): string {
  const days = daysUntil(dueDay, today)
  if (days < 0) return `late by ${countText(-days, 'day')}`
  if (days === 0) return 'due today'
  if (days === 1) return 'due tomorrow'
  return `due in ${countText(days, 'day')}`
}

/** Whole calendar days from today to a day; negative where it is past. */
export function daysUntil(day: string, today: string): number {
  return differenceInCalendarDays(parseISO(day), parseISO(today))
}

/** An instant (UTC ISO 8601) as the studio's wall clock shows it: `3 May 2026, 14:05`. */
export function instantText(instant: string, timeZone: string): string {
  const parts = new Intl.DateTimeFormat('en-CA', {
    timeZone,
    year: 'numeric',
    month: '2-digit',
    day: '2-digit',
    hour: '2-digit',
    minute: '2-digit',
    hourCycle: 'h23',
  }).formatToParts(new Date(instant))
  const of = (type: Intl.DateTimeFormatPartTypes) => parts.find((part) => part.type === type)?.value ?? ''
  return `${dayText(`${of('year')}-${of('month')}-${of('day')}`)}, ${of('hour')}:${of('minute')}`
}

/** The day `YYYY-MM-DD` that it is in a time zone at an instant. */
export function dayIn(timeZone: string, at: Date): string {
  return new Intl.DateTimeFormat('en-CA', {
    timeZone,
    year: 'numeric',
    month: '2-digit',
    day: '2-digit',
  }).format(at)
}
