import type { Stretch } from '../main/trade/bench.ts'
import { dayOf, daysBetween, minutesOfDay } from '../main/trade/calendar.ts'
import type { BenchBlock } from '../main/trade/plan/moving.ts'
import { type Bench, findBench } from './benches.ts'
import { insertBooking, lift, partsOf, put, told, whenDetail, writePeople } from './bookingChanges.ts'
import { type CheckedBlock, checkedBlock } from './bookingChecks.ts'
import { type Objection, objectionsTo } from './bookingObjections.ts'
import type { BlockDraft, Booking } from './bookings.ts'
import { studioZone } from './calendar.ts'
import type { Writing } from './events.ts'
import type { Id } from './ids.ts'
import { beforeGoods, turningOver } from './moveObjections.ts'
import type { Db } from './open.ts'
import { prepared } from './statement.ts'

/** Where a block lies, with the set change at its start. */
export interface BlockPlace extends Stretch {
  readonly benchId: Id<'bench'>
  readonly bench: string
  readonly day: string
  readonly setChangeMinutes: number
}

/** A block that a move takes elsewhere, or that needs another set change then. */
export interface MovedBlock {
  readonly booking: Booking
  readonly before: BlockPlace
  readonly after: BlockPlace
}

/** A job that a move brings behind its due day, further behind it, or back before it. */
export interface MovedJob {
  readonly jobId: Id<'job'>
  readonly number: string
  readonly client: string
  readonly dueDay: string
  readonly lateDaysBefore: number
  readonly lateDaysAfter: number
}

/** A block of the rules of moving with the row it is. */
export interface BlockToCarry {
  readonly booking: Booking
  readonly setChangeId: Id<'booking'> | null
  readonly before: BenchBlock
  readonly after: BenchBlock
}

interface Carrying {
  /** The set change on the evening before, which leaves with the moved block. */
  readonly apartId: Id<'booking'> | null
  readonly baseMs: number
  readonly overruledReason: string | null
  /** False where it is taken back again: then no history and no standing is written. */
  readonly isTold: boolean
}

interface Carried {
  readonly blocks: readonly MovedBlock[]
  readonly jobs: readonly MovedJob[]
  readonly objections: readonly Objection[]
}

/**
 * Puts blocks in their new places, all lifted before the first is put down, so that none is in another's way. Each keeps its uid
 * and has the next sequence number. Says what speaks against the new places that did not speak against the
 * old ones, and which jobs are late or no longer late by it. Call it inside a transaction.
 */
export function carryBlocks(writing: Writing, blocks: readonly BlockToCarry[], carrying: Carrying): Carried {
  const { db, now } = writing
  const zone = studioZone(db)
  const benchIds = new Set(blocks.flatMap(({ before, after }) => [before.bench, after.bench]))
  const benches = new Map([...benchIds].map((id) => [id, findBench(db, id as Id<'bench'>)]))
  const nameOf: BenchName = (id) => benches.get(id)?.name ?? ''
  const ids = blocks.flatMap(({ booking, setChangeId }) => [
    booking.id,
    ...(setChangeId ? [setChangeId] : []),
  ])
  const carried = blocks.map((block) => ({ ...block, ...placesOf(block, nameOf, carrying.baseMs, zone) }))
  const known = new Set(
    carried.flatMap((block) =>
      objectionsNow(db, block.booking, benches.get(block.booking.benchId), ids, now),
    ),
  )
  const days = carried.map(({ booking, to }) => ({
    personIds: booking.people.map(({ id }) => id),
    day: to.day,
  }))
  const turning = turningOver(db, days)
  const ends = jobEnds(db, blocks)
  for (const id of [...ids, ...(carrying.apartId ? [carrying.apartId] : [])]) lift(writing, id)
  const objections = carried.flatMap((block) => {
    const draft = draftOf(block.booking, block.to, carrying.overruledReason)
    const checked = checkedBlock(writing, draft, [], timesOf(block.after, carrying.baseMs))
    place(writing, block, checked, draft, carrying)
    return [...checked.objections, ...beforeGoods(db, checked)]
  })
  return {
    blocks: carried.map(({ booking, from, to }) => ({ booking, before: from, after: to })),
    jobs: latenessOf(ends, jobEnds(db, blocks), zone),
    objections: [
      ...objections.filter(({ sentence }) => !known.has(sentence)),
      ...turningOver(db, days, turning.minutes).objections,
    ],
  }
}

type BenchName = (benchId: number) => string

function placesOf({ before, after }: BlockToCarry, nameOf: BenchName, baseMs: number, zone: string) {
  return { from: placeOf(before, nameOf, baseMs, zone), to: placeOf(after, nameOf, baseMs, zone) }
}

