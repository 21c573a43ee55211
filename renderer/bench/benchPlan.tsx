import { type KeyboardEvent, useState } from 'react'
import { Link, useSearchParams } from 'react-router'
import type { Answers } from '../../main/api/types.ts'
import { addDays, daysBetween, minutesOfDay, weekdayOf, weekLabel } from '../../main/trade/calendar.ts'
import words from '../look/words.module.css'
import { Asked } from '../parts/asked.tsx'
import { Button, ButtonLink, ButtonRow } from '../parts/button.tsx'
import { type DayBlock, DayStrip, type Stretch } from '../parts/dayStrip.tsx'
import { DateField } from '../parts/field.tsx'
import { FieldLine, FormRefusal } from '../parts/form.tsx'
import { clockText, countText, dayText, durationText, weekdayText } from '../parts/format.ts'
import { useNotice } from '../parts/notice.tsx'
import { Columns, Empty, Page } from '../parts/page.tsx'
import { api, useAct, useAsk } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import css from './benchPlan.module.css'
import { BookingDialog } from './bookingDialog.tsx'
import { OtherBlockDialog } from './otherBlockDialog.tsx'
import { WaitingSpins } from './waitingSpins.tsx'

type Plan = Answers['benches']['plan']
type BenchDay = Plan['benches'][number]['days'][number]
type Booking = BenchDay['bookings'][number]

/** What is booked on every bench, a week or a day at a time, and what still waits for a place. */
export function BenchPlan() {
  const { today } = useStudio()
  const [params, setParams] = useSearchParams()
  const day = params.get('day') ?? today
  const days = params.get('view') === 'day' ? 1 : 7
  const firstDay = days === 1 ? day : addDays(day, 1 - weekdayOf(day))
  // Nothing new is booked in the past.
  const bookFrom = daysBetween(today, firstDay) < 0 ? today : firstDay
  const change = (values: Record<string, string>) =>
    setParams(
      (before) => {
        for (const [name, value] of Object.entries(values)) {
          if (value) before.set(name, value)
          else before.delete(name)
        }
        return before
      },
      { preventScrollReset: true },
    )
  const answer = useAsk(['benches', 'plan', firstDay, days], () => api.benches.plan.query({ firstDay, days }))
  const [isBooking, setBooking] = useState(false)
  const bookingId = Number(params.get('booking'))
  return (
    <Page
      title="Bench"
      lead={days === 1 ? weekdayText(day) : weekText(firstDay, today)}
      acts={
        <ButtonRow>
          <Button onClick={() => change({ day: addDays(firstDay, -days) })}>Back</Button>
          <Button onClick={() => change({ day: '' })}>Today</Button>
          <Button onClick={() => change({ day: addDays(firstDay, days) })}>Further</Button>
          <Button onClick={() => change({ view: days === 1 ? '' : 'day' })}>
            {days === 1 ? 'Whole week' : 'One day'}
          </Button>
          <Button onClick={() => setBooking(true)}>Book something else</Button>
          <ButtonLink to="/bench/out">What if something is out?</ButtonLink>
          <ButtonLink to="/bench/plan">Plan what waits</ButtonLink>
        </ButtonRow>
      }
    >
      <Columns aside>
        <div className={css.plan}>
          <FieldLine>
            <DateField label="Go to" value={day} onChange={(to) => (to ? change({ day: to }) : undefined)} />
          </FieldLine>
          <Asked of={answer}>
            {(plan) =>
              plan.benches.length === 0 ? (
                <Empty
                  sentence="No bench is in use. Add one with its opening hours first."
                  act={<ButtonLink to="/studio/benches">Benches and hours</ButtonLink>}
                />
              ) : (
                <Days plan={plan} search={params} />
              )
            }
          </Asked>
        </div>
        <WaitingSpins fromDay={bookFrom} />
      </Columns>
      {bookingId ? <BookingDialog bookingId={bookingId} onClose={() => change({ booking: '' })} /> : null}
      {isBooking ? <OtherBlockDialog day={bookFrom} onClose={() => setBooking(false)} /> : null}
    </Page>
  )
}

/** A week as said: `Week 48, 23 Nov to 29 Nov`, by ISO 8601. */
function weekText(monday: string, today: string): string {
  const week = Number(weekLabel(monday).slice(-2))
  return `Week ${week}, ${dayText(monday, today)} to ${dayText(addDays(monday, 6), today)}`
}

function Days(props: { readonly plan: Plan; readonly search: URLSearchParams }) {
  const { plan } = props
  const { today } = useStudio()
  const hours = hoursShown(plan)
  const days = plan.benches[0]?.days.map(({ day }) => day) ?? []
  const keys = useMoveByKeys(plan)
  return (
    <>
      <p className={words.quiet}>
        A block opens with Enter. Alt with left and right moves the chosen block by 15 minutes, Alt with up
        and down by a day.
      </p>
      <ol className={css.days} onKeyDown={keys.onKeyDown}>
        {days.map((day) => (
          <li key={day} className={css.day}>
            <h2 className={day === today ? css.today : undefined}>
              {weekdayText(day, today)}
              {day === today ? ', today' : ''}
            </h2>
            <DueMarks due={plan.due.filter((mark) => mark.day === day)} day={day} />
            <BenchLines benches={plan.benches} day={day} hours={hours} search={props.search} />
            {keys.refusal && keys.refusedDay === day ? (
              <FormRefusal
                sentence={`${keys.refusal.sentence}${keys.refusal.canOverrule ? ' Open the block to move it all the same.' : ''}`}
              />
            ) : null}
          </li>
        ))}
      </ol>
    </>
  )
}

