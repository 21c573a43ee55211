import { useState } from 'react'
import { Link } from 'react-router'
import type { Answers, Asks } from '../../main/api/types.ts'
import { nameWithVariant } from '../../main/trade/productName.ts'
import { movesAllowed, type SampleMove, sampleStateWords } from '../../main/trade/samples.ts'
import words from '../look/words.module.css'
import { Button, ButtonRow } from '../parts/button.tsx'
import { SelectField } from '../parts/field.tsx'
import { dayIn, dayText, moneyText } from '../parts/format.ts'
import { Empty, Page } from '../parts/page.tsx'
import { useSelection } from '../parts/selection.ts'
import { type Column, Table } from '../parts/table.tsx'
import { rowsPerPage, useTablePlace } from '../parts/tablePlace.ts'
import { api, useAsk } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import { MoveDialog, moveWords } from './moveDialog.tsx'

type ShelfLine = Answers['samples']['shelf']['lines'][number]
type ShelfAsk = NonNullable<Asks['samples']['shelf']>
type Part = NonNullable<ShelfAsk['part']>

const parts: readonly { readonly value: Part; readonly label: string }[] = [
  { value: 'all', label: 'everything that is here' },
  { value: 'done', label: 'what can leave' },
  { value: 'overdue', label: 'what should be back already' },
]

const nothing: Record<Part, string> = {
  all: 'Nothing of any client is on the shelf. What arrives is taken in on the samples page of its job.',
  done: 'Nothing here can leave yet: every sample’s job still waits for a spin’s yes.',
  overdue: 'No client waits for samples to come back.',
}

/** What is on the shelf, of whatever job: whose it is, where it lies, and when it should go back. */
export function Screen() {
  const { today, timeZone } = useStudio()
  const place = useTablePlace({ key: 'place', descending: false })
  const part = (place.filter('part') || 'all') as Part
  const ask = {
    part,
    order: place.sort.key as NonNullable<ShelfAsk['order']>,
    descending: place.sort.descending,
    page: { offset: (place.page - 1) * rowsPerPage, limit: rowsPerPage },
  }
  const answer = useAsk(['samples', 'shelf', ask], () => api.samples.shelf.query(ask))
  const selection = useSelection<number>()
  const [move, setMove] = useState<SampleMove>()
  const lines = answer.data?.lines ?? []
  const chosen = lines.filter(({ sampleId }) => selection.has(sampleId))
  return (
    <Page title="Shelf" lead="Clients’ products in our hands.">
      <ButtonRow>
        <SelectField
          label="Show"
          value={part}
          options={parts}
          onChange={(value) => {
            place.setFilter('part', value === 'all' ? '' : value)
            selection.clear()
          }}
        />
      </ButtonRow>
      {chosen.length > 0 ? (
        <ButtonRow>
          {movesAllowed(chosen.map(({ state }) => state)).map((each) => (
            <Button key={each} onClick={() => setMove(each)}>
              {moveWords[each].act}
            </Button>
          ))}
        </ButtonRow>
      ) : (answer.data?.total ?? 0) > 0 ? (
        <p className={words.quiet}>Tick samples to say what happened to them.</p>
      ) : null}
      <Table
        caption="Samples on the shelf"
        columns={columnsFor(today, timeZone)}
        rows={answer.data?.lines}
        keyOf={({ sampleId }) => sampleId}
        selection={selection}
        total={answer.data?.total ?? 0}
        counted={['sample', 'samples']}
        place={place}
        stale={answer.stale}
        empty={<Empty sentence={nothing[part]} />}
      />
      {move ? (
        <MoveDialog
          move={move}
          samples={chosen.map(({ sampleId, code }) => ({ id: sampleId, code }))}
          onClose={() => {
            setMove(undefined)
            selection.clear()
          }}
        />
      ) : null}
    </Page>
  )
}

function columnsFor(today: string, timeZone: string): readonly Column<ShelfLine>[] {
  return [
    { key: 'place', head: 'Place', sort: 'place', cell: ({ place }) => place ?? 'not said' },
    {
      key: 'code',
      head: 'Code',
      tight: true,
      sort: 'code',
      cell: ({ code }) => <span className={words.mono}>{code}</span>,
    },
    { key: 'name', head: 'Product', cell: ({ name, variant }) => nameWithVariant(name, variant) },
    { key: 'client', head: 'Client', sort: 'client', cell: ({ clientName }) => clientName },
    {
      key: 'job',
      head: 'Job',
      tight: true,
      sort: 'job',
      cell: ({ jobId, jobNumber }) => <Link to={`/jobs/${jobId}/samples`}>{jobNumber}</Link>,
    },
    { key: 'state', head: 'Stands', tight: true, cell: ({ state }) => sampleStateWords[state] },
    { key: 'condition', head: 'Condition', cell: ({ condition }) => condition },
    {
      key: 'arrived',
      head: 'Came',
      figure: true,
      tight: true,
      sort: 'arrived',
      cell: ({ arrivedAt }) => dayText(dayIn(timeZone, new Date(arrivedAt)), today),
    },
    {
      key: 'value',
      head: 'Value',
      figure: true,
      tight: true,
      cell: ({ valueMinor, currency }) => (valueMinor === null ? '' : moneyText(valueMinor, currency)),
    },
    { key: 'fate', head: 'Afterwards', tight: true, cell: ({ fate }) => fate },
    {
      key: 'returnBy',
      head: 'Due back',
      figure: true,
      tight: true,
      sort: 'returnBy',
      cell: ({ returnByDay }) =>
        returnByDay === null ? null : (
          <span className={returnByDay < today ? words.late : undefined}>{dayText(returnByDay, today)}</span>
        ),
    },
    { key: 'done', head: 'Can leave', tight: true, cell: ({ isDone }) => (isDone ? 'yes' : '') },
  ]
}
