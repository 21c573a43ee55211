import Papa from 'papaparse'
import { type Movement, mostMovements, type ReadStatement } from './bankLine.ts'
import { minorDigits } from './currency.ts'
import { readDecimal } from './decimal.ts'
import { Refusal } from './refusal.ts'

/** A bank's CSV file as it stands: lines before the header are passed over. */
export interface BankCsv {
  readonly headers: readonly string[]
  readonly rows: readonly { readonly line: number; readonly cells: readonly string[] }[]
}

export const dayOrders = ['YMD', 'DMY', 'MDY'] as const
export type DayOrder = (typeof dayOrders)[number]

/** How the file of one bank is read: which column is what, and how its days and amounts are written. */
export interface CsvMapping {
  /** The header of the file it was made for: another file with the same one is read the same way. */
  readonly headers: readonly string[]
  readonly day: number
  /** One column with a sign, or two: what came in and what went out. */
  readonly amount: number | null
  readonly credit: number | null
  readonly debit: number | null
  readonly text: readonly number[]
  readonly payer: number | null
  readonly iban: number | null
  readonly reference: number | null
  readonly currency: number | null
  readonly dayOrder: DayOrder
  readonly decimalMark: '.' | ','
  /** The studio's account, and the currency of lines that name none. */
  readonly account: string
  readonly accountCurrency: string
}

/**
 * Reads the text of a bank's CSV file, whatever parts its cells. The header is the first line of three cells or more
 * in which no cell is a day or an amount. Refuses a workbook, a file without lines and one of more than 20,000.
 */
export function parseBankCsv(text: string): BankCsv {
  if (text.startsWith('PK\u0003\u0004') || text.includes('\u0000') || text.startsWith('%PDF')) {
    throw new Refusal(
      'not-a-statement',
      'This file is no CSV statement but perhaps a workbook or a PDF. Ask the bank for CSV or camt.053.',
    )
  }
  const { data } = Papa.parse<string[]>(text.replace(/^\ufeff/u, ''), { delimiter: likelyDelimiter(text) })
  const rows = data.map((cells, index) => ({ line: index + 1, cells: cells.map((cell) => cell.trim()) }))
  const head = rows.slice(0, 50).find(({ cells }) => isHeader(cells))
  const body = rows.filter(
    ({ line, cells }) => line > (head?.line ?? 0) && cells.filter((cell) => cell !== '').length >= 2,
  )
  if (!head || body.length === 0) {
    throw new Refusal(
      'not-a-statement',
      'No movements were found in this file. It needs a line that names its columns, and a line for each movement below it.',
    )
  }
  if (body.length > mostMovements) {
    throw new Refusal('statement-too-long', `This statement holds ${body.length} lines. Split it.`)
  }
  return { headers: head.cells, rows: body }
}

function likelyDelimiter(text: string): string {
  const start = text.slice(0, 20_000)
  const cellsWith = (delimiter: string) =>
    Papa.parse<string[]>(start, { delimiter, preview: 60 }).data.reduce(
      (sum, row) => sum + (row.length > 2 ? row.length : 0),
      0,
    )
  return [';', '\t', '|', ','].reduce((best, each) => (cellsWith(each) > cellsWith(best) ? each : best), ',')
}

function isHeader(cells: readonly string[]): boolean {
  const filled = cells.filter((cell) => cell !== '')
  return (
    filled.length >= 3 && filled.every((cell) => /\p{L}/u.test(cell) && !/^\W*\d[\d.,/-]*\W*$/u.test(cell))
  )
}

const named: Readonly<Record<string, RegExp>> = {
  day: /^(booking|posting|transaction)?\s*date|^buchungstag|^buchungsdatum|^datum/iu,
  amount: /^amount|^betrag|^umsatz(?!art)/iu,
  credit: /credit|paid in|money in|^haben|gutschrift|eingang/iu,
  debit: /debit|paid out|money out|^soll|lastschrift|ausgang/iu,
  payer: /payer|name|counterparty|auftraggeber|beg.nstigt|zahlungspflicht|empf.nger/iu,
  iban: /iban|kontonummer|account n/iu,
  reference: /reference|referenz/iu,
  currency: /^currency|^w.hrung/iu,
  text: /description|purpose|details|text|verwendungszweck|remittance|memo/iu,
}

/** What the columns of a file are likely to be, for a person to put right. */
export function guessMapping(csv: BankCsv, account: string, accountCurrency: string): CsvMapping {
  const find = (what: string) => {
    const index = csv.headers.findIndex((header) => named[what]?.test(header))
    return index < 0 ? null : index
  }
  const amount = find('amount')
  const day = find('day') ?? 0
  const amounts = [amount, find('credit'), find('debit')].flatMap((index) => index ?? [])
  return {
    headers: csv.headers,
    day,
    amount,
    credit: amount === null ? find('credit') : null,
    debit: amount === null ? find('debit') : null,
    text: csv.headers.flatMap((header, index) => (named.text?.test(header) ? [index] : [])),
    payer: find('payer'),
    iban: find('iban'),
    reference: find('reference'),
    currency: find('currency'),
    dayOrder: likelyOrders(csv, day)[0] ?? 'DMY',
    decimalMark: likelyMark(csv, amounts),
    account,
    accountCurrency,
  }
}

