import { useEffect, useRef, useState } from 'react'
import type { Answers } from '../../main/api/types.ts'
import { addDays } from '../../main/trade/calendar.ts'
import { clockText, countText, weekdayText } from '../parts/format.ts'
import { useNotice } from '../parts/notice.tsx'
import { type Answer, api, useAct, useAsk } from '../shell/api.ts'
import { useStudio } from '../shell/studio.ts'
import { labelOf, type PlanBlock } from './blockWords.ts'

type Plan = Answers['benches']['plan']
export type MoveEffect = Answers['bookings']['tryMove']

/** A place on the plan, where a block with its set change would begin. */
export interface Target {
  readonly benchId: number
  readonly day: string
  readonly fromMinute: number
}

/** A block in a person's hand, over the place where it would go. */
export interface Lifted extends Target {
  readonly bookingId: number
  readonly label: string
  /** With its set change as it is today. */
  readonly minutes: number
  readonly by: 'pointer' | 'keys'
  /** Let go, and not yet moved: something speaks against it, or the answer is on its way. */
  readonly isDown: boolean
}

export interface Moving {
  readonly lifted: Lifted | undefined
  /** What letting go here would do. Stale while the answer is for the place before. */
  readonly answer: Answer<MoveEffect>
  readonly closesUp: boolean
  readonly setClosesUp: (closesUp: boolean) => void
  readonly lift: (block: PlanBlock, plan: Plan, by: Lifted['by']) => Target
  readonly moveTo: (target: Partial<Target>) => void
  readonly letGo: () => void
  readonly overrule: (reason: string) => void
  readonly leave: () => void
  readonly busy: boolean
  readonly refusal: { readonly sentence: string } | undefined
  /** The block that has just been moved or left by keys, so that it can have the focus again. */
  readonly lastId: number | undefined
}

/** How long a place must be stood over before the studio is asked about it, in ms. */
const settlesMs = 40

/** The one block that is being moved on the bench plan, by whatever hand, and what letting it go would do. */
export function useMoving(): Moving {
  const { today } = useStudio()
  const say = useNotice()
  const [lifted, setLifted] = useState<Lifted>()
  // What is in the hand counts at once: a pointer is let go before the last step has been drawn.
  const hand = useRef<Lifted>(undefined)
  const hold = (next: Lifted | undefined) => {
    hand.current = next
    setLifted(next)
  }
  const [closesUp, setClosesUp] = useState(false)
  const [lastId, setLastId] = useState<number>()
  const settled = useSettled(lifted && askOf(lifted, closesUp))
  const answer = useAsk<MoveEffect>(
    ['bookings', 'tryMove', settled],
    () => api.bookings.tryMove.query(settled ?? nowhere(today)),
    { when: settled !== undefined },
  )
  const isFresh = (ask: object) => settled !== undefined && !answer.stale && isSame(settled, ask)
  const put = useAct(
    async (reason: string | null) => {
      if (!hand.current) return undefined
      const ask = askOf(hand.current, closesUp)
      const effect = (isFresh(ask) && answer.data) || (await api.bookings.tryMove.query(ask))
      if (effect.refused || (effect.objections.length > 0 && reason === null)) return undefined
      return await api.bookings.makeMove.mutate({ ...ask, seen: effect.seen, overruledReason: reason })
    },
    (made) => {
      if (!made) return
      say(madeText(made, today))
      end()
    },
  )
  const end = () => {
    if (hand.current?.by === 'keys') setLastId(hand.current.bookingId)
    hold(undefined)
  }
  return {
    lifted,
    answer: { ...answer, stale: !lifted || !isFresh(askOf(lifted, closesUp)) },
    closesUp,
    setClosesUp,
    lift: (block, plan, by) => {
      put.clear()
      setLastId(undefined)
      const unit = unitOf(block, plan)
      hold({ ...unit, label: labelOf(block), by, isDown: false })
      return unit
    },
    moveTo: (target) => {
      const now = hand.current
      if (!now) return
      const next = { ...now, ...target, isDown: false }
      if (!isSame(now, next)) hold(next)
    },
    letGo: () => {
      if (!hand.current) return
      hold({ ...hand.current, isDown: true })
      put.run(null)
    },
    overrule: (reason) => put.run(reason),
    leave: () => {
      put.clear()
      end()
    },
    busy: put.busy,
    refusal: put.refusal,
    lastId,
  }
}

