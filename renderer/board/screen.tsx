import { useState } from 'react'
import { useNavigate } from 'react-router'
import type { Answers, Asks } from '../../main/api/types.ts'
import { addDays } from '../../main/trade/calendar.ts'
import { isLate } from '../../main/trade/standing.ts'
import { HoldDialog } from '../jobs/jobDialogs.tsx'
import { JobTable } from '../jobs/jobTable.tsx'
import { priorityWords } from '../jobs/jobWords.ts'
import { Asked } from '../parts/asked.tsx'
import { Button, ButtonLink, ButtonRow } from '../parts/button.tsx'
import { CheckField, SelectField } from '../parts/field.tsx'
import { countText, durationText } from '../parts/format.ts'
import { useNotice } from '../parts/notice.tsx'
import { Empty, Page } from '../parts/page.tsx'
import { rowsPerPage, type TablePlace, useTablePlace } from '../parts/tablePlace.ts'
import { api, useAct, useAsk } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import { RunningTakes } from '../takes/runningTakes.tsx'
import css from './board.module.css'
import { type BoardJob, useBoardLetters } from './boardKeys.ts'
import { Chart } from './chart.tsx'
import { type DropPlace, DropPlaces } from './dropPlaces.tsx'

/** Days of tape before today: what is late by less than a week is told apart day by day. */
const daysBeforeToday = 5

/** What now, what is late, what is missing: every open job, hung on the tape or as a list. */
export function Screen() {
  const { today } = useStudio()
  const place = useTablePlace({ key: 'due', descending: false })
  const isList = place.filter('as') === 'list'
  const filter = filterOf(place)
  const answer = useAsk(['board', 'jobs', filter], () => api.board.jobs.query(filter))
  const jobs = answer.data?.jobs ?? []
  const toggle = () => place.setFilter('as', isList ? '' : 'list')
  const acts = useHandActs(jobs)
  const navigate = useNavigate()
  const [dragged, setDragged] = useState<BoardJob>()
  useBoardLetters({
    l: toggle,
    c: () => void navigate('/call'),
    p: (jobId) => acts.nextPriority(jobId),
    h: (jobId) => acts.holdOrRelease(jobId),
  })
  return (
    <Page
      title="Board"
      lead={<Sum jobs={jobs} today={today} />}
      acts={<Acts isList={isList} onToggle={toggle} />}
    >
      <RunningTakes />
      {jobs.length > 0 || isFiltered(place) ? <Filters place={place} isList={isList} today={today} /> : null}
      {isList ? (
        <BoardList place={place} filter={filter} today={today} />
      ) : (
        <Asked of={answer}>
          {(data) =>
            data.jobs.length === 0 ? (
              <NothingOpen isFiltered={isFiltered(place)} isList={isList} />
            ) : (
              <Chart
                jobs={data.jobs}
                today={data.today}
                firstDay={place.filter('from') || addDays(data.today, -daysBeforeToday)}
                onDrag={setDragged}
              />
            )
          }
        </Asked>
      )}
      {dragged ? (
        <DropPlaces
          isHeld={dragged.holdUntil !== null}
          onDrop={(drop) => {
            setDragged(undefined)
            acts.drop(dragged, drop)
          }}
        />
      ) : null}
      {acts.dialog}
    </Page>
  )
}

function Sum({ jobs, today }: { readonly jobs: readonly BoardJob[]; readonly today: string }) {
  const late = jobs.filter((job) => isLate(job, today)).length
  const minutes = jobs.reduce((sum, job) => sum + job.benchMsLeft, 0) / 60_000
  return (
    <>
      {`${countText(jobs.length, 'open job')}, `}
      <span className={late > 0 ? css.late : undefined}>{late === 0 ? 'none late' : `${late} late`}</span>
      {minutes > 0 ? `, ${durationText(minutes)} at the bench left` : ''}
    </>
  )
}

function Acts(props: { readonly isList: boolean; readonly onToggle: () => void }) {
  return (
    <ButtonRow>
      <Button onClick={props.onToggle} aria-keyshortcuts="l">
        {props.isList ? 'As a chart (l)' : 'As a list (l)'}
      </Button>
      <ButtonLink to="/shelf">Shelf</ButtonLink>
      <ButtonLink to="/call">A call (c)</ButtonLink>
      <ButtonLink to="/jobs/new" kind="main">
        New job
      </ButtonLink>
    </ButtonRow>
  )
}

