import { Link, useParams } from 'react-router'
import type { Answers } from '../../main/api/types.ts'
import { addDays } from '../../main/trade/calendar.ts'
import words from '../look/words.module.css'
import { Asked } from '../parts/asked.tsx'
import { Button, ButtonLink, ButtonRow } from '../parts/button.tsx'
import { clockText, durationText, massText, numberText, weekdayText } from '../parts/format.ts'
import { Empty, Page, Part } from '../parts/page.tsx'
import { type Column, Table } from '../parts/table.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import { openPaper } from '../shell/papers.ts'
import { useStudio } from '../shell/studio.ts'

type DaySheet = Answers['benches']['daySheet']
type SheetBlock = DaySheet['blocks'][number]
type SheetSpin = SheetBlock['spins'][number]
type Step = SheetBlock['steps'][number]

/** A bench's day in its order: set changes step by step, rigs, spins, marks, and where each sample stands. */
export function DaySheetPage() {
  const { today } = useStudio()
  const { benchId: id, day = today } = useParams()
  const benchId = Number(id)
  const answer = useAsk(['benches', 'daySheet', benchId, day], () =>
    api.benches.daySheet.query({ benchId, day }),
  )
  const print = useAct(
    () => api.benches.printDaySheet.mutate({ benchId, day }),
    ({ attachmentId }) => openPaper(attachmentId),
  )
  return (
    <Asked of={answer} isPage>
      {(sheet) => (
        <Page
          title={`${sheet.bench}, ${weekdayText(day)}`}
          lead={leadOf(sheet)}
          acts={
            <ButtonRow>
              <ButtonLink to={`/bench/${benchId}/${addDays(day, -1)}`}>Day before</ButtonLink>
              <ButtonLink to={`/bench/${benchId}/${addDays(day, 1)}`}>Day after</ButtonLink>
              <ButtonLink to={`/bench?day=${day}`}>Bench plan</ButtonLink>
              <ButtonLink to={`/bench/calendar?bench=${benchId}&day=${day}`}>For a calendar</ButtonLink>
              <Button kind="main" busy={print.busy} onClick={() => print.run()}>
                Print the day sheet
              </Button>
            </ButtonRow>
          }
        >
          {sheet.blocks.length === 0 ? (
            <Empty
              sentence="Nothing is booked on this bench on this day."
              act={<ButtonLink to={`/bench?day=${day}`}>Book on the bench plan</ButtonLink>}
            />
          ) : (
            sheet.blocks.map((block) => <Block key={block.id} block={block} />)
          )}
        </Page>
      )}
    </Asked>
  )
}

/** What is true of the whole day: what stands from before, that the bench is closed, that the clocks change. */
function leadOf({ standingBefore, closed, clockChange }: DaySheet): string {
  return [
    closed && `The bench is closed: ${closed}.`,
    clockChange,
    standingBefore
      ? `At the start stands ${standingBefore.rig}, revision ${standingBefore.revision}, since ${weekdayText(standingBefore.since)}.`
      : 'Nothing is noted that stands at the start.',
  ]
    .filter(Boolean)
    .join(' ')
}

function Block({ block }: { readonly block: SheetBlock }) {
  const settings = [...new Set(block.spins.map((spin) => spin.settings))]
  const isDialledAlike = settings.length === 1
  return (
    <Part title={`${clockText(block.fromMinute)} to ${clockText(block.toMinute)}, ${titleOf(block)}`}>
      <p className={words.quiet}>
        {[
          durationText(block.minutes),
          block.people.map(({ name }) => name).join(', '),
          isDialledAlike && settings[0],
          missingText(block),
          block.kind === 'set change' &&
            block.steps.length === 0 &&
            'nothing is to be moved, this rig stands already',
          block.overruledReason && `booked all the same, because: ${block.overruledReason}`,
        ]
          .filter(Boolean)
          .join('; ')}
      </p>
      {block.steps.length > 0 ? <Steps block={block} /> : null}
      {block.spins.length > 0 ? (
        <Table
          caption="Spins in the order they are turned"
          rows={block.spins}
          keyOf={({ shootId }) => shootId}
          columns={spinColumns(isDialledAlike)}
          empty={null}
        />
      ) : null}
      {block.jobId === null || block.spins.length === 0 ? null : (
        <p>
          <Link to={`/jobs/${block.jobId}/takes`}>{`Takes of ${block.jobNumber ?? 'the job'}`}</Link>
        </p>
      )}
    </Part>
  )
}

