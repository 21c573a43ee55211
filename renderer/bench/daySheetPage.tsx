import { Link, useParams } from 'react-router'
import type { Answers } from '../../main/api/types.ts'
import { addDays } from '../../main/trade/calendar.ts'
import words from '../look/words.module.css'
import { Asked } from '../parts/asked.tsx'
import { Button, ButtonLink, ButtonRow } from '../parts/button.tsx'
import { clockText, weekdayText } from '../parts/format.ts'
import { Empty, Page, Part } from '../parts/page.tsx'
import { Table } from '../parts/table.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import { openPaper } from '../shell/papers.ts'
import { useStudio } from '../shell/studio.ts'

type DaySheet = Answers['benches']['daySheet']
type SheetBlock = DaySheet['blocks'][number]
type SheetSpin = SheetBlock['spins'][number]

/** A bench's day in its order: set changes, rigs, spins, marks, and where each sample stands. */
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
          acts={
            <ButtonRow>
              <ButtonLink to={`/bench/${benchId}/${addDays(day, -1)}`}>Day before</ButtonLink>
              <ButtonLink to={`/bench/${benchId}/${addDays(day, 1)}`}>Day after</ButtonLink>
              <ButtonLink to={`/bench?day=${day}`}>Bench plan</ButtonLink>
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

function Block({ block }: { readonly block: SheetBlock }) {
  const settings = [...new Set(block.spins.map((spin) => spin.settings))]
  return (
    <Part title={`${clockText(block.fromMinute)} to ${clockText(block.toMinute)}, ${titleOf(block)}`}>
      <p className={words.quiet}>
        {[
          block.people.map(({ name }) => name).join(', '),
          settings.length === 1 && settings[0],
          block.overruledReason && `booked all the same, because: ${block.overruledReason}`,
        ]
          .filter(Boolean)
          .join('; ')}
      </p>
      {block.spins.length > 0 ? (
        <Table
          caption="Spins in the order they are turned"
          rows={block.spins}
          keyOf={({ shootId }) => shootId}
          columns={[
            {
              key: 'code',
              head: 'Code',
              cell: ({ codes }) => <span className={words.mono}>{codes.join(', ')}</span>,
            },
            { key: 'name', head: 'Spin', cell: ({ name }) => name },
            { key: 'frames', head: 'Frames and marks', cell: framesOf },
            {
              key: 'pose',
              head: 'Start',
              cell: ({ startPose, handling }) => [startPose, ...handling].filter(Boolean).join('; '),
            },
            { key: 'sample', head: 'Sample', cell: ({ places }) => places.join(', ') },
          ]}
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
