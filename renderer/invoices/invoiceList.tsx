import { useSearchParams } from 'react-router'
import type { Answers } from '../../main/api/types.ts'
import { ages } from '../../main/trade/ageing.ts'
import words from '../look/words.module.css'
import { ButtonLink, ButtonRow } from '../parts/button.tsx'
import { countText, dayText, dueText, moneyText } from '../parts/format.ts'
import { Empty, Page } from '../parts/page.tsx'
import { type Column, Table } from '../parts/table.tsx'
import { rowsPerPage, useTablePlace } from '../parts/tablePlace.ts'
import { api, useAsk } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import { AgeingTable } from './ageing.tsx'
import { ageWords } from './ageWords.ts'
import css from './invoices.module.css'
import { kindWords } from './invoiceWords.ts'

type Listed = Answers['invoices']['list']
type Line = Listed['lines'][number]

const filters = [
  ['open', 'Open'],
  ['overdue', 'Overdue'],
  ['drafts', 'Drafts'],
  ['all', 'All'],
] as const
type Filter = (typeof filters)[number][0]

const orders = ['dueDay', 'issueDay', 'number', 'client', 'totalMinor', 'openMinor'] as const

const emptySentences: Readonly<Record<Filter, string>> = {
  open: 'Nothing is open. Draft an invoice on a job’s invoice page when something is delivered.',
  overdue: 'Nothing is overdue.',
  drafts: 'There is no draft. Draft an invoice on a job’s invoice page.',
  all: 'There is no invoice yet. Draft the first one on a job’s invoice page when something is delivered.',
}

/** The studio's invoices: what is open and what is late, with the sum of it in each currency. */
export function InvoiceList() {
  const [params] = useSearchParams()
  // Among all of them one looks for the newest; among what is open, for what is due first.
  const place = useTablePlace(
    params.get('show') === 'all' ? { key: 'number', descending: true } : { key: 'dueDay', descending: false },
  )
  const filter = filters.find(([name]) => name === place.filter('show'))?.[0] ?? 'open'
  const order = orders.find((name) => name === place.sort.key) ?? 'dueDay'
  const { descending } = place.sort
  const age = filter === 'open' ? (ages.find((each) => each === place.filter('age')) ?? null) : null
  const ageing = useAsk(['accounts', 'ageing'], () => api.accounts.ageing.query())
  const list = useAsk(['invoices', 'list', filter, age, order, descending, place.page], () =>
    api.invoices.list.query({
      filter,
      age,
      order,
      descending,
      page: { offset: (place.page - 1) * rowsPerPage, limit: rowsPerPage },
    }),
  )
  return (
    <Page
      title="Invoices"
      lead={list.data ? leadOf(list.data, filter) : ' '}
      acts={
        <ButtonRow>
          <ButtonLink to="/invoices/months">By the month</ButtonLink>
          <ButtonLink to="/invoices/bank">Bank statements</ButtonLink>
          <ButtonLink to="/invoices/reminders">Reminders</ButtonLink>
          <ButtonLink to="/invoices/quarter">Sales and purchases</ButtonLink>
          <ButtonLink to="/invoices/accountant">For the accountant</ButtonLink>
        </ButtonRow>
      }
    >
      {ageing.data && ageing.data.length > 0 ? <AgeingTable sums={ageing.data} isLinked /> : null}
      <div>
        <fieldset className={css.filters} aria-label="Which invoices are shown">
          {filters.map(([name, word]) => (
            <button
              key={name}
              type="button"
              aria-pressed={filter === name}
              onClick={() => place.setFilter('show', name === 'open' ? '' : name)}
            >
              {word}
            </button>
          ))}
          {age === null ? null : (
            <button type="button" aria-pressed onClick={() => place.setFilter('age', '')}>
              {`${ageWords[age]}: show all`}
            </button>
          )}
        </fieldset>
        <Table
          caption={`Invoices: ${filter}`}
          columns={useColumns()}
          rows={list.data?.lines}
          keyOf={({ id }) => id}
          to={({ id }) => `/invoices/${id}`}
          total={list.data?.total ?? 0}
          counted={['document', 'documents']}
          place={place}
          stale={list.stale}
          empty={<Empty sentence={emptySentences[filter]} />}
        />
      </div>
    </Page>
  )
}

/** What is open of the documents shown, per currency; drafts owe nothing. */
function leadOf({ sums, total }: Listed, filter: Filter): string {
  if (filter === 'drafts') return `${countText(total, 'draft')}, not issued yet.`
  const open = sums.filter(({ openMinor }) => openMinor !== 0)
  if (open.length === 0) return 'Nothing is open.'
  const amounts = open.map(({ openMinor, currency }) => moneyText(openMinor, currency)).join(' and ')
  return `${amounts} ${filter === 'overdue' ? 'overdue' : 'open'}.`
}

function useColumns(): readonly Column<Line>[] {
  const { today } = useStudio()
  return [
    {
      key: 'number',
      head: 'Number',
      sort: 'number',
      cell: ({ number, kind }) => number ?? `Draft: ${kindWords[kind].toLowerCase()}`,
    },
    { key: 'client', head: 'Client', sort: 'client', cell: ({ clientName }) => clientName },
    { key: 'job', head: 'Job', cell: jobsText },
    { key: 'kind', head: 'Kind', cell: ({ kind, number }) => (number ? kindWords[kind] : '') },
    {
      key: 'issued',
      head: 'Issued',
      sort: 'issueDay',
      cell: ({ issueDay }) => (issueDay ? dayText(issueDay, today) : ''),
    },
    { key: 'due', head: 'Due', sort: 'dueDay', cell: (line) => <Due line={line} today={today} /> },
    {
      key: 'total',
      head: 'Total',
      sort: 'totalMinor',
      figure: true,
      // A credit note's own amounts are positive; among invoices it takes something away.
      cell: ({ kind, totalMinor, currency }) =>
        moneyText(kind === 'credit note' ? -totalMinor : totalMinor, currency),
    },
    {
      key: 'open',
      head: 'Open',
      sort: 'openMinor',
      figure: true,
      cell: ({ openMinor, currency }) => (openMinor === 0 ? '' : moneyText(openMinor, currency)),
    },
  ]
}

/** The job's number, or how many jobs an invoice of a month bills; its page names them. */
function jobsText({ jobNumbers }: Line): string {
  return jobNumbers.length > 1 ? countText(jobNumbers.length, 'job') : (jobNumbers[0] ?? '')
}

function Due({ line, today }: { readonly line: Line; readonly today: string }) {
  if (line.dueDay === null || line.kind === 'credit note') return null
  if (line.openMinor <= 0) return dayText(line.dueDay, today)
  return (
    <span className={line.dueDay < today ? words.late : undefined}>
      {`${dayText(line.dueDay, today)}, ${dueText(line.dueDay, today)}`}
    </span>
  )
}
