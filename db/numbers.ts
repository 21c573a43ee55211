import { Refusal } from '../main/trade/refusal.ts'
import { type Writing, writeEvent } from './events.ts'
import { inOneTransaction, prepared } from './statement.ts'

export const numberKinds = ['job', 'quote', 'invoice', 'credit note', 'delivery'] as const
export type NumberKind = (typeof numberKinds)[number]

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

/** The number each series gives next in a year, without taking it, and whether it has given one yet. */
export function nextNumbers(
  db: Writing['db'],
  year: number,
): readonly { kind: NumberKind; next: number; number: string; isBegun: boolean }[] {
  const rows = prepared<[number], { kind: NumberKind; first: number; next: number }>(
    db,
    'SELECT kind, first, next FROM number_series WHERE year = ?',
  ).all(year)
  return numberKinds.map((kind) => {
    const { first, next } = rows.find((row) => row.kind === kind) ?? { first: 1, next: 1 }
    return { kind, next, number: numberText(kind, year, next), isBegun: next > first }
  })
}

const mostOfAYear = 999_999

/**
 * Says which number a series gives first in a year, for a studio that goes on from other books. Refuses once the
 * series has given a number in that year: the next one follows it.
 */
export function startNumbers(writing: Writing, kind: NumberKind, year: number, first: number): void {
  const { db } = writing
  if (!Number.isSafeInteger(first) || first < 1 || first > mostOfAYear) {
    throw new Refusal('bad-number', `A series starts with a whole number from 1 to ${mostOfAYear}.`, {
      field: 'first',
    })
  }
  inOneTransaction(db, () => {
    const before = prepared<[string, number], { first: number; next: number }>(
      db,
      'SELECT first, next FROM number_series WHERE kind = ? AND year = ?',
    ).get(kind, year)
    if (before && before.next !== before.first) {
      throw new Refusal(
        'series-begun',
        `${numberText(kind, year, before.next - 1)} is given already, so the next one follows it. A series can be set only before its first number of a year.`,
        { field: 'first' },
      )
    }
    prepared<[string, number, number, number]>(
      db,
      `INSERT INTO number_series (kind, year, first, next) VALUES (?, ?, ?, ?)
       ON CONFLICT (kind, year) DO UPDATE SET first = excluded.first, next = excluded.next`,
    ).run(kind, year, first, first)
    writeEvent(writing, {
      subject: 'studio',
      subjectId: 1,
      what: 'number series started',
      detail: { kind, year, first },
    })
  })
}

function numberText(kind: NumberKind, year: number, count: number): string {
  return `${letters[kind]}-${year}-${String(count).padStart(4, '0')}`
}
