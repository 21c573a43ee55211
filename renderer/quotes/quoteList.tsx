import type { Answers, Asks } from '../../main/api/types.ts'
import words from '../look/words.module.css'
import { SelectField } from '../parts/field.tsx'
import { FieldLine } from '../parts/form.tsx'
import { dayText, moneyText } from '../parts/format.ts'
import { Empty, Page } from '../parts/page.tsx'
import { type Column, Table } from '../parts/table.tsx'
import { rowsPerPage, useTablePlace } from '../parts/table-place.ts'
import { api, useAsk } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import { stateWords } from './stateWords.ts'

type Line = Answers['quotes']['list']['lines'][number]
type Filter = NonNullable<Asks['quotes']['list']['filter']>
type Order = NonNullable<Asks['quotes']['list']['order']>

const filters: readonly { readonly value: Filter; readonly label: string }[] = [
  { value: 'open', label: 'Waiting for an answer' },
  { value: 'drafts', label: 'Not sent yet' },
  { value: 'all', label: 'All there ever were' },
]

const emptySentences: Readonly<Record<Filter, string>> = {
  open: 'No quote waits for a client’s answer. Begin and send one on the quote page of its job.',
  drafts: 'No quote is being made. Begin one on the quote page of a job.',
  all: 'There is no quote yet. Begin one on the quote page of a job.',
}

/** Quotes over all jobs: whom to call back, and what runs out when. */
export function QuoteList() {
  const { today } = useStudio()
  const place = useTablePlace({ key: 'callBack', descending: false })
  const filter = (place.filter('which') || 'open') as Filter
  const ask = {
    filter,
    order: place.sort.key as Order,
    page: { offset: (place.page - 1) * rowsPerPage, limit: rowsPerPage },
  }
  const answer = useAsk(['quotes', 'list', ask], () => api.quotes.list.query(ask))
  return (
    <Page title="Quotes">
      <FieldLine>
        <SelectField
          label="Which quotes"
          value={filter}
          options={filters}
          onChange={(which) => place.setFilter('which', which === 'open' ? '' : which)}
        />
      </FieldLine>
      <Table
        caption="Quotes"
        columns={columnsFor(today)}
        rows={answer.data?.lines}
        keyOf={(line) => line.id}
        to={(line) => `/jobs/${line.jobId}/quote?quote=${line.id}`}
        total={answer.data?.total ?? 0}
        counted={['quote', 'quotes']}
        place={place}
        stale={answer.stale}
        empty={<Empty sentence={emptySentences[filter]} />}
      />
    </Page>
  )
}

function columnsFor(today: string): readonly Column<Line>[] {
  const soon = (day: string | null, isWaiting: boolean) => {
    if (day === null) return ''
    return <span className={isWaiting && day < today ? words.late : undefined}>{dayText(day, today)}</span>
  }
  return [
    {
      key: 'number',
      head: 'Quote',
      tight: true,
      sort: 'newest',
      cell: (line) => (line.version === 1 ? line.number : `${line.number} v${line.version}`),
    },
    { key: 'client', head: 'Client', cell: (line) => line.client },
    { key: 'job', head: 'Job', cell: (line) => `${line.jobNumber}, ${line.jobTitle}` },
    { key: 'state', head: 'Stands', tight: true, cell: (line) => stateWords[line.state] },
    {
      key: 'callBack',
      head: 'Call back',
      tight: true,
      sort: 'callBack',
      cell: (line) => soon(line.callBackDay, line.state === 'sent'),
    },
    {
      key: 'validUntil',
      head: 'Valid until',
      tight: true,
      sort: 'validUntil',
      cell: (line) => soon(line.validUntil, line.state === 'sent'),
    },
    {
      key: 'total',
      head: 'Total',
      figure: true,
      sort: 'total',
      cell: (line) => moneyText(line.totalMinor, line.currency),
    },
  ]
}
