import type { Answers } from '../../main/api/types.ts'
import { numberText } from '../parts/format.ts'
import { Part } from '../parts/page.tsx'
import { type Column, Table } from '../parts/table.tsx'
import { api, useAsk } from '../shell/api.ts'
import css from './figures.module.css'

type Row = Answers['extras']['unpaidReshoots'][number]

const causeWords: Readonly<Record<Row['cause'], string>> = {
  ours: 'Our mistake',
  "client's wish": 'Client’s wish',
  sample: 'The sample',
  carrier: 'The carrier',
}

/** What turning again without pay cost at the bench, a line for each year and cause. */
export function UnpaidReshootsPart() {
  const rows = useAsk(['extras', 'unpaidReshoots'], () => api.extras.unpaidReshoots.query())
  return (
    <Part title="Turned again without pay">
      <p className={css.note}>
        The time of the takes, from begin to end, of reshoots that no agreed extra pays. Setting up and
        putting away come on top.
      </p>
      <Table
        caption="Unpaid reshoots by year and cause"
        columns={columns}
        rows={rows.data}
        keyOf={({ year, cause }) => `${year} ${cause}`}
        empty={<p className={css.note}>No spin was turned again without pay so far.</p>}
      />
    </Part>
  )
}

const columns: readonly Column<Row>[] = [
  { key: 'year', head: 'Year', tight: true, cell: ({ year }) => String(year) },
  { key: 'cause', head: 'Cause', cell: ({ cause }) => causeWords[cause] },
  { key: 'reshoots', head: 'Reshoots', figure: true, cell: ({ reshoots }) => numberText(reshoots) },
  {
    key: 'hours',
    head: 'Hours at the bench',
    figure: true,
    cell: ({ benchMs }) => numberText(benchMs / 3_600_000, 1),
  },
]
