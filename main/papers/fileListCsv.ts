import Papa from 'papaparse'
import type { DeliveryFile } from '../../db/deliveryList.ts'

const fields = ['File', 'Spin', 'Deliverable', 'Frame of the take', 'Bytes', 'SHA-256']

/**
 * A delivery's file list as CSV (RFC 4180, with the mark that tells spreadsheets it is UTF-8). A text that a
 * spreadsheet would run as a formula gets a quote before it (OWASP ASVS 1.2.10); numbers stay numbers.
 */
export function fileListCsv(files: readonly DeliveryFile[]): string {
  const data = files.map((file) => [
    guarded(file.name),
    guarded(file.spin),
    guarded(file.deliverable),
    file.frame ?? '',
    file.bytes ?? '',
    file.sha256 ?? '',
  ])
  return `\uFEFF${Papa.unparse({ fields, data }, { newline: '\r\n' })}\r\n`
}

function guarded(text: string): string {
  return /^[=+\-@\t\r\0]/u.test(text) ? `'${text}` : text
}
