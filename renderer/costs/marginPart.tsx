import words from '../look/words.module.css'
import { durationText, moneyText, percentText } from '../parts/format.ts'
import { Part } from '../parts/page.tsx'
import { type Column, Table } from '../parts/table.tsx'
import type { JobCosts } from './costWords.ts'

type Margin = JobCosts['margin']

interface Line {
  readonly what: string
  readonly median: string
  readonly p80: string
  readonly after: string
}

const time = (ms: number) => (ms === 0 ? '' : durationText(ms / 60_000))

/** The margin at the quote, at the median and at 80 %, beside the margin after all. */
export function MarginPart({ data }: { readonly data: JobCosts }) {
  const { margin, currency } = data
  return (
    <Part title="What it leaves">
      <Table
        caption="Margin at the quote beside the margin after all"
        columns={columns}
        rows={linesOf(margin, currency)}
        keyOf={({ what }) => what}
        empty={null}
      />
      <Notes data={data} />
    </Part>
  )
}

const columns: readonly Column<Line>[] = [
  { key: 'what', head: 'Before tax', cell: ({ what }) => what },
  { key: 'median', head: 'Quoted, median', figure: true, cell: ({ median }) => median },
  { key: 'p80', head: 'Quoted, 80 %', figure: true, cell: ({ p80 }) => p80 },
  { key: 'after', head: 'After all', figure: true, cell: ({ after }) => after },
]

function linesOf({ atQuote, after }: Margin, currency: string): readonly Line[] {
  const money = (minor: number | undefined) => (minor === undefined ? '' : moneyText(minor, currency))
  const left = (of: { readonly marginMinor: number; readonly marginPpm: number | null } | undefined) => {
    if (of === undefined) return ''
    const share = of.marginPpm === null ? '' : `, ${percentText(of.marginPpm / 1e6)}`
    return `${moneyText(of.marginMinor, currency)}${share}`
  }
  const both = (what: string, ms: number | undefined, afterMs: number | undefined): Line => {
    const quoted = time(ms ?? 0)
    return { what, median: quoted, p80: quoted, after: time(afterMs ?? 0) }
  }
  const second =
    (atQuote?.secondMs ?? 0) > 0 ? [both('Second person', atQuote?.secondMs, after?.secondMs)] : []
  return [
    {
      what: 'At the bench',
      median: time(atQuote?.benchMedianMs ?? 0),
      p80: time(atQuote?.benchP80Ms ?? 0),
      after: time(after?.benchMs ?? 0),
    },
    both('At the desk', atQuote?.deskMs, after?.deskMs),
    ...second,
    { what: 'Hours at the studio’s rates', median: '', p80: '', after: money(after?.hoursMinor) },
    { what: 'Costs', median: '', p80: '', after: money(after?.costsMinor) },
    {
      what: 'Hours and costs',
      median: money(atQuote?.costMedianMinor),
      p80: money(atQuote?.costP80Minor),
      after: money(after === null ? undefined : after.hoursMinor + after.costsMinor),
    },
    {
      what: 'Price',
      median: money(atQuote?.priceMinor),
      p80: money(atQuote?.priceMinor),
      after: money(after?.priceMinor),
    },
    {
      what: 'Margin',
      median: left(atQuote?.median),
      p80: left(atQuote?.p80),
      after: left(after ?? undefined),
    },
  ]
}

function Notes({ data: { margin, currency } }: { readonly data: JobCosts }) {
  const { atQuote, after, people } = margin
  const notes = [
    atQuote === null ? 'No quote is accepted yet, so there is nothing to compare with.' : '',
    after === null
      ? 'The studio’s rates and costs are in another currency than this job, so the margin after all is not stated.'
      : '',
    people.length === 0
      ? 'Nothing was turned yet.'
      : `At the bench, from the takes: ${people
          .map(
            ({ name, turnedMs, preparedMs }) =>
              `${name} ${durationText((turnedMs + preparedMs) / 60_000)}, of it turning ${durationText(turnedMs / 60_000)}`,
          )
          .join('; ')}. Preparing between takes counts; a break or a night counts as the studio’s own times.`,
    after === null
      ? ''
      : 'Nobody clocks the desk and a second person: their time after all is the quoted one.',
    after !== null && after.stillPlannedMinor > 0
      ? `${moneyText(after.stillPlannedMinor, currency)} of the costs is only planned so far.`
      : '',
    after === null ? '' : 'The price after all is what is billed and left to bill, with the costs passed on.',
  ]
  return <p className={words.quiet}>{notes.filter(Boolean).join(' ')}</p>
}
