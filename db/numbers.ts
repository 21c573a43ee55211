import type { Writing } from './events.ts'
import { prepared } from './statement.ts'

export type NumberKind = 'job' | 'quote' | 'invoice' | 'credit note' | 'delivery'

/** The letter a number of each kind begins with. */
const letters: Record<NumberKind, string> = {
  job: 'J',
  quote: 'Q',
  invoice: 'I',
  'credit note': 'C',
  delivery: 'D',
}

/**
 * Takes the next number of a series, such as 'J-2026-0001', in the transaction that writes what bears it: a
 * number that is not kept is not used up, so a series has no gaps. `year` is the studio's local year. Throws
 * outside a transaction.
 */
export function takeNumber({ db }: Pick<Writing, 'db'>, kind: NumberKind, year: number): string {
  if (!db.inTransaction) throw new Error('A number is taken in the transaction of what bears it.')
  const row = prepared<[string, number], { taken: number }>(
    db,
    `INSERT INTO number_series (kind, year, next) VALUES (?, ?, 2)
     ON CONFLICT (kind, year) DO UPDATE SET next = next + 1 RETURNING next - 1 AS taken`,
  ).get(kind, year)
  if (!row) throw new Error(`The series of ${kind} numbers gave none.`)
  return `${letters[kind]}-${year}-${String(row.taken).padStart(4, '0')}`
}
