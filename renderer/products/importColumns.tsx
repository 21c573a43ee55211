import { isSizeColumn, type ProductColumn, productColumns } from '../../main/trade/productColumns.ts'
import words from '../look/words.module.css'
import { Empty } from '../parts/page.tsx'
import { type Column, Table } from '../parts/table.tsx'
import { UnitFields } from './importUnits.tsx'
import type { ReadAs, ReadList } from './importValue.ts'
import css from './products.module.css'

export const columnWords: Record<ProductColumn, string> = {
  code: 'Code',
  name: 'Name',
  variant: 'Variant',
  family: 'Family',
  width: 'Width',
  depth: 'Depth',
  height: 'Height',
  diameter: 'Diameter',
  mass: 'Mass',
  plan: 'Seen from above',
  finish: 'Finish',
  gtin: 'GTIN',
}

interface FileColumn {
  readonly index: number
  readonly header: string
  readonly samples: string
  readonly is: ProductColumn | undefined
}

/** Each column of the file with what it is taken for; matched by its name, changed by hand. */
export function ImportColumns(props: {
  readonly list: ReadList
  readonly readAs: ReadAs
  readonly onChange: (readAs: ReadAs) => void
}) {
  const { list, readAs } = props
  const rows = list.headers.map((header, index) => ({
    index,
    header,
    samples: list.samples[index]?.join(' · ') ?? '',
    is: productColumns.find((column) => readAs.columns[column]?.index === index),
  }))
  const choose = (index: number, is: ProductColumn | undefined) =>
    props.onChange({ ...readAs, columns: rematched(readAs.columns, list, index, is) })
  const setUnit = (is: ProductColumn, unit: Unit | null) =>
    props.onChange({
      ...readAs,
      columns: { ...readAs.columns, [is]: { index: readAs.columns[is]?.index ?? 0, unit } },
    })
  const columns: readonly Column<FileColumn>[] = [
    {
      key: 'header',
      head: 'In the file',
      cell: ({ header, index }) => header || `column ${index + 1}, without a name`,
    },
    {
      key: 'samples',
      head: 'First cells',
      cell: ({ samples }) => <span className={words.quiet}>{samples}</span>,
    },
    {
      key: 'is',
      head: 'Taken as',
      cell: ({ index, header, is }) => (
        <select
          aria-label={`What ${header || `column ${index + 1}`} is taken as`}
          value={is ?? ''}
          onChange={(event) => choose(index, asColumn(event.target.value))}
        >
          <option value="">not taken</option>
          {productColumns.map((column) => (
            <option key={column} value={column}>
              {columnWords[column]}
            </option>
          ))}
        </select>
      ),
    },
    {
      key: 'unit',
      head: 'Unit',
      cell: ({ header, is }) =>
        is === undefined || unitsOf(is).length === 0 ? null : (
          <select
            aria-label={`Unit of ${header}`}
            value={readAs.columns[is]?.unit ?? ''}
            onChange={(event) => setUnit(is, (event.target.value || null) as Unit | null)}
          >
            <option value="">as below</option>
            {unitsOf(is).map((unit) => (
              <option key={unit} value={unit}>
                {unit === 'in' ? 'inches' : unit}
              </option>
            ))}
          </select>
        ),
    },
  ]
  return (
    <div className={css.match}>
      <Table
        caption="Columns of the file"
        columns={columns}
        rows={rows}
        keyOf={({ index }) => index}
        empty={<Empty sentence="The file names no columns." />}
      />
      <UnitFields readAs={readAs} onChange={props.onChange} />
    </div>
  )
}

type Unit = 'mm' | 'cm' | 'in' | 'g' | 'kg'

function unitsOf(column: ProductColumn): readonly Unit[] {
  if (column === 'mass') return ['g', 'kg']
  return isSizeColumn(column) ? ['mm', 'cm', 'in'] : []
}

function asColumn(value: string): ProductColumn | undefined {
  return productColumns.find((column) => column === value)
}

/** The match after one column of the file is taken as something else: each thing comes from one column only. */
function rematched(
  before: ReadAs['columns'],
  list: ReadList,
  index: number,
  is: ProductColumn | undefined,
): ReadAs['columns'] {
  const kept = Object.entries(before).filter(([column, match]) => column !== is && match?.index !== index)
  // The unit that the header names comes back with its column.
  const named = is === undefined ? undefined : list.columns[is]
  const unit = named?.index === index ? named.unit : null
  return { ...Object.fromEntries(kept), ...(is === undefined ? {} : { [is]: { index, unit } }) }
}