function placeOf(block: BenchBlock, nameOf: BenchName, baseMs: number, zone: string): BlockPlace {
  const { startsAt, endsAt } = timesOf(block, baseMs)
  const day = dayOf(startsAt, zone)
  const benchId = block.bench as Id<'bench'>
  return {
    benchId,
    bench: nameOf(benchId),
    day,
    fromMinute: minutesOfDay(startsAt, zone),
    // A block that ends at midnight ends its own day.
    toMinute: dayOf(endsAt, zone) === day ? minutesOfDay(endsAt, zone) : 1440,
    setChangeMinutes: block.setChangeMin,
  }
}

function timesOf({ fromMin, setChangeMin, workMin }: BenchBlock, baseMs: number) {
  return {
    startsAt: new Date(baseMs + fromMin * 60_000),
    endsAt: new Date(baseMs + (fromMin + setChangeMin + workMin) * 60_000),
  }
}

/** What speaks against a block where it lies today, and was accepted there. */
function objectionsNow(
  db: Db,
  booking: Booking,
  bench: Bench | undefined,
  exceptIds: readonly Id<'booking'>[],
  now: string,
): readonly string[] {
  if (!bench) return []
  const block = {
    ...booking,
    bench,
    shootIds: booking.spins.map(({ shootId }) => shootId),
    personIds: booking.people.map(({ id }) => id),
    exceptIds,
  }
  return [...objectionsTo(db, block, now), ...beforeGoods(db, block)].map(({ sentence }) => sentence)
}

function draftOf(booking: Booking, to: BlockPlace, overruledReason: string | null): BlockDraft {
  return {
    ...to,
    kind: booking.kind,
    title: booking.title,
    isFixed: booking.isFixed,
    shootIds: booking.spins.map(({ shootId }) => shootId),
    personIds: booking.people.map(({ id }) => id),
    overruledReason: overruledReason ?? booking.overruledReason,
  }
}

function place(
  writing: Writing,
  { booking, setChangeId, from }: BlockToCarry & { readonly from: BlockPlace },
  block: CheckedBlock,
  draft: BlockDraft,
  { isTold, overruledReason }: Carrying,
): void {
  const kept = { ...block, overruledReason: block.overruledReason ?? overruledReason }
  const parts = partsOf(kept)
  if (parts.setChange) {
    const setChange = { ...kept, ...parts.setChange, kind: 'set change' as const }
    if (setChangeId) put(writing, setChangeId, setChange, draft)
    else writePeople(writing.db, insertBooking(writing, setChange), draft.personIds)
  }
  put(writing, booking.id, { ...kept, ...parts.work }, draft)
  if (!isTold) return
  told(writing, block.jobId, booking.id, 'booking moved', { before: from, after: whenDetail(kept, draft) })
}

interface JobEnd {
  readonly jobId: Id<'job'>
  readonly number: string
  readonly client: string
  readonly dueDay: string
  readonly endsAt: string
}

/** When the last block of each job with a due day ends. */
function jobEnds(db: Db, blocks: readonly BlockToCarry[]): readonly JobEnd[] {
  const jobIds = [...new Set(blocks.flatMap(({ booking }) => booking.jobId ?? []))]
  return prepared<[string], JobEnd>(
    db,
    `SELECT job.id AS jobId, job.number, client.name AS client, s.due_day AS dueDay, max(b.ends_at) AS endsAt
     FROM booking b JOIN job ON job.id = b.job_id JOIN client ON client.id = job.client_id
     JOIN job_standing s ON s.job_id = job.id
     WHERE b.job_id IN (SELECT value FROM json_each(?)) AND b.kind = 'spins' AND b.cancelled_at IS NULL
       AND s.due_day IS NOT NULL
     GROUP BY job.id ORDER BY job.number`,
  ).all(JSON.stringify(jobIds))
}

function latenessOf(before: readonly JobEnd[], after: readonly JobEnd[], zone: string): readonly MovedJob[] {
  const lateDays = ({ dueDay, endsAt }: JobEnd) =>
    // What ends at midnight ends its own day.
    Math.max(0, daysBetween(dueDay, dayOf(new Date(Date.parse(endsAt) - 1), zone)))
  const then = new Map(after.map((job) => [job.jobId, lateDays(job)]))
  return before
    .map((job) => {
      const { jobId, number, client, dueDay } = job
      const lateDaysBefore = lateDays(job)
      return {
        jobId,
        number,
        client,
        dueDay,
        lateDaysBefore,
        lateDaysAfter: then.get(jobId) ?? lateDaysBefore,
      }
    })
    .filter(({ lateDaysBefore, lateDaysAfter }) => lateDaysBefore !== lateDaysAfter)
}
