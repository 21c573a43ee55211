import type { Answers } from '../../main/api/types.ts'
import words from '../look/words.module.css'
import { bytesText, numberText } from '../parts/format.ts'
import { Empty } from '../parts/page.tsx'
import { type Column, Table } from '../parts/table.tsx'
import { rowsPerPage, useTablePlace } from '../parts/tablePlace.ts'
import { api, useAsk } from '../shell/api.ts'
import type { Delivery } from './jobDelivery.tsx'

type File = Answers['deliveries']['files'][number]

/** The files of a delivery, by name, a page at a time. */
export function DeliveryFiles({ delivery }: { readonly delivery: Delivery }) {
  const place = useTablePlace({ key: 'name', descending: false })
  const files = useAsk(['deliveries', 'files', delivery.id, place.page], () =>
    api.deliveries.files.query({
      deliveryId: delivery.id,
      page: { offset: (place.page - 1) * rowsPerPage, limit: rowsPerPage },
    }),
  )
  return (
    <Table
      caption="Files of the delivery"
      columns={columns}
      rows={files.data}
      keyOf={({ name }) => name}
      total={delivery.files}
      counted={['file', 'files']}
      place={place}
      stale={files.stale}
      empty={<Empty sentence="No file is expected of it." />}
    />
  )
}

const columns: readonly Column<File>[] = [
  { key: 'name', head: 'File', cell: ({ name }) => <span className={words.mono}>{name}</span> },
  { key: 'spin', head: 'Spin', cell: ({ spin }) => spin },
  {
    key: 'frame',
    head: 'Frame of the take',
    figure: true,
    cell: ({ frame }) => (frame === null ? '' : numberText(frame)),
  },
  { key: 'bytes', head: 'Size', figure: true, cell: (file) => <Size file={file} /> },
  {
    key: 'sha',
    head: 'SHA-256',
    cell: ({ sha256 }) =>
      sha256 === null ? (
        <span className={words.quiet}>not read</span>
      ) : (
        <span className={words.mono} title={sha256}>{`${sha256.slice(0, 12)}…`}</span>
      ),
  },
]

function Size({ file }: { readonly file: File }) {
  const { bytes, capBytes } = file
  if (bytes === null) return null
  const isOver = capBytes !== null && bytes > capBytes
  return isOver ? `${bytesText(bytes)}, over ${bytesText(capBytes)}` : bytesText(bytes)
}
