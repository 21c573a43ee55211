import { useEffect, useState } from 'react'
import { useSearchParams } from 'react-router'
import { addDays, daysBetween, weekdayOf, weekLabel } from '../../main/trade/calendar.ts'
import { Asked } from '../parts/asked.tsx'
import { Button, ButtonLink, ButtonRow } from '../parts/button.tsx'
import { DateField } from '../parts/field.tsx'
import { FieldLine } from '../parts/form.tsx'
import { dayText, weekdayText } from '../parts/format.ts'
import { Columns, Empty, Page } from '../parts/page.tsx'
import { api, useAsk } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import { BenchDays } from './benchDays.tsx'
import css from './benchPlan.module.css'
import { BookingDialog } from './bookingDialog.tsx'
import { blocksOf, useMoving } from './lifted.ts'
import { MovePanel } from './movePanel.tsx'
import { OtherBlockDialog } from './otherBlockDialog.tsx'
import { WaitingSpins } from './waitingSpins.tsx'

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
  const moving = useMoving()
  const { lifted } = moving
  const [toLift, setToLift] = useState<number>()
  useEffect(() => {
    // Only once its dialog is gone, which gives the focus back where it was.
    if (toLift === undefined || bookingId || !answer.data) return
    const block = blocksOf(answer.data).find(({ id }) => id === toLift)
    setToLift(undefined)
    if (block) moving.lift(block, answer.data, 'keys')
  })
  const isShown = !lifted || (firstDay <= lifted.day && lifted.day < addDays(firstDay, days))
  useEffect(() => {
    // Days that a lifted block is taken to by keys come into view.
    if (!isShown && lifted) change({ day: lifted.day })
  })
  return (
    <Page
      title="Bench"
      lead={days === 1 ? weekdayText(day) : weekText(firstDay, today)}
      acts={
        <ButtonRow>
          <Button onClick={() => setBooking(true)}>Book something else</Button>
          <ButtonLink to="/bench/freed">Before the goods</ButtonLink>
          <ButtonLink to="/bench/out">What if something is out?</ButtonLink>
          <ButtonLink to="/bench/plan">Plan what waits</ButtonLink>
          <ButtonLink to="/bench/calendar">For a calendar</ButtonLink>
          <ButtonLink to="/bench/cards">Takes on cards</ButtonLink>
        </ButtonRow>
      }
    >
      <Columns aside>
        <div className={css.plan}>
          <FieldLine>
            <DateField label="Go to" value={day} onChange={(to) => (to ? change({ day: to }) : undefined)} />
            <div className={css.steps}>
              <ButtonRow>
                <Button onClick={() => change({ day: addDays(firstDay, -days) })}>Back</Button>
                <Button onClick={() => change({ day: '' })}>Today</Button>
                <Button onClick={() => change({ day: addDays(firstDay, days) })}>Further</Button>
                <Button onClick={() => change({ view: days === 1 ? '' : 'day' })}>
                  {days === 1 ? 'Whole week' : 'One day'}
                </Button>
              </ButtonRow>
            </div>
          </FieldLine>
          <Asked of={answer}>
            {(plan) =>
              plan.benches.length === 0 ? (
                <Empty
                  sentence="No bench is in use. Add one with its opening hours first."
                  act={<ButtonLink to="/studio/benches">Benches and hours</ButtonLink>}
                />
              ) : (
                <BenchDays plan={plan} search={params.toString()} moving={moving} />
              )
            }
          </Asked>
        </div>
        <div className={lifted ? css.sideHeld : css.side}>
          {answer.data && answer.data.benches.length > 0 ? (
            <MovePanel moving={moving} benches={answer.data.benches} />
          ) : null}
          <div hidden={lifted !== undefined}>
            <WaitingSpins fromDay={bookFrom} />
          </div>
        </div>
      </Columns>
      {bookingId ? (
        <BookingDialog
          bookingId={bookingId}
          onClose={() => change({ booking: '' })}
          onLift={() => {
            setToLift(bookingId)
            change({ booking: '' })
          }}
        />
      ) : null}
      {isBooking ? <OtherBlockDialog day={bookFrom} onClose={() => setBooking(false)} /> : null}
    </Page>
  )
}

/** A week as said: `Week 48, 23 Nov to 29 Nov`, by ISO 8601. */
function weekText(monday: string, today: string): string {
  const week = Number(weekLabel(monday).slice(-2))
  return `Week ${week}, ${dayText(monday, today)} to ${dayText(addDays(monday, 6), today)}`
}
