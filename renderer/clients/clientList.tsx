import type { Answers, Asks } from '../../main/api/types.ts'
import words from '../look/words.module.css'
import { ButtonLink, ButtonRow } from '../parts/button.tsx'
import { CheckField } from '../parts/field.tsx'
import { FindField } from '../parts/findField.tsx'
import { FieldLine } from '../parts/form.tsx'
import { dayText, dueText, numberText } from '../parts/format.ts'
import { Empty, Page } from '../parts/page.tsx'
import { type Column, Table } from '../parts/table.tsx'
import { rowsPerPage, useTablePlace } from '../parts/tablePlace.ts'
import { api, useAsk } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import css from './clientList.module.css'

type ClientLine = Answers['clients']['list']['lines'][number]
type ClientOrder = NonNullable<NonNullable<Asks['clients']['list']>['order']>

/** Every client, with what is open for each. */
export function ClientList() {
  const { today } = useStudio()
  const place = useTablePlace({ key: 'name', descending: false })
  const text = place.filter('find')
  const archived = place.filter('off') === 'yes'
  const ask = {
    text,
    archived,
    order: place.sort.key as ClientOrder,
    descending: place.sort.descending,
    page: { offset: (place.page - 1) * rowsPerPage, limit: rowsPerPage },
  }
  const answer = useAsk(['clients', 'list', ask], () => api.clients.list.query(ask))
  return (
    <Page
      title="Clients"
      acts={
        <ButtonRow>
          <ButtonLink to="/clients/rights">Rights that end</ButtonLink>
          <ButtonLink to="/clients/new" kind="main">
            Add a client
          </ButtonLink>
        </ButtonRow>
      }
    >
      <FieldLine>
        <FindField
          label="Find by name or town"
          value={text}
          onChange={(value) => place.setFilter('find', value)}
        />
        <div className={css.beside}>
          <CheckField
            label="Show those off the list"
            checked={archived}
            onChange={(checked) => place.setFilter('off', checked ? 'yes' : '')}
          />
        </div>
      </FieldLine>
      <Table
        caption="Clients"
        columns={columnsFor(today)}
        rows={answer.data?.lines}
        keyOf={(client) => client.id}
        to={(client) => `/clients/${client.id}`}
        total={answer.data?.total ?? 0}
        counted={['client', 'clients']}
        place={place}
        stale={answer.stale}
        empty={<NoClients text={text} archived={archived} />}
      />
    </Page>
  )
}

function columnsFor(today: string): readonly Column<ClientLine>[] {
  return [
    { key: 'name', head: 'Client', sort: 'name', cell: (client) => client.name },
    { key: 'trade', head: 'Trade', cell: (client) => client.trade },
    { key: 'city', head: 'Town', sort: 'city', cell: (client) => client.city },
    {
      key: 'products',
      head: 'Products',
      figure: true,
      tight: true,
      sort: 'products',
      cell: (client) => numberText(client.products),
    },
    {
      key: 'openJobs',
      head: 'Open jobs',
      figure: true,
      tight: true,
      sort: 'openJobs',
      cell: (client) => numberText(client.openJobs),
    },
    {
      key: 'nextDueDay',
      head: 'Next due',
      figure: true,
      tight: true,
      sort: 'nextDueDay',
      cell: ({ nextDueDay }) =>
        nextDueDay === null ? null : nextDueDay < today ? (
          <span className={words.late}>{dueText(nextDueDay, today)}</span>
        ) : (
          dayText(nextDueDay, today)
        ),
    },
  ]
}

function NoClients({ text, archived }: { readonly text: string; readonly archived: boolean }) {
  if (text !== '') return <Empty sentence={`No client is called “${text}”. Try another part of the name.`} />
  if (archived) return <Empty sentence="No client has been taken off the list." />
  return (
    <Empty
      sentence="There are no clients yet. Add the first one, with what it always wants; its jobs start from that."
      act={<ButtonLink to="/clients/new">Add a client</ButtonLink>}
    />
  )
}
