import type { Stretch } from '../main/trade/bench.ts'
import { dayOf, instantAt, minutesOfDay } from '../main/trade/calendar.ts'
import { freeMinutes } from '../main/trade/freeTime.ts'
import { benchPlan } from './benchPlan.ts'
import type { Booking } from './bookings.ts'
import { studioZone } from './calendar.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import type { PlanQuestion } from './planProblem.ts'
import type { ShownBlock } from './planResult.ts'

/** A bench's day round the blocks of a plan. */
export interface PlanBenchDay {
  readonly benchId: Id<'bench'>
  readonly bench: string
  readonly open: readonly Stretch[]
  /** Why it is closed on a day that it would be open, or null. */
  readonly closed: string | null
  /** What is booked there and stays as it is. */
  readonly staying: readonly Booking[]
  /** Open minutes from now on that neither the plan nor what stays takes. */
  readonly freeMinutes: number
}

/** A job that is due on a day, or whose samples are expected then: how many of its spins in the plan. */
export interface PlanMark {
  readonly jobId: Id<'job'>
  readonly jobNumber: string
  readonly client: string
  readonly spins: number
}

export interface PlanDay {
  readonly day: string
  readonly benches: readonly PlanBenchDay[]
  readonly due: readonly PlanMark[]
  readonly goodsIn: readonly PlanMark[]
}

/** What a proposal is drawn on. */
export interface PlanProposal {
  readonly question: PlanQuestion
  readonly blocks: readonly ShownBlock[]
  /** Blocks that the plan takes off the bench. */
  readonly lifted: readonly Id<'booking'>[]
}

/** The benches of a plan over some days: their hours, what stays, what is left free, what is due and comes in. */
export function planDays(
  db: Db,
  { question, blocks, lifted }: PlanProposal,
  days: { readonly firstDay: string; readonly count: number },
  now: string,
): readonly PlanDay[] {
  const zone = studioZone(db)
  const week = benchPlan(db, days.firstDay, days.count)
  const benches = week.benches.filter(({ benchId }) => question.benches.some(({ id }) => id === benchId))
  const [first] = week.benches
  return (first?.days ?? []).map(({ day }, at) => ({
    day,
    benches: benches.flatMap(({ benchId, name, days: benchDays }) => {
      const benchDay = benchDays[at]
      if (!benchDay) return []
      const staying = benchDay.bookings.filter(({ id }) => !lifted.includes(id))
      const open = benchDay.closed === null ? benchDay.open : []
      const taken = [...staying, ...blocks.flatMap((block) => takenOn(block, benchId, day))]
      const nowMinute = dayOf(now, zone) === day ? minutesOfDay(new Date(now), zone) : 0
      const isPast = instantAt(day, 1440, zone).toISOString() <= now
      return [
        {
          benchId,
          bench: name,
          open,
          closed: benchDay.closed,
          staying,
          freeMinutes: isPast ? 0 : freeMinutes(open, taken, nowMinute),
        },
      ]
    }),
    due: marksOf(question.spins, (spin) => spin.dueDay === day),
    goodsIn: marksOf(question.spins, (spin) => spin.samplesOut > 0 && spin.lastExpectedDay === day),
  }))
}

function takenOn(block: ShownBlock, benchId: Id<'bench'>, day: string): readonly Stretch[] {
  if (block.benchId !== benchId) return []
  return [
    ...(block.day === day ? [block] : []),
    ...(block.changeApart?.day === day ? [block.changeApart] : []),
  ]
}

function marksOf(
  spins: PlanQuestion['spins'],
  isMarked: (spin: PlanQuestion['spins'][number]) => boolean,
): readonly PlanMark[] {
  const marks = new Map<Id<'job'>, PlanMark>()
  for (const spin of spins) {
    if (!isMarked(spin)) continue
    const { jobId, jobNumber, client } = spin
    marks.set(jobId, { jobId, jobNumber, client, spins: (marks.get(jobId)?.spins ?? 0) + 1 })
  }
  return [...marks.values()]
}
