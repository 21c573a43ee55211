import { useNavigate, useSearchParams } from 'react-router'
import type { Answers, Asks } from '../../main/api/types.ts'
import words from '../look/words.module.css'
import { ButtonLink, ButtonRow } from '../parts/button.tsx'
import { SelectField } from '../parts/field.tsx'
import { FieldLine } from '../parts/form.tsx'
import { dayText, moneyText } from '../parts/format.ts'
import { Empty, Page } from '../parts/page.tsx'
import { type Column, Table } from '../parts/table.tsx'
import { rowsPerPage, useTablePlace } from '../parts/tablePlace.ts'
import { api, useAsk } from '../shell/api.ts'
import { useLetters } from '../shell/letters.ts'
import { useStudio } from '../shell/studio.ts'
import { QuoteBands } from './quoteBands.tsx'
import { stateWords } from './stateWords.ts'

type Line = Answers['quotes']['list']['lines'][number]
type Filter = NonNullable<Asks['quotes']['list']['filter']>
type Order = NonNullable<Asks['quotes']['list']['order']>

const filters: readonly { readonly value: Filter; readonly label: string }[] = [
  { value: 'open', label: 'Waiting for an answer' },
  { value: 'drafts', label: 'Not sent yet' },
  { value: 'lost', label: 'Not taken' },
  { value: 'all', label: 'All there ever were' },
]

const emptySentences: Readonly<Record<Filter, string>> = {
  open: 'No quote waits for a client’s answer. Begin and send one on the quote page of its job.',
  drafts: 'No quote is being made. Begin one on the quote page of a job.',
  lost: 'No quote was declined or has lapsed.',
  all: 'There is no quote yet. Begin one on the quote page of a job.',
}

/** Where a filter is read from first: whom to call back, or what came last. */
const firstOrder = { open: 'callBack', drafts: 'newest', lost: 'newest', all: 'newest' } as const

/** Quotes over all jobs: whom to call back, what runs out when, and at which prices clients said yes. */
export function QuoteList() {
  const { today } = useStudio()
  const navigate = useNavigate()
  useLetters({ c: () => void navigate('/call') })
  const [params] = useSearchParams()
  const filter = filterOf(params.get('which'))
  const place = useTablePlace({ key: firstOrder[filter], descending: false })
  const ask = {
    filter,
    order: place.sort.key as Order,
    page: { offset: (place.page - 1) * rowsPerPage, limit: rowsPerPage },
  }
  const answer = useAsk(['quotes', 'list', ask], () => api.quotes.list.query(ask))
  return (
    <Page
      title="Quotes"
      acts={
        <ButtonRow>
          <ButtonLink to="/call">A call (c)</ButtonLink>
        </ButtonRow>
      }
    >
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
        columns={filter === 'lost' ? lostColumns(today) : columnsFor(today)}
        rows={answer.data?.lines}
        keyOf={(line) => line.id}
        to={(line) => `/jobs/${line.jobId}/quote?quote=${line.id}`}
        total={answer.data?.total ?? 0}
        counted={['quote', 'quotes']}
        place={place}
        stale={answer.stale}
        empty={<Empty sentence={emptySentences[filter]} />}
      />
      <QuoteBands />
    </Page>
  )
}

/** The filter an address names; any other word means the first one. */
function filterOf(which: string | null): Filter {
  return filters.find(({ value }) => value === which)?.value ?? 'open'
}

const numberColumn: Column<Line> = {
  key: 'number',
  head: 'Quote',
  tight: true,
  sort: 'newest',
  cell: (line) =>
    [
      line.version === 1 ? line.number : `${line.number} v${line.version}`,
      ...(line.way === 'as asked' ? [] : [line.way]),
    ].join(', '),
}

/** What was not taken: why, at which price, and what they would have paid. */
function lostColumns(today: string): readonly Column<Line>[] {
  return [
    numberColumn,
    { key: 'client', head: 'Client', cell: (line) => line.client },
    { key: 'job', head: 'Job', cell: (line) => `${line.jobNumber}, ${line.jobTitle}` },
    { key: 'state', head: 'Stands', tight: true, cell: (line) => stateWords[line.state] },
    { key: 'reason', head: 'Why', cell: (line) => line.lostReason ?? '' },
    {
      key: 'validUntil',
      head: 'Valid until',
      tight: true,
      sort: 'validUntil',
      cell: (line) => (line.validUntil === null ? '' : dayText(line.validUntil, today)),
    },
    { key: 'net', head: 'Before tax', figure: true, cell: (line) => moneyText(line.netMinor, line.currency) },
    {
      key: 'theirs',
      head: 'Their price',
      figure: true,
      cell: (line) => (line.lostPriceMinor === null ? '' : moneyText(line.lostPriceMinor, line.currency)),
    },
  ]
}

function columnsFor(today: string): readonly Column<Line>[] {
  const soon = (day: string | null, isWaiting: boolean) => {
    if (day === null) return ''
    return <span className={isWaiting && day < today ? words.late : undefined}>{dayText(day, today)}</span>
  }
  return [
    numberColumn,
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
