import type { KeyboardEvent } from 'react'
import type { Answers } from '../../main/api/types.ts'
import { addDays } from '../../main/trade/calendar.ts'
import { useNotice } from '../parts/notice.tsx'
import { api, useAct } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import { blocksOf, type Moving, madeText } from './lifted.ts'

type Plan = Answers['benches']['plan']

/** For the block that has the focus: M lifts it, Alt with the arrows moves it at once. */
export function useMoveByKeys(plan: Plan, moving: Moving) {
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
    (effect) => say(madeText(effect, today)),
  )
  const steps: Readonly<Record<string, readonly [days: number, minutes: number]>> = {
    ArrowLeft: [0, -15],
    ArrowRight: [0, 15],
    ArrowUp: [-1, 0],
    ArrowDown: [1, 0],
  }
  const onKeyDown = (event: KeyboardEvent) => {
    const step = event.altKey ? steps[event.key] : undefined
    const link = event.target instanceof Element ? event.target.closest('[data-block]') : null
    const bookings = blocksOf(plan)
    const booking = bookings.find((one) => one.id === Number(link?.getAttribute('data-block')))
    if (booking && !event.altKey && !event.ctrlKey && !event.metaKey && event.key.toLowerCase() === 'm') {
      event.preventDefault()
      moving.lift(booking, plan, 'keys')
      return
    }
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
