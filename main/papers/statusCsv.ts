import type { StatusRow } from '../../db/jobStatus.ts'
import { csvOf } from './csv.ts'

const columns: readonly (readonly [string, keyof StatusRow])[] = [
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

/** A job's status by product code as CSV. */
export function statusCsv(lines: readonly StatusRow[]): string {
  return csvOf(
    columns.map(([heading]) => heading),
    lines.map((line) => columns.map(([, key]) => line[key])),
  )
}
