import { memo, useEffect } from 'react'
import { Link } from 'react-router'
import type { Answers } from '../../main/api/types.ts'
import { minutesOfDay } from '../../main/trade/calendar.ts'
import words from '../look/words.module.css'
import { type DayBlock, DayStrip, type Ghost, type Stretch } from '../parts/dayStrip.tsx'
import { FormRefusal } from '../parts/form.tsx'
import { clockText, durationText, weekdayText } from '../parts/format.ts'
import { api, useAsk } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import css from './benchPlan.module.css'
import { type BenchDay, labelOf, notesOf, type PlanBlock } from './blockWords.ts'
import { DayMarks } from './dayMarks.tsx'
import { useDragging } from './dragging.ts'
import { ghostsOf } from './ghosts.ts'
import type { Moving } from './lifted.ts'
import { useMoveByKeys } from './moveByKeys.ts'

type Plan = Answers['benches']['plan']

/** The days of the plan, a strip for each bench, on which blocks are moved by pointer and by keys. */
export function BenchDays(props: { readonly plan: Plan; readonly search: string; readonly moving: Moving }) {
  const { plan, moving } = props
  const { today } = useStudio()
  const hours = hoursShown(plan)
  const days = plan.benches[0]?.days.map(({ day }) => day) ?? []
  const keys = useMoveByKeys(plan, moving)
  const dragging = useDragging(plan, hours, moving)
  const now = useNowMinute()
  const over = ghostsOf(moving, plan)
  useFocusAfter(moving, plan)
  return (
    <ol
      className={moving.lifted ? `${css.days} ${css.moving}` : css.days}
      onKeyDown={keys.onKeyDown}
      {...dragging}
    >
      {days.map((day) => (
        <li key={day} className={css.day}>
          <h2 className={day === today ? css.today : undefined}>
            {weekdayText(day, today)}
            {day === today ? ', today' : ''}
          </h2>
          <DayMarks plan={plan} day={day} />
          <BenchLines
            benches={plan.benches}
            day={day}
            hours={hours}
            search={props.search}
            now={day === today ? now : undefined}
            over={over}
            tellsChanges={days.length === 1}
          />
          {keys.refusal && keys.refusedDay === day ? (
            <FormRefusal
              sentence={`${keys.refusal.sentence}${keys.refusal.canOverrule ? ' Open the block to move it all the same.' : ''}`}
            />
          ) : null}
        </li>
      ))}
    </ol>
  )
}

function BenchLines(props: {
  readonly benches: Plan['benches']
  readonly day: string
  readonly hours: Stretch
  readonly search: string
  readonly now: number | undefined
  readonly over: ReturnType<typeof ghostsOf>
  readonly tellsChanges: boolean
}) {
  const lines = props.benches.flatMap((bench) =>
    bench.days.filter(({ day }) => day === props.day).map((benchDay) => ({ ...bench, benchDay })),
  )
  const { today } = useStudio()
  const shut = lines.filter(({ benchDay }) => isShut(benchDay, today))
  return (
    <div className={css.benches}>
      {lines
        .filter(({ benchDay }) => !isShut(benchDay, today))
        .map(({ benchId, name, benchDay }) => (
          <BenchLine
            key={benchId}
            benchId={benchId}
            name={name}
            benchDay={benchDay}
            shownFrom={props.hours.fromMinute}
            shownTo={props.hours.toMinute}
            search={props.search}
            now={props.now}
            tellsChanges={props.tellsChanges}
            ghosts={props.over.ghosts.get(`${benchId} ${props.day}`)}
            leaving={
              benchDay.bookings.some(({ id }) => props.over.leaving.has(id)) ? props.over.leaving : undefined
            }
          />
        ))}
      {shut.length > 0 ? <p className={words.quiet}>{shut.map(shutText).join('; ')}</p> : null}
    </div>
  )
}

/** Nothing is booked and nothing can be any more: the day needs no strip. */
function isShut({ bookings, open, closed, day }: BenchDay, today: string): boolean {
  return bookings.length === 0 && (open.length === 0 || closed !== null || day < today)
}

function shutText({ name, benchDay }: { readonly name: string; readonly benchDay: BenchDay }): string {
  if (benchDay.closed !== null) return `${name} closed, ${benchDay.closed}`
  return `${name} ${benchDay.open.length === 0 ? 'not open' : 'had nothing booked'}`
}

interface Line {
  readonly benchId: number
  readonly name: string
  readonly benchDay: BenchDay
  readonly shownFrom: number
  readonly shownTo: number
  readonly search: string
  readonly now: number | undefined
  readonly ghosts: readonly Ghost[] | undefined
  readonly leaving: ReadonlySet<number> | undefined
  /** Says the set changes in words under the strip, where a single day is shown: on the strip there is seldom room. */
  readonly tellsChanges: boolean
}

