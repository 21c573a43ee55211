import Papa from 'papaparse'

export type CsvCell = string | number | null

const rules = { newline: '\r\n' }

/**
 * A list as CSV (RFC 4180, with the mark that tells spreadsheets it is UTF-8). A text that a spreadsheet would run
 * as a formula gets a quote before it (OWASP ASVS 1.2.10); numbers stay numbers, null is empty.
 */
export function csvOf(fields: readonly string[], rows: readonly (readonly CsvCell[])[]): string {
  return `${csvHead(fields)}${csvRows(rows)}`
}

/** The head of a list that is written part by part. */
export function csvHead(fields: readonly string[]): string {
  return `\uFEFF${Papa.unparse([[...fields]], rules)}\r\n`
}

/** Further rows of a list that is written part by part; nothing for none. */
export function csvRows(rows: readonly (readonly CsvCell[])[]): string {
  if (rows.length === 0) return ''
  return `${Papa.unparse(
    rows.map((row) => row.map((cell) => guarded(cell ?? ''))),
    rules,
  )}\r\n`
}

function guarded(cell: string | number): string | number {
  return typeof cell === 'string' && /^[=+\-@\t\r\0]/u.test(cell) ? `'${cell}` : cell
}
