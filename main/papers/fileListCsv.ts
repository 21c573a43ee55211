import type { DeliveryFile } from '../../db/deliveryList.ts'
import { csvOf } from './csv.ts'

const fields = ['File', 'Spin', 'Deliverable', 'Frame of the take', 'Bytes', 'SHA-256', 'Rights of use']

/**
 * A delivery's file list as CSV.
 * @param rights  the rights of use that go with the files, as lines; each file says them, for files part
 */
export function fileListCsv(files: readonly DeliveryFile[], rights: readonly string[]): string {
  const said = rights.join('; ')
  return csvOf(
    fields,
    files.map((file) => [file.name, file.spin, file.deliverable, file.frame, file.bytes, file.sha256, said]),
  )
}
