import { type RefObject, useEffect, useRef, useState } from 'react'
import { Link } from 'react-router'
import { weekdayOf } from '../../main/trade/calendar.ts'
import { isLate } from '../../main/trade/standing.ts'
import { JobRing } from '../jobs/jobRing.tsx'
import { jobSentence } from '../jobs/jobWords.ts'
import { Dialog } from '../parts/dialog.tsx'
import { countText, numberText } from '../parts/format.ts'
import css from './board.module.css'
import { type BoardJob, moveOverBoard } from './boardKeys.ts'
import {
  daysOf,
  daysThatFit,
  type Folded,
  type Hung,
  hang,
  lanePx,
  pitchPx,
  placeOf,
  type StationLine,
  type Stretch,
  slotPx,
} from './hanging.ts'
import { crossingDay, FoldedCrossing, JobAtCrossing, JobLines } from './hungJob.tsx'
import { Tape } from './tape.tsx'

/** Every open job at the crossing of its station and its due day, hung on a tape of days. */
export function Chart(props: {
  readonly jobs: readonly BoardJob[]
  readonly today: string
  readonly firstDay: string
  readonly onDrag: (job: BoardJob | undefined) => void
}) {
  const { jobs, today, firstDay } = props
  const chart = useRef<HTMLElement>(null)
  const widthPx = useWidth(chart)
  const [stop, setStop] = useState<string>()
  const [open, setOpen] = useState<{ readonly station: string; readonly fold: Folded<BoardJob> }>()
  const stretch = { firstDay, days: daysThatFit(widthPx) }
  const lines = hang(jobs, stretch)
  const firstKey = lines.flatMap(({ hung }) => hung)[0]?.key
  const isThere = lines.some(({ hung }) => hung.some(({ key }) => key === stop))
  return (
    <section
      className={css.chart}
      aria-label="Open jobs by station and due day"
      onKeyDown={(event) => {
        if (moveOverBoard(event.key, chart)) event.preventDefault()
      }}
    >
      <div className={css.tapeLine}>
        <span />
        <Tape stretch={stretch} today={today} widthPx={widthPx} />
      </div>
      <section ref={chart} className={css.lines} aria-label="Stations">
        {lines.map((line) => (
          <Line
            key={line.station}
            {...{ line, stretch, today }}
            stop={isThere ? stop : firstKey}
            onStop={setStop}
            onOpen={(fold) => setOpen({ station: line.station, fold })}
            onDrag={props.onDrag}
          />
        ))}
      </section>
      {open ? <OpenedCrossing {...open} today={today} onClose={() => setOpen(undefined)} /> : null}
    </section>
  )
}

function Line(props: {
  readonly line: StationLine<BoardJob>
  readonly stretch: Stretch
  readonly today: string
  readonly stop: string | undefined
  readonly onStop: (key: string) => void
  readonly onOpen: (fold: Folded<BoardJob>) => void
  readonly onDrag: (job: BoardJob | undefined) => void
}) {
  const { line, today, stretch } = props
  const height = line.hung.length === 0 ? 26 : line.lanes * lanePx + 2
  return (
    <div className={css.line} data-line>
      <h2 className={line.jobs === 0 ? `${css.station} ${css.none}` : css.station}>
        {line.station}
        {line.jobs > 0 ? <span className={css.count}>{numberText(line.jobs)}</span> : null}
      </h2>
      <div className={css.crossings} style={{ height }}>
        <Rules stretch={stretch} today={today} />
        {line.hung.map((hung) => (
          <HungAt key={hung.key} {...props} hung={hung} isStop={props.stop === hung.key} />
        ))}
      </div>
    </div>
  )
}

function HungAt(props: {
  readonly hung: Hung<BoardJob>
  readonly line: StationLine<BoardJob>
  readonly today: string
  readonly isStop: boolean
  readonly onStop: (key: string) => void
  readonly onOpen: (fold: Folded<BoardJob>) => void
  readonly onDrag: (job: BoardJob | undefined) => void
}) {
  const { hung, today, isStop } = props
  const onStop = () => props.onStop(hung.key)
  return hung.kind === 'job' ? (
    <JobAtCrossing {...{ hung, today, isStop, onStop }} onDrag={props.onDrag} />
  ) : (
    <FoldedCrossing
      {...{ hung, today, isStop, onStop }}
      station={props.line.station}
      onOpen={() => props.onOpen(hung)}
    />
  )
}

/** The tape's marks carried down a station's line: one per week, the edges, and today. */
function Rules({ stretch, today }: { readonly stretch: Stretch; readonly today: string }) {
  const end = slotPx + stretch.days * pitchPx
  const days = daysOf(stretch)
  return (
    <>
      {days.map((day, index) =>
        weekdayOf(day) === 1 || index === 0 ? (
          <i key={day} className={css.rule} style={{ left: slotPx + index * pitchPx }} />
        ) : null,
      )}
      <i className={css.rule} style={{ left: end }} />
      <i className={css.rule} style={{ left: end + slotPx }} />
      {days.includes(today) ? (
        <i className={`${css.rule} ${css.today}`} style={{ left: placeOf(today, stretch) }} />
      ) : null}
    </>
  )
}

function OpenedCrossing(props: {
  readonly station: string
  readonly fold: Folded<BoardJob>
  readonly today: string
  readonly onClose: () => void
}) {
  const { station, fold, today } = props
  const late = fold.jobs.filter((job) => isLate(job, today)).length
  return (
    <Dialog
      title={`${countText(fold.jobs.length, 'job')} at ${station}, ${crossingDay(fold, today)}`}
      onClose={props.onClose}
    >
      {late > 0 ? <p>{`${countText(late, 'job is', 'jobs are')} late.`}</p> : null}
      <ul className={css.opened}>
        {fold.jobs.map((job) => (
          <li key={job.jobId}>
            <Link to={`/jobs/${job.jobId}`} className={css.openedJob} title={jobSentence(job, today)}>
              <JobRing job={job} today={today} />
              <JobLines job={job} today={today} />
              <span className={css.openedTitle}>{job.title}</span>
            </Link>
          </li>
        ))}
      </ul>
    </Dialog>
  )
}

const labelPx = 108

/** The width of the crossings, which follows the window. */
function useWidth(element: RefObject<HTMLElement | null>): number {
  const [widthPx, setWidth] = useState(0)
  useEffect(() => {
    const observed = element.current
    if (!observed) return
    const observer = new ResizeObserver(([entry]) => {
      if (entry) setWidth(Math.max(0, Math.floor(entry.contentRect.width) - labelPx))
    })
    observer.observe(observed)
    return () => observer.disconnect()
  }, [element])
  return widthPx
}
