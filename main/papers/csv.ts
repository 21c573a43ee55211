import Papa from 'papaparse'

export type CsvCell = string | number | null

/**
 * A list as CSV (RFC 4180, with the mark that tells spreadsheets it is UTF-8). A text that a spreadsheet would run
 * as a formula gets a quote before it (OWASP ASVS 1.2.10); numbers stay numbers, null is empty.
 */
export function csvOf(fields: readonly string[], rows: readonly (readonly CsvCell[])[]): string {
  const data = rows.map((row) => row.map((cell) => guarded(cell ?? '')))
  return `\uFEFF${Papa.unparse({ fields: [...fields], data }, { newline: '\r\n' })}\r\n`
}

function guarded(cell: string | number): string | number {
  return typeof cell === 'string' && /^[=+\-@\t\r\0]/u.test(cell) ? `'${cell}` : cell
}
