import Papa from 'papaparse'

/** A spin as the client's status list tells it. */
export interface StatusLine {
  readonly code: string
  readonly product: string
  readonly spin: string
  readonly station: string
  readonly sample: string
  readonly picked: number
  readonly picksWanted: number
  readonly yeses: number
  readonly delivered: number
  readonly deliverables: number
}

const columns: readonly (readonly [string, keyof StatusLine])[] = [
  ['Code', 'code'],
  ['Product', 'product'],
  ['Spin', 'spin'],
  ['Stands at', 'station'],
  ['Sample', 'sample'],
  ['Picked', 'picked'],
  ['Picks wanted', 'picksWanted'],
  ['Yes', 'yeses'],
  ['Delivered', 'delivered'],
  ['Deliverables', 'deliverables'],
]

/**
 * A job's status by product code as CSV (RFC 4180, with the mark that tells spreadsheets it is UTF-8). A text
 * that a spreadsheet would run as a formula gets a quote before it (OWASP ASVS 1.2.10); numbers stay numbers.
 */
export function statusCsv(lines: readonly StatusLine[]): string {
  const rows = lines.map((line) => columns.map(([, key]) => guarded(line[key])))
  const fields = columns.map(([heading]) => heading)
  return `\uFEFF${Papa.unparse({ fields, data: rows }, { newline: '\r\n' })}\r\n`
}

function guarded(cell: string | number): string | number {
  return typeof cell === 'string' && /^[=+\-@\t\r\0]/u.test(cell) ? `'${cell}` : cell
}
