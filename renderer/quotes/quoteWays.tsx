import { type ByDays, daysText } from '../../main/trade/dayLines.ts'
import { framesText, type TurnRow } from '../../main/trade/turn/rows.ts'
import type { DeliveredPicture } from '../../main/trade/turnLook.ts'
import { rowLooks, stepPx } from '../../main/trade/turnLook.ts'
import words from '../look/words.module.css'
import { Button } from '../parts/button.tsx'
import { durationText, moneyText, withUnit } from '../parts/format.ts'
import { type Column, Table } from '../parts/table.tsx'
import type { QuoteOfJob, Way } from './quoteValue.ts'
import { stateWords, wayWords } from './stateWords.ts'

/** One way of doing the job, as it stands: kept, or while it is typed. */
export interface WayRow {
  readonly way: Way
  readonly state: QuoteOfJob['quote']['state']
  readonly rows: readonly TurnRow[]
  readonly benchMedianMs: number
  readonly benchP80Ms: number
  readonly deskMs: number
  readonly netMinor: number
  readonly totalMinor: number
  /** 0 where the studio's cost is not known. */
  readonly costP80Minor: number
  /** What it comes to sold by bench days, where it is still to be decided. */
  readonly byDays?: ByDays | null
}

/** The figures of a kept way. */
export function keptWay({ quote }: QuoteOfJob): WayRow {
  return quote
}

/** The ways of a job side by side: frames, how they look, hours, price and what is left of it at the 80 % time. */
export function WaysTable(props: {
  readonly ways: readonly WayRow[]
  readonly shown: Way
  readonly onShow: (way: Way) => void
  readonly currency: string
  readonly spins: number
  readonly picture: DeliveredPicture | null
}) {
  const { currency, picture, spins, shown } = props
  const columns: readonly Column<WayRow>[] = [
    {
      key: 'way',
      head: 'Way',
      cell: (row) => (
        <>
          <Button kind="quiet" aria-pressed={row.way === shown} onClick={() => props.onShow(row.way)}>
            {wayWords[row.way]}
          </Button>
          {row.state === 'draft' || row.state === 'sent' ? null : (
            <span className={words.quiet}>{` ${stateWords[row.state].toLowerCase()}`}</span>
          )}
        </>
      ),
    },
    {
      key: 'frames',
      head: 'Frames a turn',
      figure: true,
      cell: ({ rows }) => turnsText(rows),
    },
    { key: 'look', head: 'Looks', cell: ({ rows }) => rowLooks(rows).join(', ') },
    {
      key: 'px',
      head: 'A step on screen',
      figure: true,
      cell: ({ rows }) => (picture ? stepsText(rows, picture) : ''),
    },
    {
      key: 'hours',
      head: 'Bench, median to 80 %',
      figure: true,
      cell: (row) => `${hours(row.benchMedianMs)} to ${hours(row.benchP80Ms)}`,
    },
    { key: 'desk', head: 'Desk', figure: true, cell: (row) => hours(row.deskMs) },
    {
      key: 'spin',
      head: 'A spin',
      figure: true,
      cell: (row) => (spins > 0 ? moneyText(Math.round(row.netMinor / spins), currency) : ''),
    },
    { key: 'net', head: 'Before tax', figure: true, cell: (row) => moneyText(row.netMinor, currency) },
    ...(props.ways.some(({ byDays }) => byDays) ? [byDaysColumn(currency)] : []),
    {
      key: 'margin',
      head: 'Left at 80 %',
      figure: true,
      cell: (row) =>
        row.costP80Minor === 0 ? (
          ''
        ) : (
          <span className={row.netMinor < row.costP80Minor ? words.late : undefined}>
            {moneyText(row.netMinor - row.costP80Minor, currency)}
          </span>
        ),
    },
  ]
  return (
    <Table
      caption="Ways of doing this job"
      columns={columns}
      rows={props.ways}
      keyOf={({ way }) => way}
      empty={null}
    />
  )
}

function byDaysColumn(currency: string): Column<WayRow> {
  return {
    key: 'days',
    head: 'By bench days',
    figure: true,
    cell: ({ byDays }) =>
      byDays ? `${daysText(byDays.halfDays)}, ${moneyText(byDays.netMinor, currency)}` : '',
  }
}

const hours = (ms: number) => durationText(ms / 60_000)

/** '244', '2 × 244' or '72 and 36'. */
export function turnsText(rows: readonly TurnRow[]): string {
  const frames = framesText(rows)
  const isOneFigure = new Set(rows.map(({ framesPerTurn }) => framesPerTurn)).size === 1
  return isOneFigure && rows.length > 1 ? `${rows.length} × ${frames}` : frames
}

function stepsText(rows: readonly TurnRow[], picture: DeliveredPicture): string {
  const steps = rows.map(({ framesPerTurn }) => withUnit(stepPx(framesPerTurn, picture), 'px', 1))
  return [...new Set(steps)].join(', ')
}
