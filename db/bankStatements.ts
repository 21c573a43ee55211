import { createHash } from 'node:crypto'
import type { CsvMapping } from '../main/trade/bankCsv.ts'
import { identitiesOf, type ReadStatement } from '../main/trade/bankLine.ts'
import { Refusal } from '../main/trade/refusal.ts'
import { type Writing, writeEvent } from './events.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { inOneTransaction, newId, prepared } from './statement.ts'

/** What taking a statement in would add, and what is there already. */
export interface StatementNews {
  readonly newMovements: number
  readonly known: number
  /** New ones that are like a movement of another file: same account, day and amount. Perhaps told twice. */
  readonly alike: number
}

/** What a read statement would add; nothing is written. */
export function newsOf(db: Db, read: ReadStatement): StatementNews {
  const like = prepared<[string, number, string, string], { one: 1 }>(
    db,
    `SELECT 1 AS one FROM bank_line b JOIN bank_statement s ON s.id = b.statement_id
     WHERE b.day = ? AND b.amount_minor = ? AND b.currency = ? AND s.account = ?`,
  )
  let known = 0
  let alike = 0
  const keys = keysOf(read)
  read.movements.forEach(({ day, amountMinor, currency, account }, index) => {
    if (isKnown(db, keys[index] ?? '')) known += 1
    else if (like.get(day, amountMinor, currency, account)) alike += 1
  })
  return { newMovements: read.movements.length - known, known, alike }
}

/**
 * Takes a statement in: its new movements are written, those known already are passed over. Books nothing. Refuses a
 * file in which nothing is new.
 */
export function takeStatement(
  writing: Writing,
  fileName: string,
  read: ReadStatement,
): { readonly statementId: Id<'bank_statement'>; readonly added: number } {
  const { db, now } = writing
  return inOneTransaction(db, () => {
    const keys = keysOf(read)
    const fresh = read.movements.filter((_, index) => !isKnown(db, keys[index] ?? ''))
    if (fresh.length === 0) {
      throw new Refusal(
        'statement-known',
        read.movements.length === 0
          ? 'This file holds no booked movement.'
          : 'Every movement of this file was taken in before. Nothing is to be done.',
      )
    }
    const statementId = newId<Id<'bank_statement'>>(
      prepared<unknown[]>(
        db,
        'INSERT INTO bank_statement (format, file_name, account, taken_in_at) VALUES (?, ?, ?, ?)',
      ).run(read.format, fileName, fresh[0]?.account ?? '', now),
    )
    read.movements.forEach((movement, index) => {
      const key = keys[index] ?? ''
      if (isKnown(db, key)) return
      prepared<unknown[]>(
        db,
        `INSERT INTO bank_line (statement_id, line_key, day, amount_minor, currency, is_reversal, payer, payer_iban,
           reference, text) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
      ).run(
        statementId,
        key,
        movement.day,
        movement.amountMinor,
        movement.currency,
        movement.isReversal ? 1 : 0,
        movement.payer,
        movement.payerIban,
        movement.reference,
        movement.text,
      )
    })
    writeEvent(writing, {
      subject: 'studio',
      subjectId: 1,
      what: 'bank statement taken in',
      detail: { fileName, added: fresh.length },
    })
    return { statementId, added: fresh.length }
  })
}

/** Takes a statement out that was read wrongly. Refuses one of which a payment was entered. */
export function removeStatement(writing: Writing, statementId: Id<'bank_statement'>): void {
  const { db } = writing
  inOneTransaction(db, () => {
    const used = prepared<[number], { one: 1 }>(
      db,
      'SELECT 1 AS one FROM bank_line b JOIN payment p ON p.bank_line_id = b.id WHERE b.statement_id = ?',
    ).get(statementId)
    if (used) {
      throw new Refusal(
        'statement-used',
        'Payments were entered from this statement, so it stays. Take a wrong payment back on its invoice.',
      )
    }
    prepared<[number]>(db, 'DELETE FROM bank_statement WHERE id = ?').run(statementId)
    writeEvent(writing, { subject: 'studio', subjectId: 1, what: 'bank statement taken out' })
  })
}

function isKnown(db: Db, key: string): boolean {
  return (
    prepared<[string], { one: 1 }>(db, 'SELECT 1 AS one FROM bank_line WHERE line_key = ?').get(key) !==
    undefined
  )
}

function keysOf(read: ReadStatement): readonly string[] {
  return identitiesOf(read.movements).map((identity) => createHash('sha256').update(identity).digest('hex'))
}

/** The statements taken in, the newest first, at most 50, with what of their credits is still free. */
export function recentStatements(db: Db) {
  return prepared<
    [],
    {
      readonly id: Id<'bank_statement'>
      readonly format: 'csv' | 'camt.053'
      readonly fileName: string
      readonly account: string
      readonly takenInAt: string
      readonly lines: number
      readonly isUsed: 0 | 1
    }
  >(
    db,
    `SELECT s.id, s.format, s.file_name AS fileName, s.account, s.taken_in_at AS takenInAt,
       (SELECT count(*) FROM bank_line b WHERE b.statement_id = s.id) AS lines,
       EXISTS (SELECT 1 FROM bank_line b JOIN payment p ON p.bank_line_id = b.id WHERE b.statement_id = s.id) AS isUsed
     FROM bank_statement s ORDER BY s.id DESC LIMIT 50`,
  )
    .all()
    .map((row) => ({ ...row, isUsed: row.isUsed === 1 }))
}

export interface KeptMapping {
  readonly id: Id<'statement_mapping'>
  readonly name: string
  readonly mapping: CsvMapping
}

/** How the CSV files of the studio's banks are read. */
export function keptMappings(db: Db): readonly KeptMapping[] {
  return prepared<[], Omit<KeptMapping, 'mapping'> & { mapping: string }>(
    db,
    'SELECT id, name, mapping FROM statement_mapping ORDER BY name',
  )
    .all()
    .map((row) => ({ ...row, mapping: JSON.parse(row.mapping) as CsvMapping }))
}

/** Keeps how a bank's files are read, under its name; the same name again replaces it. */
export function keepMapping({ db }: Writing, name: string, mapping: CsvMapping): void {
  prepared<[string, string]>(
    db,
    `INSERT INTO statement_mapping (name, mapping) VALUES (?, ?)
     ON CONFLICT (name) DO UPDATE SET mapping = excluded.mapping`,
  ).run(name, JSON.stringify(mapping))
}
