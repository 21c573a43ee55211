import type { Answers } from '../../main/api/types.ts'
import { ButtonLink } from '../parts/button.tsx'
import { dayText } from '../parts/format.ts'
import { Empty, Part } from '../parts/page.tsx'
import { type Column, Table } from '../parts/table.tsx'
import { api, useAsk } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import css from './screen.module.css'

type PriceList = Answers['prices']['list'][number]

/** The price lists: the standard one of each currency, and those of clients. */
export function PricesSection() {
  const lists = useAsk(['prices', 'list'], () => api.prices.list.query())
  const add = (
    <ButtonLink to="/studio/prices/new" kind="main">
      Add a price list
    </ButtonLink>
  )
  return (
    <Part title="Price lists" acts={add}>
      <p className={css.note}>
        What a spin costs a client. A quote takes the client’s own list, or else the standard one of the job’s
        currency that holds on its day.
      </p>
      <Table
        caption="Price lists"
        columns={useColumns()}
        rows={lists.data}
        keyOf={({ id }) => id}
        to={({ id }) => `/studio/prices/${id}`}
        empty={<Empty sentence="There is no price list yet. Add one before the first quote." />}
      />
    </Part>
  )
}

function useColumns(): readonly Column<PriceList>[] {
  const { today } = useStudio()
  return [
    { key: 'name', head: 'Price list', cell: ({ name }) => name },
    { key: 'currency', head: 'Currency', cell: ({ currency }) => currency },
    { key: 'from', head: 'Holds from', cell: ({ validFrom }) => dayText(validFrom, today) },
    {
      key: 'to',
      head: 'until',
      cell: ({ validTo }) => (validTo ? dayText(validTo, today) : 'further notice'),
    },
    { key: 'standard', head: 'For', cell: ({ isStandard }) => (isStandard ? 'everybody' : 'chosen clients') },
  ]
}
