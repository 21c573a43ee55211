import { Link } from 'react-router'
import { isLate } from '../../main/trade/standing.ts'
import { JobRing } from '../jobs/jobRing.tsx'
import { benchLeftText, jobSentence, nextActText } from '../jobs/jobWords.ts'
import { dayText } from '../parts/format.ts'
import css from './board.module.css'
import type { BoardJob } from './boardKeys.ts'
import { type Folded, type HungJob, lanePx, pitchPx } from './hanging.ts'

/** A job on the board: its ring at the crossing, and beside it client, hours left and next act. */
export function JobAtCrossing(props: {
  readonly hung: HungJob<BoardJob>
  readonly today: string
  /** The one of all that hang here that Tab comes to. */
  readonly isStop: boolean
  readonly onStop: () => void
  readonly onDrag: (job: BoardJob | undefined) => void
}) {
  const { hung, today } = props
  const { job } = hung
  const sentence = jobSentence(job, today)
  return (
    <Link
      to={`/jobs/${job.jobId}`}
      className={hung.isBare ? `${css.hung} ${css.bare}` : css.hung}
      style={placeStyle(hung)}
      // Its words are its name where it has any; the whole sentence is its description.
      aria-label={hung.isBare ? sentence : undefined}
      title={sentence}
      tabIndex={props.isStop ? 0 : -1}
      data-hung={hung.x}
      onFocus={props.onStop}
      draggable
      onDragStart={(event) => {
        event.dataTransfer.setData('text/plain', job.number)
        event.dataTransfer.effectAllowed = 'move'
        props.onDrag(job)
      }}
      onDragEnd={() => props.onDrag(undefined)}
    >
      <span className={job.holdUntil === null ? css.ring : `${css.ring} ${css.held}`}>
        <JobRing job={job} today={today} />
      </span>
      {hung.isBare ? null : <JobLines job={job} today={today} />}
    </Link>
  )
}

/** Who the job is for, how many hours at the bench are left, and what it waits for. */
export function JobLines({ job, today }: { readonly job: BoardJob; readonly today: string }) {
  const left = benchLeftText(job)
  return (
    <span className={css.words}>
      <span className={css.client}>
        {job.priority === 'high' ? <b className={css.ahead}>ahead </b> : null}
        {job.priority === 'low' ? <span className={css.last}>last </span> : null}
        {job.clientName}
      </span>
      <span className={css.act}>
        {isLate(job, today) ? <span className={css.late}>late · </span> : null}
        {left ? <span className={css.hours}>{`${left} · `}</span> : null}
        {job.holdUntil === null ? nextActText(job) : `held to ${dayText(job.holdUntil, today)}`}
      </span>
    </span>
  )
}

/** A crowded crossing: how many jobs hang there; it opens to their list. */
export function FoldedCrossing(props: {
  readonly hung: Folded<BoardJob>
  readonly station: string
  readonly today: string
  /** The one of all that hang here that Tab comes to. */
  readonly isStop: boolean
  readonly onStop: () => void
  readonly onOpen: () => void
}) {
  const { hung, today } = props
  const late = hung.jobs.some((job) => isLate(job, today))
  return (
    <button
      type="button"
      className={late ? `${css.hung} ${css.fold} ${css.foldLate}` : `${css.hung} ${css.fold}`}
      style={placeStyle(hung)}
      aria-label={`${hung.jobs.length} jobs at ${props.station}, ${crossingDay(hung, today)}. Open them.`}
      aria-haspopup="dialog"
      tabIndex={props.isStop ? 0 : -1}
      data-hung={hung.x}
      onFocus={props.onStop}
      onClick={props.onOpen}
    >
      {hung.jobs.length}
    </button>
  )
}

/** The day of a crossing in words: one day, a stretch of days at an edge, or none. */
export function crossingDay({ jobs }: { readonly jobs: readonly BoardJob[] }, today: string): string {
  const days = jobs.flatMap(({ dueDay }) => dueDay ?? []).sort()
  const [first, last] = [days[0], days.at(-1)]
  if (!first || !last) return 'no due day'
  return first === last
    ? `due ${dayText(first, today)}`
    : `due ${dayText(first, today)} to ${dayText(last, today)}`
}

function placeStyle({ x, lane }: { readonly x: number; readonly lane: number }) {
  return { left: x - pitchPx / 2, top: lane * lanePx }
}
