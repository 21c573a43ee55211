import { daysBetween } from './calendar.ts'
import { roundedQuotient } from './money.ts'

/** What was owed on an invoice once it was late, and what of it came in after its day. Money in minor units. */
export interface LateDebt {
  readonly dueDay: string
  readonly openMinor: number
  /** Payments that came after the due day, each with its day. */
  readonly paidLate: readonly { readonly day: string; readonly minor: number }[]
}

/**
 * Simple interest on late payment in minor units, as a proposal: actual days from the day after the due day, a year
 * of 365 days in leap years too (actual/365 fixed; countries count differently, and an accountant decides), rounded
 * once, half away from zero. A part that came in late bears interest up to the day it came. Nothing where nothing is
 * late.
 * Background, from memory: Directive 2011/7/EU lets interest run from the day after the due day without a reminder
 * (Article 3) at the reference rate plus at least eight percentage points (Article 2), and a lump sum of at least
 * EUR 40 (Article 6).
 * @param ratePpm  a year, in parts per million: 9 % is 90,000
 */
export function lateInterestMinor(debt: LateDebt, ratePpm: number, today: string): number {
  const parts = [...debt.paidLate, { day: today, minor: debt.openMinor }]
  const minorDays = parts.reduce(
    (sum, { day, minor }) => sum + BigInt(minor) * BigInt(Math.max(0, daysBetween(debt.dueDay, day))),
    0n,
  )
  return Math.max(0, roundedQuotient(minorDays * BigInt(ratePpm), 365n * 1_000_000n))
}