function Filters(props: { readonly place: TablePlace; readonly isList: boolean; readonly today: string }) {
  const { place, today } = props
  const choices = useAsk(['board', 'choices'], () => api.board.choices.query())
  const from = place.filter('from') || addDays(today, -daysBeforeToday)
  const pull = (days: number) => place.setFilter('from', addDays(from, days))
  return (
    <div className={css.filters}>
      <SelectField
        label="Client"
        empty="Every client"
        value={place.filter('client')}
        options={(choices.data?.clients ?? []).map(({ id, name }) => ({ value: String(id), label: name }))}
        onChange={(client) => place.setFilter('client', client)}
      />
      <SelectField
        label="Bench"
        empty="Every bench"
        value={place.filter('bench')}
        options={(choices.data?.benches ?? []).map(({ id, name }) => ({ value: String(id), label: name }))}
        onChange={(bench) => place.setFilter('bench', bench)}
      />
      <CheckField
        label="Late only"
        checked={place.filter('late') === 'yes'}
        onChange={(checked) => place.setFilter('late', checked ? 'yes' : '')}
      />
      {props.isList ? null : (
        <div className={css.pull}>
          <Button onClick={() => pull(-7)}>A week back</Button>
          <Button disabled={place.filter('from') === ''} onClick={() => place.setFilter('from', '')}>
            Today
          </Button>
          <Button onClick={() => pull(7)}>A week on</Button>
        </div>
      )}
    </div>
  )
}

type Filter = NonNullable<Asks['board']['jobs']>

function filterOf(place: TablePlace): Filter {
  const id = (name: string) => (place.filter(name) === '' ? null : Number(place.filter(name)))
  return { clientId: id('client'), benchId: id('bench'), lateOnly: place.filter('late') === 'yes' }
}

function isFiltered(place: TablePlace): boolean {
  return ['client', 'bench', 'late'].some((name) => place.filter(name) !== '')
}

function NothingOpen(props: { readonly isFiltered: boolean; readonly isList: boolean }) {
  return props.isFiltered ? (
    <Empty
      sentence="No open job matches what you narrowed the board to."
      act={<ButtonLink to={props.isList ? '/board?as=list' : '/board'}>Show every open job</ButtonLink>}
    />
  ) : (
    <Empty
      sentence="Nothing is open. A job begins with an enquiry: who asks, and which products are to be spun."
      act={
        <ButtonLink to="/jobs/new" kind="main">
          New job
        </ButtonLink>
      }
    />
  )
}

type ListOrder = NonNullable<NonNullable<Asks['jobs']['list']>['order']>

function BoardList(props: { readonly place: TablePlace; readonly filter: Filter; readonly today: string }) {
  const { place, filter } = props
  const ask = {
    ...filter,
    order: place.sort.key as ListOrder,
    descending: place.sort.descending,
    page: { offset: (place.page - 1) * rowsPerPage, limit: rowsPerPage },
  }
  const answer = useAsk<Answers['jobs']['list']>(['jobs', 'list', ask], () => api.jobs.list.query(ask))
  return (
    <JobTable
      caption="Open jobs"
      answer={answer}
      place={place}
      today={props.today}
      empty={<NothingOpen isFiltered={isFiltered(place)} isList />}
    />
  )
}

const nextPriority = { normal: 'high', high: 'low', low: 'normal' } as const

/** Priority and hold by hand: by key on the job that has the focus, or by dragging it. */
function useHandActs(jobs: readonly BoardJob[]) {
  const say = useNotice()
  const { today } = useStudio()
  const [holding, setHolding] = useState<BoardJob>()
  const prioritise = useAct(
    ({ job, priority }: { job: BoardJob; priority: BoardJob['priority'] }) =>
      api.jobs.setPriority.mutate({ jobId: job.jobId, priority }),
    (_, { job, priority }) => say(`${job.title} for ${job.clientName}: ${priorityWords[priority]}.`),
  )
  const release = useAct(
    (job: BoardJob) => api.jobs.release.mutate({ jobId: job.jobId }),
    (_, job) => say(`${job.title} is no longer on hold.`),
  )
  const find = (jobId: number | undefined) => jobs.find((job) => job.jobId === jobId)
  const holdOrRelease = (job: BoardJob | undefined) => {
    if (job?.holdUntil) release.run(job)
    else if (job) setHolding(job)
  }
  return {
    nextPriority: (jobId: number | undefined) => {
      const job = find(jobId)
      if (job) prioritise.run({ job, priority: nextPriority[job.priority] })
      else say('Go to a job first: Tab and the arrow keys move over the board.')
    },
    holdOrRelease: (jobId: number | undefined) => {
      if (find(jobId)) holdOrRelease(find(jobId))
      else say('Go to a job first: Tab and the arrow keys move over the board.')
    },
    drop: (job: BoardJob, place: DropPlace) => {
      if (place === 'hold' || place === 'release') holdOrRelease(job)
      else prioritise.run({ job, priority: place })
    },
    dialog: holding ? <HoldDialog job={holding} today={today} onClose={() => setHolding(undefined)} /> : null,
  }
}