/** Stands in for a question that is not asked. */
function nowhere(day: string) {
  return { bookingId: 1, benchId: 1, day, fromMinute: 0 }
}

/** Where a block was moved to, and how many moved along. */
export function madeText({ blocks: [moved, ...along] }: MoveEffect, today: string): string {
  if (!moved) return 'Moved.'
  const { bench, day, fromMinute } = moved.after
  const others = along.length > 0 ? `; ${countText(along.length, 'other block')} moved along` : ''
  return `Moved to ${bench}, ${weekdayText(day, today)}, ${clockText(fromMinute)}${others}.`
}

function askOf({ bookingId, benchId, day, fromMinute }: Lifted, closesUp: boolean) {
  return { bookingId, benchId, day, fromMinute, closesUp }
}

function isSame(a: object | undefined, b: object | undefined): boolean {
  return JSON.stringify(a) === JSON.stringify(b)
}

/** The value once it has stood still for a moment; undefined at once. */
function useSettled<T extends object>(value: T | undefined): T | undefined {
  const [settled, setSettled] = useState<T>()
  const text = JSON.stringify(value)
  useEffect(() => {
    const wait = setTimeout(() => setSettled(text === undefined ? undefined : JSON.parse(text)), settlesMs)
    return () => clearTimeout(wait)
  }, [text])
  return value === undefined ? undefined : settled
}

/** Where a block begins and how long it is, with the set change right before it. */
function unitOf(block: PlanBlock, plan: Plan) {
  const setChange = blocksOf(plan).find(
    (one) =>
      one.kind === 'set change' &&
      block.kind === 'spins' &&
      one.benchId === block.benchId &&
      one.endsAt === block.startsAt &&
      one.jobId === block.jobId,
  )
  const startsAt = setChange?.startsAt ?? block.startsAt
  return {
    bookingId: block.id,
    benchId: block.benchId,
    day: block.day,
    fromMinute: (setChange ?? block).fromMinute,
    minutes: (Date.parse(block.endsAt) - Date.parse(startsAt)) / 60_000,
  }
}

export function blocksOf(plan: Plan): readonly PlanBlock[] {
  return plan.benches.flatMap(({ days }) => days).flatMap(({ bookings }) => bookings)
}

/** Where an arrow takes a lifted block: 15 minutes (Shift: 5), a day, the next bench. Undefined for other keys. */
export function steppedBy(
  { key, shiftKey }: { readonly key: string; readonly shiftKey: boolean },
  { benchId, day, fromMinute }: Target,
  benchIds: readonly number[],
): Partial<Target> | undefined {
  const step = shiftKey ? 5 : 15
  const minute = (to: number) => ({ fromMinute: Math.min(1440 - step, Math.max(0, to)) })
  const bench = (by: number) => ({
    benchId: benchIds[Math.min(benchIds.length - 1, Math.max(0, benchIds.indexOf(benchId) + by))] ?? benchId,
  })
  // The first step takes a block that lies between two marks to the mark.
  switch (key) {
    case 'ArrowLeft':
      return minute(Math.ceil(fromMinute / step - 1) * step)
    case 'ArrowRight':
      return minute(Math.floor(fromMinute / step + 1) * step)
    case 'ArrowUp':
      return { day: addDays(day, -1) }
    case 'ArrowDown':
      return { day: addDays(day, 1) }
    case 'PageUp':
      return bench(-1)
    case 'PageDown':
      return bench(1)
    default:
      return undefined
  }
}
