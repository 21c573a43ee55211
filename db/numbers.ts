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
  return numberText(kind, year, row.taken)
}

/** The number each series gives next in a year, without taking it. */
export function nextNumbers(
  db: Writing['db'],
  year: number,
): readonly { kind: NumberKind; number: string }[] {
  const rows = prepared<[number], { kind: NumberKind; next: number }>(
    db,
    'SELECT kind, next FROM number_series WHERE year = ?',
  ).all(year)
  return (Object.keys(letters) as NumberKind[]).map((kind) => ({
    kind,
    number: numberText(kind, year, rows.find((row) => row.kind === kind)?.next ?? 1),
  }))
}

function numberText(kind: NumberKind, year: number, count: number): string {
  return `${letters[kind]}-${year}-${String(count).padStart(4, '0')}`
}
