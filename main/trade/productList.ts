import Papa from 'papaparse'
import type { ColumnMatch, ProductColumn } from './productColumns.ts'
import { type ProductDraft, type RowReading, readProductRow } from './productRow.ts'
import { Refusal } from './refusal.ts'

/** A product list as its file holds it: headers, then a row per product. */
export interface ProductList {
  readonly delimiter: Delimiter
  readonly headers: readonly string[]
  readonly rows: readonly ListRow[]
}

export interface ListRow {
  /** The line of the file that the row begins on, as an editor counts: from 1. */
  readonly line: number
  readonly cells: readonly string[]
  /** Why the row cannot be read at all. */
  readonly broken?: string | undefined
}

const delimiters = [',', ';', '\t'] as const
export type Delimiter = (typeof delimiters)[number]

const mostRows = 20_000

/**
 * Reads the text of a CSV file (RFC 4180; also parted by semicolons or tabs, with a byte-order mark, with a
 * `sep=` line, with any line ends). Rows of empty cells are passed over.
 * Refuses a workbook, a file without rows and one of more than 20,000.
 */
export function parseProductList(text: string): ProductList {
  refuseWorkbook(text)
  const hint = /^\ufeff?sep=([,;\t])\r?\n/iu.exec(text)
  const body = text.slice(hint?.[0].length ?? 0)
  const delimiter = (hint?.[1] as Delimiter | undefined) ?? likelyDelimiter(body)
  const { data, errors } = Papa.parse<string[]>(body, { delimiter })
  const quoteErrors = new Map(errors.map(({ code, row }) => [row, code]))
  const rows: ListRow[] = []
  let headers: readonly string[] | undefined
  let line = hint ? 2 : 1
  data.forEach((cells, index) => {
    const isEmpty = cells.every((cell) => cell.trim() === '')
    if (!isEmpty && headers === undefined) headers = cells.map((cell) => cell.trim())
    else if (!isEmpty && headers !== undefined) {
      rows.push({ line, cells, broken: brokenReason(cells, headers, quoteErrors.get(index)) })
    }
    line += 1 + linesWithin(cells)
  })
  if (headers === undefined || rows.length === 0) {
    throw new Refusal(
      'empty-list',
      'This file holds no products. Its first line names the columns; each line after it is a product.',
    )
  }
  if (rows.length > mostRows) {
    throw new Refusal(
      'list-too-long',
      `This file holds ${rows.length} products; ${mostRows} can be read at once. Split it.`,
    )
  }
  return { delimiter, headers, rows }
}

/** Why a row is kept out: where, which column where one is to blame, and a sentence. */
export interface BadRow {
  readonly line: number
  readonly code: string
  readonly column: ProductColumn | null
  readonly reason: string
}

/** A row that can be taken, and the columns in which it says something: only these change a known product. */
export interface GoodRow {
  readonly line: number
  readonly product: ProductDraft
  readonly says: ReadonlySet<ProductColumn>
}

/** What the studio holds of these texts at most, in characters. */
const longest: Partial<Record<ProductColumn, number>> = { code: 60, name: 200, variant: 100, family: 120 }

/**
 * Parts the rows of a list into those that can be taken and those that cannot, with every reason. Of rows
 * with the same code the first is taken.
 * Refuses a match without a column for the code.
 */
export function judgeRows(
  rows: readonly ListRow[],
  columns: ColumnMatch,
  reading: RowReading,
): { readonly good: readonly GoodRow[]; readonly bad: readonly BadRow[] } {
  if (columns.code === undefined) {
    throw new Refusal(
      'no-code-column',
      'Say which column holds the code: it tells one product from another.',
      {
        field: 'code',
      },
    )
  }
  const good: GoodRow[] = []
  const bad: BadRow[] = []
  const firstLine = new Map<string, number>()
  for (const row of rows) {
    const { line, cells } = row
    const code = cells[columns.code.index]?.trim() ?? ''
    const refuse = (column: ProductColumn | null, reason: string) => bad.push({ line, code, column, reason })
    if (row.broken !== undefined) {
      refuse(null, row.broken)
      continue
    }
    const { product, problems = [] } = readProductRow(cells, columns, reading)
    const said = saidColumns(cells, columns)
    const reasons = [...problems, ...tooLong(cells, columns, said)]
    for (const { column, reason } of reasons) refuse(column, reason)
    if (product === undefined || reasons.length > 0) continue
    const before = firstLine.get(code)
    if (before === undefined) {
      firstLine.set(code, line)
      good.push({ line, product, says: said })
    } else refuse('code', `The code ${code} stands in line ${before} already. Only that line is taken.`)
  }
  return { good, bad }
}

function saidColumns(cells: readonly string[], columns: ColumnMatch): ReadonlySet<ProductColumn> {
  const said = new Set<ProductColumn>()
  for (const [column, match] of Object.entries(columns)) {
    if (match && (cells[match.index]?.trim() ?? '') !== '') said.add(column as ProductColumn)
  }
  return said
}

function tooLong(
  cells: readonly string[],
  columns: ColumnMatch,
  said: ReadonlySet<ProductColumn>,
): readonly { readonly column: ProductColumn; readonly reason: string }[] {
  return [...said].flatMap((column) => {
    const most = longest[column]
    const length = cells[columns[column]?.index ?? -1]?.trim().length ?? 0
    if (most === undefined || length <= most) return []
    return [{ column, reason: `The ${column} has ${length} characters; ${most} can be kept. Shorten it.` }]
  })
}

/** The delimiter that gives the header line the most cells: numbers with commas stand below it, not in it. */
function likelyDelimiter(text: string): Delimiter {
  const cellsWith = (delimiter: Delimiter) =>
    Papa.parse<string[]>(text, { delimiter, preview: 1, skipEmptyLines: 'greedy' }).data[0]?.length ?? 0
  return delimiters.reduce((best, each) => (cellsWith(each) > cellsWith(best) ? each : best))
}

function brokenReason(
  cells: readonly string[],
  headers: readonly string[],
  error: Papa.ParseError['code'] | undefined,
): string | undefined {
  if (error === 'MissingQuotes') {
    return 'A quotation mark opens in this line and never closes, so that nothing after it can be read. Close it.'
  }
  if (error === 'InvalidQuotes') {
    return 'A quotation mark does not pair up. Write every quotation mark inside a quoted cell twice.'
  }
  if (cells.slice(headers.length).some((cell) => cell.trim() !== '')) {
    return `This line has ${cells.length} cells, the header ${headers.length}. A cell that holds the separator needs quotation marks round it.`
  }
  return undefined
}

/** A cell in quotes may go over several lines. */
function linesWithin(cells: readonly string[]): number {
  let lines = 0
  for (const cell of cells) {
    if (cell.includes('\n') || cell.includes('\r')) lines += cell.match(/\r\n|\r|\n/gu)?.length ?? 0
  }
  return lines
}

/** Workbooks are zipped (PK) or compound files; both hold bytes that no list holds. */
function refuseWorkbook(text: string): void {
  if (!text.startsWith('PK\u0003\u0004') && !text.includes('\u0000')) return
  throw new Refusal(
    'not-a-list',
    'This file is no plain product list but perhaps a workbook. Save it as CSV in UTF-8 and pick that file.',
  )
}
