import { Link } from 'react-router'
import { Button } from '../parts/button.tsx'
import { clockText, countText, weekdayText } from '../parts/format.ts'
import { useNotice } from '../parts/notice.tsx'
import { Columns, Empty, Part } from '../parts/page.tsx'
import { Table } from '../parts/table.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import { cancelledText } from './blockWords.ts'
import css from './jobBench.module.css'
import { RigPlanning } from './rigPlanning.tsx'
import { WaitingSpins } from './waitingSpins.tsx'

/** A job's station at the bench: which rig its spins stand on, and when they are turned. */
export function JobBench({ jobId }: { readonly jobId: number }) {
  const { today } = useStudio()
  return (
    <Columns aside>
      <div className={css.parts}>
        <RigPlanning jobId={jobId} />
        <Booked jobId={jobId} />
      </div>
      <WaitingSpins jobId={jobId} fromDay={today} />
    </Columns>
  )
}

function Booked({ jobId }: { readonly jobId: number }) {
  const { today } = useStudio()
  const answer = useAsk(['bookings', 'ofJob', jobId], () => api.bookings.ofJob.query({ jobId }))
  const say = useNotice()
  const cancel = useAct(
    (bookingId: number) => api.bookings.cancel.mutate({ bookingId }),
    ({ partlyBooked }) => say(cancelledText(partlyBooked)),
  )
  return (
    <Part title="Booked">
      <Table
        caption="Blocks booked for this job"
        rows={answer.data}
        keyOf={({ id }) => id}
        columns={[
          {
            key: 'day',
            head: 'Day',
            cell: ({ id, day }) => (
              <Link to={`/bench?day=${day}&booking=${id}`}>{weekdayText(day, today)}</Link>
            ),
          },
          {
            key: 'time',
            head: 'Time',
            figure: true,
            tight: true,
            cell: ({ fromMinute, toMinute }) => `${clockText(fromMinute)} to ${clockText(toMinute)}`,
          },
          { key: 'bench', head: 'Bench', cell: ({ bench }) => bench },
          {
            key: 'what',
            head: 'What',
            cell: ({ kind, spins, rig }) =>
              kind === 'set change'
                ? `set change to ${rig ?? 'another rig'}`
                : `${countText(spins.length, 'spin')}${rig ? ` on ${rig}` : ''}`,
          },
          {
            key: 'cancel',
            head: 'Cancel',
            isHeadSpoken: true,
            tight: true,
            cell: ({ id, day, kind }) =>
              kind === 'spins' && day >= today ? (
                <Button
                  kind="quiet"
                  aria-label={`Cancel the block on ${weekdayText(day, today)}`}
                  onClick={() => cancel.run(id)}
                >
                  Cancel
                </Button>
              ) : null,
          },
        ]}
        empty={<Empty sentence="No block is booked. Plan the rig first, then book the spins that wait." />}
      />
    </Part>
  )
}
