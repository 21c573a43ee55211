import type { ReactNode } from 'react'
import type { Answers } from '../../main/api/types.ts'
import { isLate } from '../../main/trade/standing.ts'
import words from '../look/words.module.css'
import { dayText, moneyText } from '../parts/format.ts'
import { type Column, Table } from '../parts/table.tsx'
import type { TablePlace } from '../parts/tablePlace.ts'
import type { Answer } from '../shell/api.ts'
import { JobRing } from './jobRing.tsx'
import { benchLeftText, dueWords, priorityWords, spinsTurned } from './jobWords.ts'

export type JobLine = Answers['jobs']['list']['lines'][number]

/** Jobs as a list that the studio sorts and pages. */
export function JobTable(props: {
  readonly caption: string
  readonly answer: Answer<Answers['jobs']['list']>
  readonly place: TablePlace
  readonly today: string
  readonly empty: ReactNode
}) {
  const { answer } = props
  return (
    <Table
      caption={props.caption}
      columns={columnsFor(props.today)}
      rows={answer.data?.lines}
      keyOf={(job) => job.jobId}
      to={(job) => `/jobs/${job.jobId}`}
      total={answer.data?.total ?? 0}
      counted={['job', 'jobs']}
      place={props.place}
      stale={answer.stale}
      empty={props.empty}
    />
  )
}

function columnsFor(today: string): readonly Column<JobLine>[] {
  return [
    { key: 'title', head: 'Job', sort: 'title', cell: (job) => job.title },
    { key: 'number', head: 'Number', tight: true, sort: 'number', cell: (job) => job.number },
    { key: 'client', head: 'Client', sort: 'client', cell: (job) => job.clientName },
    { key: 'station', head: 'Station', tight: true, sort: 'station', cell: (job) => job.station },
    { key: 'waitsFor', head: 'Waits for', cell: (job) => <WaitsFor job={job} today={today} /> },
    {
      key: 'due',
      head: 'Due',
      figure: true,
      tight: true,
      sort: 'due',
      cell: (job) => (
        <span className={isLate(job, today) ? words.late : undefined}>{dueWords(job, today)}</span>
      ),
    },
    {
      key: 'benchLeft',
      head: 'Bench left',
      figure: true,
      tight: true,
      sort: 'benchLeft',
      cell: benchLeftText,
    },
    {
      key: 'value',
      head: 'Value',
      figure: true,
      tight: true,
      sort: 'value',
      cell: (job) => (job.valueMinor === 0 ? '' : moneyText(job.valueMinor, job.currency)),
    },
    {
      key: 'turned',
      head: 'Turned',
      figure: true,
      tight: true,
      cell: (job) => (job.spins === 0 ? '' : `${spinsTurned(job)} of ${job.spins}`),
    },
    {
      key: 'priority',
      head: 'Priority',
      tight: true,
      sort: 'priority',
      cell: (job) => (job.priority === 'normal' ? '' : priorityWords[job.priority]),
    },
    {
      key: 'ring',
      head: 'Spins turned, drawn',
      isHeadSpoken: true,
      tight: true,
      cell: (job) => <JobRing job={job} today={today} size={22} />,
    },
  ]
}

/** What a job waits for, or until when and why it is on hold. */
export function WaitsFor({ job, today }: { readonly job: JobLine; readonly today: string }) {
  if (job.holdUntil === null) return job.waitsFor
  return (
    <span className={words.quiet}>{`on hold until ${dayText(job.holdUntil, today)}: ${job.holdReason}`}</span>
  )
}