// Only the strips that a lifted block comes over or leaves are drawn anew: a week of many benches has hundreds of blocks.
const BenchLine = memo(function BenchLine(props: Line) {
  const { benchDay, name, now } = props
  const { today } = useStudio()
  const booked = benchDay.bookings.reduce((sum, block) => sum + minutesOf(block), 0)
  const free = benchDay.day < today ? [] : freeOn(benchDay, benchDay.day === today ? (now ?? 0) : 0)
  const freeMinutes = free.reduce((sum, { fromMinute, toMinute }) => sum + toMinute - fromMinute, 0)
  return (
    <div className={css.bench}>
      <div className={css.benchName}>
        <Link to={`/bench/${props.benchId}/${benchDay.day}`}>{name}</Link>
        <span className={words.quiet}>
          {booked > 0 ? `${durationText(booked)} booked` : 'nothing booked'}
        </span>
        {benchDay.day < today || benchDay.closed !== null ? null : (
          <span className={words.quiet}>
            {freeMinutes > 0 ? `${durationText(freeMinutes)} free` : 'nothing free'}
          </span>
        )}
      </div>
      <DayStrip
        fromMinute={props.shownFrom}
        toMinute={props.shownTo}
        label={`${name}, ${weekdayText(benchDay.day, today)}`}
        open={benchDay.closed === null ? benchDay.open : []}
        free={free.filter(({ fromMinute, toMinute }) => toMinute - fromMinute >= shortestNamed)}
        blocks={blocksOn(props, today)}
        strip={`${props.benchId} ${benchDay.day}`}
        {...(props.ghosts ? { ghosts: props.ghosts } : {})}
        {...(now === undefined ? {} : { nowMinute: now })}
      />
      {props.tellsChanges ? <SetChanges bookings={benchDay.bookings} /> : null}
      {benchDay.closed ? <p className={words.quiet}>{`Closed: ${benchDay.closed}`}</p> : null}
    </div>
  )
})

function SetChanges({ bookings }: Pick<BenchDay, 'bookings'>) {
  const changes = bookings.filter(({ kind }) => kind === 'set change')
  if (changes.length === 0) return null
  return (
    <ul className={css.changes} aria-label="Set changes">
      {changes.map((change) => (
        <li key={change.id}>
          {`${clockText(change.fromMinute)}: ${labelOf(change)}, ${durationText(minutesOf(change))}`}
        </li>
      ))}
    </ul>
  )
}

/** Free stretches under this many minutes are not named on the strip. */
const shortestNamed = 30

/** Opening hours from a minute on, without what is booked. */
function freeOn({ open, closed, bookings }: BenchDay, fromMinute: number): readonly Stretch[] {
  if (closed !== null) return []
  return open.flatMap((hours) => {
    const free: Stretch[] = []
    let at = Math.max(hours.fromMinute, fromMinute)
    for (const block of bookings) {
      const end = Math.min(block.fromMinute, hours.toMinute)
      if (end > at) free.push({ fromMinute: at, toMinute: end })
      at = Math.max(at, block.toMinute)
    }
    if (hours.toMinute > at) free.push({ fromMinute: at, toMinute: hours.toMinute })
    return free
  })
}

function blocksOn(
  { benchDay, shownFrom, shownTo, search, leaving }: Line,
  today: string,
): readonly DayBlock[] {
  return benchDay.bookings.map((booking): DayBlock => {
    const to = new URLSearchParams(search)
    to.set('booking', String(booking.id))
    return {
      key: booking.id,
      label: labelOf(booking),
      kind: booking.kind === 'set change' ? 'changeover' : 'shoot',
      fromMinute: Math.max(booking.fromMinute, shownFrom),
      toMinute: Math.min(booking.toMinute, shownTo),
      late: booking.lateDays > 0,
      notes: notesOf(booking, today),
      leaves: leaving?.has(booking.id) ?? false,
      ...(booking.kind === 'set change' ? {} : { to: `?${to.toString()}`, movable: booking.id }),
    }
  })
}

/** One range of hours for every strip, so that a time stands at the same place on all of them. */
function hoursShown(plan: Plan): Stretch {
  const days = plan.benches.flatMap((bench) => bench.days)
  const stretches: readonly Stretch[] = [
    ...days.flatMap(({ open }) => open),
    ...days.flatMap(({ bookings }) => bookings),
  ]
  if (stretches.length === 0) return { fromMinute: 480, toMinute: 1080 }
  return {
    fromMinute: Math.floor(Math.min(...stretches.map(({ fromMinute }) => fromMinute)) / 60) * 60,
    toMinute: Math.ceil(Math.max(...stretches.map(({ toMinute }) => toMinute)) / 60) * 60,
  }
}

function minutesOf(booking: PlanBlock): number {
  return (Date.parse(booking.endsAt) - Date.parse(booking.startsAt)) / 60_000
}

function useNowMinute(): number | undefined {
  const { timeZone } = useStudio()
  const state = useAsk(['start', 'state'], () => api.start.state.query())
  return state.data ? minutesOfDay(state.data.now, timeZone) : undefined
}

/** A block that was moved by keys has the focus again, where it lies now. */
function useFocusAfter({ lastId, lifted }: Moving, plan: Plan): void {
  useEffect(() => {
    if (lastId === undefined || lifted) return
    const isElsewhere = document.activeElement?.closest('a, button, input, select, textarea, dialog')
    if (!isElsewhere) document.querySelector<HTMLElement>(`[data-block="${lastId}"]`)?.focus()
  }, [lastId, lifted, plan])
}