/** Says where a set change takes longer than is booked for it. */
function missingText({ kind, missingMinutes }: SheetBlock): string | false {
  if (missingMinutes === 0) return false
  if (kind === 'spins')
    return `no time for the set change is booked; it takes ${durationText(missingMinutes)}`
  return `the steps take ${durationText(missingMinutes)} longer than is booked`
}

/** What is moved before the block's rig stands, and what to take care of while doing it. */
function Steps({ block }: { readonly block: SheetBlock }) {
  const rows = block.steps.map((step, index) => ({ ...step, number: index + 1 }))
  return (
    <>
      <Table
        caption="What is moved, in this order"
        rows={rows}
        keyOf={({ number }) => number}
        columns={stepColumns}
        empty={null}
      />
      {block.cautions.map(({ about, sentence, pointer }) => (
        <p key={about} className={words.quiet}>{`${sentence} ${pointer}`}</p>
      ))}
    </>
  )
}

const stepColumns: readonly Column<Step & { readonly number: number }>[] = [
  { key: 'what', head: 'Move', cell: ({ number, what }) => `${number}. ${what}` },
  { key: 'from', head: 'From', cell: ({ from, part }) => from ?? (part === 'settings' ? '' : 'brought') },
  { key: 'to', head: 'To', cell: ({ to }) => to ?? 'taken away' },
  {
    key: 'minutes',
    head: 'Minutes',
    figure: true,
    tight: true,
    cell: ({ minutes }) => numberText(minutes, 1),
  },
]

function spinColumns(isDialledAlike: boolean): readonly Column<SheetSpin>[] {
  return [
    {
      key: 'code',
      head: 'Code',
      cell: ({ codes }) => <span className={words.mono}>{codes.join(', ')}</span>,
    },
    { key: 'name', head: 'Spin', cell: ({ name }) => name },
    {
      key: 'frames',
      head: 'Frames and marks',
      cell: (spin) =>
        [framesOf(spin), !isDialledAlike && spin.settings && `dial ${spin.settings}`]
          .filter(Boolean)
          .join('; '),
    },
    {
      key: 'pose',
      head: 'Start and handling',
      cell: ({ startPose, handling }) => [startPose, ...handling].filter(Boolean).join('; '),
    },
    {
      key: 'mass',
      head: 'Mass',
      figure: true,
      cell: ({ massG }) => (massG === null ? 'not known' : massText(massG)),
    },
    { key: 'sample', head: 'Sample', cell: ({ places }) => places.join(', ') },
  ]
}

function titleOf(block: SheetBlock): string {
  const rig = block.rig === null ? 'no rig planned' : `${block.rig}, revision ${block.revision ?? 1}`
  if (block.kind === 'other') return block.title ?? ''
  return block.kind === 'set change' ? `set change to ${rig}` : `${block.client ?? ''}, ${rig}`
}

function framesOf(spin: SheetSpin): string {
  return spin.rows
    .map(({ viewAngleDeg, framesPerTurn, overlapFrames, marks }) => {
      const frames = overlapFrames > 0 ? `${framesPerTurn} + ${overlapFrames}` : String(framesPerTurn)
      return `${spin.rows.length > 1 ? `${viewAngleDeg}°: ` : ''}${frames}${marks ? `, ${marks}` : ''}`
    })
    .join('; ')
}
