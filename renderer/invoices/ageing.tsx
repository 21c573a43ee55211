import { Link } from 'react-router'
import type { Answers } from '../../main/api/types.ts'
import { ages } from '../../main/trade/ageing.ts'
import words from '../look/words.module.css'
import { moneyText } from '../parts/format.ts'
import { type Column, Table } from '../parts/table.tsx'
import { ageWords } from './ageWords.ts'

type Sums = Answers['accounts']['ageing'][number]

/** What is open in each currency by the days after it was due; each sum leads to its invoices where there is a list. */
export function AgeingTable(props: { readonly sums: readonly Sums[]; readonly isLinked?: boolean }) {
  const columns: readonly Column<Sums>[] = [
    { key: 'currency', head: 'Currency', tight: true, cell: ({ currency }) => currency },
    ...ages.map(
      (age): Column<Sums> => ({
        key: age,
        head: ageWords[age],
        figure: true,
        cell: ({ ageing, currency }) => {
          if (ageing[age] === 0) return ''
          const text = moneyText(ageing[age], currency)
          const isLate = age !== 'not due' && ageing[age] > 0
          const shown = <span className={isLate ? words.late : undefined}>{text}</span>
          return props.isLinked ? <Link to={`/invoices?age=${encodeURIComponent(age)}`}>{shown}</Link> : shown
        },
      }),
    ),
    {
      key: 'sum',
      head: 'Open',
      figure: true,
      cell: ({ openMinor, currency }) => moneyText(openMinor, currency),
    },
  ]
  return (
    <Table
      caption="What is open, by the days after it was due"
      columns={columns}
      rows={props.sums}
      keyOf={({ currency }) => currency}
      empty={<p>Nothing is open.</p>}
    />
  )
}