function BenchLines(props: {
  readonly benches: Plan['benches']
  readonly day: string
  readonly hours: Stretch
  readonly search: URLSearchParams
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
            hours={props.hours}
            search={props.search}
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

function BenchLine(props: {
  readonly benchId: number
  readonly name: string
  readonly benchDay: BenchDay
  readonly hours: Stretch
  readonly search: URLSearchParams
}) {
  const { benchDay, hours, name } = props
  const { today } = useStudio()
  const now = useNowMinute()
  const booked = benchDay.bookings.reduce((sum, block) => sum + minutesOf(block), 0)
  return (
    <div className={css.bench}>
      <div className={css.benchName}>
        <Link to={`/bench/${props.benchId}/${benchDay.day}`}>{name}</Link>
        <span className={words.quiet}>{booked > 0 ? durationText(booked) : 'free'}</span>
      </div>
      <DayStrip
        {...hours}
        label={`${name}, ${weekdayText(benchDay.day, today)}`}
        open={benchDay.closed === null ? benchDay.open : []}
        blocks={blocksOf(benchDay, hours, props.search)}
        {...(benchDay.day === today && now !== undefined ? { nowMinute: now } : {})}
      />
      {benchDay.closed ? <p className={words.quiet}>{`Closed: ${benchDay.closed}`}</p> : null}
    </div>
  )
}

function blocksOf(benchDay: BenchDay, hours: Stretch, search: URLSearchParams): readonly DayBlock[] {
  return benchDay.bookings.map((booking): DayBlock => {
    const to = new URLSearchParams(search)
    to.set('booking', String(booking.id))
    return {
      key: booking.id,
      label: labelOf(booking),
      kind: booking.kind === 'set change' ? 'changeover' : 'shoot',
      fromMinute: Math.max(booking.fromMinute, hours.fromMinute),
      toMinute: Math.min(booking.toMinute, hours.toMinute),
      ...(booking.kind === 'set change' ? {} : { to: `?${to.toString()}` }),
    }
  })
}

/** What a block is called on the plan: who for, how many spins, on what rig. */
export function labelOf(booking: Booking): string {
  if (booking.kind === 'other') return booking.title ?? ''
  if (booking.kind === 'set change') return `Set change to ${booking.rig ?? 'another rig'}`
  const spins = booking.spins.length === 1 ? booking.spins[0]?.name : `${booking.spins.length} spins`
  return [booking.client, spins, booking.rig ?? 'no rig planned'].filter(Boolean).join(', ')
}

/** So many due jobs of a day are named; more of them are on the board. */
const duesShown = 6

function DueMarks({ due, day }: { readonly due: Plan['due']; readonly day: string }) {
  const { today } = useStudio()
  if (due.length === 0) return null
  return (
    <ul className={css.due} aria-label={`Due on ${weekdayText(day, today)}`}>
      {due.slice(0, duesShown).map((mark) => (
        <li key={mark.jobId} className={day < today ? words.late : undefined}>
          <Link to={`/jobs/${mark.jobId}/bench`}>{`${mark.number} due`}</Link>
          {`, ${mark.client}, ${durationText(mark.benchMsLeft / 60_000)} left at the bench`}
        </li>
      ))}
      {due.length > duesShown ? (
        <li className={day < today ? words.late : undefined}>
          <Link to="/board?as=list">{`and ${countText(due.length - duesShown, 'more job')} due`}</Link>
        </li>
      ) : null}
    </ul>
  )
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

function minutesOf(booking: Booking): number {
  return (Date.parse(booking.endsAt) - Date.parse(booking.startsAt)) / 60_000
}

function useNowMinute(): number | undefined {
  const { timeZone } = useStudio()
  const state = useAsk(['start', 'state'], () => api.start.state.query())
  return state.data ? minutesOfDay(state.data.now, timeZone) : undefined
}

/** Moves the block that has the focus: Alt with the arrows. */
function useMoveByKeys(plan: Plan) {
  const say = useNotice()
  const { today } = useStudio()
  const move = useAct(
    ({
      movedFromDay: _,
      ...to
    }: {
      readonly bookingId: number
      readonly benchId: number
      readonly day: string
      readonly fromMinute: number
      readonly movedFromDay: string
    }) => api.bookings.move.mutate(to),
    (_, { day, fromMinute }) => say(`Moved to ${weekdayText(day, today)}, ${clockText(fromMinute)}.`),
  )
  const steps: Readonly<Record<string, readonly [days: number, minutes: number]>> = {
    ArrowLeft: [0, -15],
    ArrowRight: [0, 15],
    ArrowUp: [-1, 0],
    ArrowDown: [1, 0],
  }
  const onKeyDown = (event: KeyboardEvent) => {
    const step = event.altKey ? steps[event.key] : undefined
    const link = event.target instanceof Element ? event.target.closest('a[href*="booking="]') : null
    const id = Number(new URLSearchParams(link?.getAttribute('href')?.split('?')[1]).get('booking'))
    const bookings = plan.benches.flatMap((bench) => bench.days).flatMap(({ bookings: all }) => all)
    const booking = bookings.find((one) => one.id === id)
    if (!step || !booking || move.busy) return
    event.preventDefault()
    const setChange = bookings.find(
      (one) =>
        one.kind === 'set change' &&
        one.benchId === booking.benchId &&
        one.endsAt === booking.startsAt &&
        one.jobId === booking.jobId,
    )
    const [days, minutes] = step
    move.run({
      bookingId: booking.id,
      benchId: booking.benchId,
      movedFromDay: booking.day,
      day: addDays(booking.day, days),
      fromMinute: Math.max(0, (setChange ?? booking).fromMinute + minutes),
    })
  }
  return { onKeyDown, refusal: move.refusal, refusedDay: move.input?.movedFromDay }
}
