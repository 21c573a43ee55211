import { type ReactNode, useState } from 'react'
import words from '../look/words.module.css'
import { Button } from './button.tsx'
import { countText, numberText } from './format.ts'
import type { Selection } from './selection.ts'
import css from './table.module.css'
import { rowsPerPage, type TablePlace } from './tablePlace.ts'
import { TableRow } from './tableRow.tsx'

/** One column: `figure` right-aligns it, `sort` is the key the studio sorts by. */
export interface Column<Row> {
  readonly key: string
  readonly head: string
  readonly cell: (row: Row) => ReactNode
  readonly figure?: boolean
  /** As narrow as its contents. */
  readonly tight?: boolean
  readonly sort?: string
  /** The head is read out and not drawn: over a column of drawings or buttons. */
  readonly isHeadSpoken?: boolean
}

interface TableProps<Row, K extends string | number> {
  /** Says what the table holds; read out, not drawn. */
  readonly caption: string
  readonly columns: readonly Column<Row>[]
  /** Undefined until the first answer has come. */
  readonly rows: readonly Row[] | undefined
  readonly keyOf: (row: Row) => K
  /** The page a row opens; its first column becomes the link. */
  readonly to?: (row: Row) => string
  /** How many rows match in all; without it the table is not paged. */
  readonly total?: number
  /** What is counted, one and many: `['job', 'jobs']`. */
  readonly counted?: readonly [one: string, many: string]
  /** From `useTablePlace`: sorting and paging. */
  readonly place?: TablePlace
  readonly selection?: Selection<K>
  /** Drawn in place of the rows where there are none: an `Empty` that says what to do first. */
  readonly empty: ReactNode
  /** True while older rows stand in for an answer on its way. */
  readonly stale?: boolean
}

/**
 * A list as a table, sorted and paged by the studio. Up and down move between rows, Enter opens one, Space
 * chooses it; Shift with Space or a press chooses a stretch.
 */
export function Table<Row, K extends string | number>(props: TableProps<Row, K>) {
  const { rows, columns, keyOf, selection, place } = props
  const [current, setCurrent] = useState(0)
  if (!rows) return <div className={css.waiting} aria-busy="true" />
  if (rows.length === 0) return props.empty
  const keys = rows.map(keyOf)
  const stop = Math.min(current, rows.length - 1)
  return (
    <div>
      <div className={css.frame}>
        <table className={props.stale ? `${css.table} ${css.stale}` : css.table}>
          <caption className={words.spoken}>{props.caption}</caption>
          <thead>
            <tr>
              {selection ? <HeadCheck selection={selection} keys={keys} /> : null}
              {columns.map((column) => (
                <Head key={column.key} column={column} place={place} />
              ))}
            </tr>
          </thead>
          <tbody>
            {rows.map((row, index) => (
              <TableRow
                key={keyOf(row)}
                row={row}
                columns={columns}
                to={props.to?.(row)}
                isStop={index === stop}
                onStop={() => setCurrent(index)}
                isChosen={selection?.has(keyOf(row))}
                onChoose={selection && ((range) => selection.toggle(keyOf(row), keys, range))}
              />
            ))}
          </tbody>
        </table>
      </div>
      <Foot {...props} rowCount={rows.length} />
    </div>
  )
}

function Head<Row>(props: { readonly column: Column<Row>; readonly place: TablePlace | undefined }) {
  const { column, place } = props
  const { sort: key } = column
  const sorted = place && key !== undefined && place.sort.key === key ? place.sort : undefined
  const classes = [column.figure && css.figure, column.tight && css.tight, sorted && css.sorted]
  return (
    <th
      scope="col"
      className={classes.filter(Boolean).join(' ')}
      aria-sort={sorted ? (sorted.descending ? 'descending' : 'ascending') : undefined}
    >
      {place && key !== undefined ? (
        <button
          type="button"
          className={css.sort}
          onClick={() => place.toSort({ key, descending: sorted ? !sorted.descending : false })}
        >
          {column.head}
          {sorted ? (
            <span className={css.arrow} aria-hidden="true">
              {sorted.descending ? '↓' : '↑'}
            </span>
          ) : null}
        </button>
      ) : (
        <span className={column.isHeadSpoken ? words.spoken : undefined}>{column.head}</span>
      )}
    </th>
  )
}

function HeadCheck<K extends string | number>(props: {
  readonly selection: Selection<K>
  readonly keys: readonly K[]
}) {
  const { selection, keys } = props
  const all = keys.every((key) => selection.has(key))
  const some = keys.some((key) => selection.has(key))
  return (
    <th scope="col" className={css.check}>
      <input
        type="checkbox"
        aria-label="Choose every row on this page"
        checked={all}
        ref={(element) => {
          if (element) element.indeterminate = some && !all
        }}
        onChange={() => (all ? selection.clear() : selection.choose(keys))}
      />
    </th>
  )
}

function Foot<Row, K extends string | number>(props: TableProps<Row, K> & { readonly rowCount: number }) {
  const { selection, place, rowCount } = props
  const total = props.total ?? rowCount
  const [one, many] = props.counted ?? ['row', 'rows']
  const page = place?.page ?? 1
  const pages = Math.max(1, Math.ceil(total / rowsPerPage))
  const chosen = selection?.count(total) ?? 0
  const isPaged = place !== undefined && pages > 1
  if (!isPaged && !selection && props.total === undefined) return null
  const from = isPaged ? (page - 1) * rowsPerPage + 1 : 1
  return (
    <div className={css.foot}>
      <span>
        {isPaged
          ? `${numberText(from)} to ${numberText(from + rowCount - 1)} of ${countText(total, one, many)}`
          : countText(total, one, many)}
        {chosen > 0 ? ` · ${numberText(chosen)} chosen` : ''}
        {selection && chosen > 0 ? (
          <>
            {selection.chosen.which === 'some' && total > rowCount ? (
              <Button kind="quiet" onClick={selection.chooseAll}>
                {`Choose all ${numberText(total)} that match`}
              </Button>
            ) : null}
            <Button kind="quiet" onClick={selection.clear}>
              Choose none
            </Button>
          </>
        ) : null}
      </span>
      {isPaged ? (
        <nav className={css.pages} aria-label="Pages of the list">
          <Button disabled={page <= 1} onClick={() => place.toPage(page - 1)}>
            Before
          </Button>
          <span>{`Page ${numberText(page)} of ${numberText(pages)}`}</span>
          <Button disabled={page >= pages} onClick={() => place.toPage(page + 1)}>
            Next
          </Button>
        </nav>
      ) : null}
    </div>
  )
}
