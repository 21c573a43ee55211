import { type Writing, writeEvent } from './events.ts'
import type { Db } from './open.ts'
import { inOneTransaction, prepared } from './statement.ts'

/** To what the amount due of an invoice is rounded in a currency, in its minor units: 5 is CHF 0.05. */
export interface CashRounding {
  readonly currency: string
  readonly stepMinor: number
}

export function listCashRounding(db: Db): readonly CashRounding[] {
  return prepared<[], CashRounding>(
    db,
    'SELECT currency, step_minor AS stepMinor FROM cash_rounding ORDER BY currency',
  ).all()
}

/** The step of a currency, or null where its amounts are not rounded. */
export function cashStepMinor(db: Db, currency: string): number | null {
  return (
    prepared<[string], { stepMinor: number }>(
      db,
      'SELECT step_minor AS stepMinor FROM cash_rounding WHERE currency = ?',
    ).get(currency)?.stepMinor ?? null
  )
}

/** Sets or, with null, ends the rounding of a currency. Drafts follow when they are next changed. */
export function setCashRounding(writing: Writing, currency: string, stepMinor: number | null): void {
  const { db } = writing
  inOneTransaction(db, () => {
    const before = cashStepMinor(db, currency)
    if (before === stepMinor) return
    prepared<[string]>(db, 'DELETE FROM cash_rounding WHERE currency = ?').run(currency)
    if (stepMinor !== null) {
      prepared<[string, number]>(db, 'INSERT INTO cash_rounding VALUES (?, ?)').run(currency, stepMinor)
    }
    writeEvent(writing, {
      subject: 'studio',
      subjectId: 1,
      what: 'cash rounding changed',
      detail: { currency, from: before, to: stepMinor },
    })
  })
}
