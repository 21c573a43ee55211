import { Link } from 'react-router'
import type { Answers } from '../../main/api/types.ts'
import { quarterBeside } from '../../main/trade/quarter.ts'
import words from '../look/words.module.css'
import { Asked } from '../parts/asked.tsx'
import { Button, ButtonRow } from '../parts/button.tsx'
import { countText, dayText, moneyText } from '../parts/format.ts'
import { Empty, Page, Part } from '../parts/page.tsx'
import { type Column, Table } from '../parts/table.tsx'
import { rowsPerPage, type TablePlace, useTablePlace } from '../parts/tablePlace.ts'
import { api, useAsk } from '../shell/api.ts'
import { openPaper } from '../shell/papers.ts'
import { kindWords } from './costWords.ts'

type Answer = Answers['jobCosts']['quarter']
type Purchase = Answer['lines'][number]

interface SumLine {
  readonly what: string
  readonly currency: string
  readonly documents: string
  readonly netMinor: number
  readonly taxMinor: number
}

/** A quarter's purchases beside its sales, with tax. */
export function QuarterPage() {
  const place = useTablePlace({ key: 'day', descending: false })
  const wished = place.filter('quarter')
  const ask = {
    quarter: wished || null,
    page: { offset: (place.page - 1) * rowsPerPage, limit: rowsPerPage },
  }
  const answer = useAsk(['jobCosts', 'quarter', ask], () => api.jobCosts.quarter.query(ask))
  return (
    <Asked of={answer} isPage>
      {(data) => <Quarter data={data} place={place} stale={answer.stale} />}
    </Asked>
  )
}

function Quarter(props: { readonly data: Answer; readonly place: TablePlace; readonly stale: boolean }) {
  const { data, place } = props
  const { quarter, fromDay, toDay, total } = data
  const show = (by: number) => place.setFilter('quarter', quarterBeside(quarter, by))
  const withoutReceipt = data.purchases.reduce((sum, one) => sum + one.withoutReceipt, 0)
  return (
    <Page
      title="Sales and purchases"
      lead={`${quarterText(quarter)}: ${dayText(fromDay)} to ${dayText(toDay)}`}
      acts={
        <ButtonRow>
          <Button onClick={() => show(-1)}>The quarter before</Button>
          <Button onClick={() => show(1)}>The next quarter</Button>
        </ButtonRow>
      }
    >
      <Part title="Side by side">
        <Table
          caption="Sales and purchases of the quarter"
          columns={sumColumns}
          rows={sumsOf(data)}
          keyOf={({ what, currency }) => `${what} ${currency}`}
          empty={<Empty sentence="Nothing was issued and nothing was paid for in this quarter." />}
        />
        <p className={words.quiet}>
          Sales by the day of issue, credit notes taken off, a deposit where its own invoice stands. Purchases
          are the costs of jobs alone, by the day of the receipt; rent, wages and whatever else the studio
          pays are not in here. Which tax can be set against which, and when, differs by country: an
          accountant decides.
        </p>
      </Part>
      <Part title="Purchases">
        <Table
          caption="Purchases of the quarter"
          columns={purchaseColumns}
          rows={data.lines}
          keyOf={({ id }) => id}
          total={total}
          counted={['purchase', 'purchases']}
          place={place}
          stale={props.stale}
          empty={<Empty sentence="None. Costs are written down on a job’s page Costs." />}
        />
        {withoutReceipt > 0 ? (
          <p className={words.quiet}>{`${countText(withoutReceipt, 'purchase')} without a receipt.`}</p>
        ) : null}
      </Part>
    </Page>
  )
}

function quarterText(quarter: string): string {
  return `Quarter\u00a0${quarter.slice(6)} of ${quarter.slice(0, 4)}`
}

function sumsOf({ sales, purchases }: Answer): readonly SumLine[] {
  const sold = sales.map((sum) => ({
    ...sum,
    what: 'Sales',
    documents: countText(sum.documents, 'document'),
  }))
  const bought = purchases.map((sum) => ({
    ...sum,
    what: kindWords[sum.kind],
    documents: countText(sum.documents, 'purchase'),
  }))
  const all = [...Map.groupBy(purchases, ({ currency }) => currency)].map(([currency, own]) => ({
    what: 'Purchases in all',
    currency,
    documents: countText(
      own.reduce((sum, { documents }) => sum + documents, 0),
      'purchase',
    ),
    netMinor: own.reduce((sum, { netMinor }) => sum + netMinor, 0),
    taxMinor: own.reduce((sum, { taxMinor }) => sum + taxMinor, 0),
  }))
  return [...sold, ...bought, ...all]
}

const sumColumns: readonly Column<SumLine>[] = [
  { key: 'what', head: 'What', cell: ({ what }) => what },
  { key: 'count', head: 'How many', cell: ({ documents }) => documents },
  {
    key: 'net',
    head: 'Before tax',
    figure: true,
    cell: ({ netMinor, currency }) => moneyText(netMinor, currency),
  },
  { key: 'tax', head: 'Tax', figure: true, cell: ({ taxMinor, currency }) => moneyText(taxMinor, currency) },
  {
    key: 'gross',
    head: 'With tax',
    figure: true,
    cell: ({ netMinor, taxMinor, currency }) => moneyText(netMinor + taxMinor, currency),
  },
]

const purchaseColumns: readonly Column<Purchase>[] = [
  { key: 'day', head: 'Receipt of', cell: ({ day }) => dayText(day) },
  { key: 'supplier', head: 'Supplier', cell: ({ supplier }) => supplier ?? '' },
  { key: 'what', head: 'What', cell: ({ text, kind }) => `${text} (${kindWords[kind].toLowerCase()})` },
  {
    key: 'job',
    head: 'Job',
    cell: ({ jobId, jobNumber }) => <Link to={`/jobs/${jobId}/costs`}>{jobNumber}</Link>,
  },
  {
    key: 'net',
    head: 'Before tax',
    figure: true,
    cell: ({ netMinor, currency }) => moneyText(netMinor, currency),
  },
  { key: 'tax', head: 'Tax', figure: true, cell: ({ taxMinor, currency }) => moneyText(taxMinor, currency) },
  {
    key: 'receipt',
    head: 'Receipt',
    cell: ({ receiptId, text }) =>
      receiptId === null ? (
        <span className={words.quiet}>none</span>
      ) : (
        <Button kind="quiet" aria-label={`Show the receipt of ${text}`} onClick={() => openPaper(receiptId)}>
          Show
        </Button>
      ),
  },
]