/**
 * The orders of day, month and year in which most days of a column are days of the calendar; more than one: a person
 * must say which.
 */
export function likelyOrders(csv: BankCsv, column: number): readonly DayOrder[] {
  const cells = csv.rows.flatMap(({ cells }) => cells[column] || [])
  const fits = dayOrders.map((order) => cells.filter((cell) => readDay(cell, order) !== undefined).length)
  const most = Math.max(...fits)
  return most === 0 ? [] : dayOrders.filter((_, index) => fits[index] === most)
}

function likelyMark(csv: BankCsv, columns: readonly number[]): '.' | ',' {
  let commas = 0
  for (const { cells } of csv.rows) {
    for (const column of columns) {
      const mark = /([.,])\d{1,2}\D*$/u.exec(cells[column] ?? '')?.[1]
      if (mark !== undefined) commas += mark === ',' ? 1 : -1
    }
  }
  return commas > 0 ? ',' : '.'
}

/** The movements of a file by a mapping. A line that cannot be read is told with why, and the others are read. */
export function readBankCsv(csv: BankCsv, mapping: CsvMapping): ReadStatement {
  if (mapping.amount === null && mapping.credit === null && mapping.debit === null) {
    throw new Refusal(
      'no-amount-column',
      'Say which column holds the amount, or what came in and what went out.',
      {
        field: 'amount',
      },
    )
  }
  const movements: Movement[] = []
  const unread: { line: number; reason: string }[] = []
  for (const { line, cells } of csv.rows) {
    const read = readRow(cells, mapping)
    if (typeof read === 'string') unread.push({ line, reason: read })
    else if (read.amountMinor !== 0) movements.push(read)
  }
  return { format: 'csv', movements, unread, pending: 0 }
}

function readRow(cells: readonly string[], mapping: CsvMapping): Movement | string {
  const cell = (index: number | null) => (index === null ? '' : (cells[index] ?? ''))
  const day = readDay(cell(mapping.day), mapping.dayOrder)
  if (day === undefined) return `‘${cell(mapping.day)}’ is no day as the others are written.`
  const currency = (cell(mapping.currency) || mapping.accountCurrency).toUpperCase()
  try {
    const digits = minorDigits(currency)
    const amount = (index: number | null) => readAmount(cell(index), digits, mapping.decimalMark)
    const amountMinor =
      mapping.amount !== null
        ? amount(mapping.amount)
        : Math.abs(amount(mapping.credit)) - Math.abs(amount(mapping.debit))
    const iban = cell(mapping.iban).replace(/\s/gu, '').toUpperCase()
    return {
      account: mapping.account,
      bankReference: null,
      day,
      amountMinor,
      currency,
      isReversal: false,
      payer: cell(mapping.payer) || null,
      payerIban: /^[A-Z]{2}\d{2}[A-Z0-9]{11,30}$/u.test(iban) ? iban : null,
      reference: cell(mapping.reference) || null,
      text: mapping.text.map(cell).filter(Boolean).join(' ').slice(0, 2000),
    }
  } catch (error) {
    if (error instanceof Refusal) return error.message
    throw error
  }
}

/** An amount with its sign before or behind it, in brackets, or with the letters of credit and debit; nothing is 0. */
function readAmount(text: string, digits: number, mark: '.' | ','): number {
  const bare = text.replace(/[\s\u00a0€$£¥]|\p{Lu}{3}/gu, '')
  if (bare === '') return 0
  const isOut = /^\(.*\)$|-$|−$|(DR|D|S)$/iu.test(bare) || /^[-−]/u.test(bare)
  const plain = bare.replace(/^[-−+(]+|[)\-−+]+$|(CR|DR|[CDSH])$/giu, '')
  const units = readDecimal(plain, digits, 'The amount', mark)
  return isOut ? -units : units
}

function readDay(text: string, order: DayOrder): string | undefined {
  const compact = /^(\d{4})(\d\d)(\d\d)$/u.exec(text)
  const parts = compact ?? /^(\d{1,4})[./\- ](\d{1,2})[./\- ](\d{1,4})(?:[T ].*)?$/u.exec(text)
  if (!parts) return undefined
  const [a = '', b = '', c = ''] = parts.slice(1)
  const [year, month, date] = order === 'YMD' ? [a, b, c] : order === 'DMY' ? [c, b, a] : [c, a, b]
  if ((compact && order !== 'YMD') || (year.length !== 4 && year.length !== 2) || date.length > 2)
    return undefined
  if (order === 'YMD' && year.length === 2) return undefined
  const day = `${year.length === 2 ? `20${year}` : year}-${month.padStart(2, '0')}-${date.padStart(2, '0')}`
  const instant = new Date(`${day}T00:00:00Z`)
  return !Number.isNaN(instant.getTime()) && instant.toISOString().startsWith(day) ? day : undefined
}
