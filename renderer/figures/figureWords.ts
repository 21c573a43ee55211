import { fromSeen } from '../../main/trade/paceFrom.ts'
import { dayText } from '../parts/format.ts'

const nbsp = '\u00a0'

const fixed = (value: number, places: number, unit: string) =>
  `${value.toLocaleString('en-GB', { minimumFractionDigits: places, maximumFractionDigits: places })}${nbsp}${unit}`

/** Minutes to a tenth, always with it, so that a column lines up: `4.0 min`. */
export function minutesText(ms: number): string {
  return fixed(ms / 60_000, 1, 'min')
}

/** A difference with its sign: `+4.2 min`, `−0.3 min`, `0.0 min`. */
export function signedMinutes(ms: number): string {
  const tenths = Math.round(ms / 6000)
  const sign = tenths > 0 ? '+' : tenths < 0 ? '−' : ''
  return `${sign}${fixed(Math.abs(tenths) / 10, 1, 'min')}`
}

/** A share with its sign: `+6 %`, `−12 %`. */
export function signedPercent(share: number): string {
  const percent = Math.round(share * 100)
  return `${percent > 0 ? '+' : percent < 0 ? '−' : ''}${Math.abs(percent)}${nbsp}%`
}

/** Seconds to a hundredth, always with it: `6.10 s`. */
export function stepText(ms: number): string {
  return fixed(ms / 1000, 2, 's')
}

/** Where a learned figure comes from, as a cell says it: `from 37 takes, the last on 3 May`. */
export function fromText(
  count: number,
  lastDay: string | null,
  today: string,
  counted: readonly [string, string],
): string {
  return fromSeen({ count, lastDay }, (day) => dayText(day, today), counted)
}
