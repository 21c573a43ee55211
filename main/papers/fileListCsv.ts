import type { DeliveryFile } from '../../db/deliveryList.ts'
import { csvOf } from './csv.ts'

const fields = ['File', 'Spin', 'Deliverable', 'Frame of the take', 'Bytes', 'SHA-256']

/** A delivery's file list as CSV. */
export function fileListCsv(files: readonly DeliveryFile[]): string {
  return csvOf(
    fields,
    files.map((file) => [file.name, file.spin, file.deliverable, file.frame, file.bytes, file.sha256]),
  )
}
