import { addDays, dayOf, instantAt } from '../main/trade/calendar.ts'
import { changeoverMs } from '../main/trade/changeover.ts'
import { type Fitting, freedMinutes, type WaitingWork, whatFits } from '../main/trade/freedTime.ts'
import { isBeforeGoods } from '../main/trade/promise.ts'
import { waitingSpins } from './benchPlan.ts'
import { takeSpinsOff } from './blockRigs.ts'
import { findBooking, theBooking } from './bookings.ts'
import { studioZone } from './calendar.ts'
import type { Writing } from './events.ts'
import { grouped } from './grouped.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { thePace } from './pace.ts'
import { findRevision } from './rigRevisions.ts'
import { refreshStanding } from './standing.ts'
import { inOneTransaction, prepared } from './statement.ts'

/** A block that lies before the goods of some of its spins. */
export interface BlockBeforeGoods {
  readonly bookingId: Id<'booking'>
  readonly jobId: Id<'job'>
  readonly jobNumber: string
  readonly client: string
  readonly bench: string
  readonly day: string
  readonly fromMinute: number
  readonly toMinute: number
  readonly rigRevisionId: Id<'rig_revision'> | null
  readonly rig: string | null
  /** Its spins whose goods are not in by then, with the samples that are missing. */
  readonly spins: readonly {
    readonly shootId: Id<'shoot'>
    readonly name: string
    readonly codes: readonly string[]
  }[]
  readonly staying: number
  /** Bench time that is free once they leave, in minutes. */
  readonly freedMin: number
}

interface MissingRow {
  readonly bookingId: Id<'booking'>
  readonly shootId: Id<'shoot'>
  readonly name: string
  readonly estimateMs: number
  readonly code: string
  readonly expectedDay: string | null
}

/**
 * Blocks that have not begun and lie before the goods of some of their spins: of one job, or of all within some days
 * from today. The earliest first.
 */
export function blocksBeforeGoods(
  db: Db,
  now: string,
  of: { readonly jobId: Id<'job'> } | { readonly days: number },
): readonly BlockBeforeGoods[] {
  const zone = studioZone(db)
  const today = dayOf(now, zone)
  const which = 'jobId' in of ? 'b.job_id = @jobId' : 'b.starts_at < @to'
  const rows = prepared<Record<string, unknown>, MissingRow>(
    db,
    `SELECT b.id AS bookingId, shoot.id AS shootId, shoot.name, shoot.estimate_ms AS estimateMs, product.code,
       sample.expected_day AS expectedDay
     FROM booking b CROSS JOIN booking_shoot bs ON bs.booking_id = b.id CROSS JOIN shoot ON shoot.id = bs.shoot_id
     CROSS JOIN shoot_product sp ON sp.shoot_id = shoot.id CROSS JOIN product ON product.id = sp.product_id
     LEFT JOIN sample ON sample.product_id = sp.product_id AND sample.job_id = shoot.job_id
     WHERE b.cancelled_at IS NULL AND b.kind = 'spins' AND b.starts_at > @now AND ${which}
       AND shoot.cancelled_at IS NULL AND shoot.without_sample_reason IS NULL
       AND (sample.id IS NULL OR (sample.is_needed = 1 AND sample.state IN ('expected', 'missing', 'wrong')))
     ORDER BY b.starts_at, bs.position`,
  ).all(
    'jobId' in of
      ? { now, jobId: of.jobId }
      : { now, to: instantAt(addDays(today, of.days), 0, zone).toISOString() },
  )
  return [...grouped(rows, ({ bookingId }) => bookingId)].flatMap(([bookingId, missing]) =>
    beforeGoods(db, bookingId, missing, today),
  )
}

function beforeGoods(
  db: Db,
  bookingId: Id<'booking'>,
  missing: readonly MissingRow[],
  today: string,
): readonly BlockBeforeGoods[] {
  const booking = findBooking(db, bookingId)
  if (!booking || booking.jobId === null) return []
  const leaving = [...grouped(missing, ({ shootId }) => shootId).values()].filter((samples) =>
    isBeforeGoods(booking.day, samples, today),
  )
  if (leaving.length === 0) return []
  const leavingMs = leaving.reduce((sum, [first]) => sum + (first?.estimateMs ?? 0), 0)
  const staying = booking.spins.length - leaving.length
  const { jobId, bench, day, fromMinute, toMinute, rigRevisionId, rig } = booking
  return [
    {
      bookingId,
      jobId,
      jobNumber: booking.jobNumber ?? '',
      client: booking.client ?? '',
      bench,
      day,
      fromMinute,
      toMinute,
      rigRevisionId,
      rig,
      spins: leaving.flatMap((samples) =>
        samples[0]
          ? [{ shootId: samples[0].shootId, name: samples[0].name, codes: samples.map(({ code }) => code) }]
          : [],
      ),
      staying,
      freedMin: freedMinutes(toMinute - fromMinute, Math.ceil(leavingMs / 60_000), staying),
    },
  ]
}

/** Work that waits with its goods in, and could use freed time. */
interface WaitingGoods extends WaitingWork {
  readonly jobId: Id<'job'>
  readonly jobNumber: string
  readonly client: string
  readonly rig: string | null
  readonly shootIds: readonly Id<'shoot'>[]
}

export interface FreedBlock extends BlockBeforeGoods {
  /** What would fit there, the earliest due first; at most three. */
  readonly fitting: readonly Fitting<WaitingGoods>[]
}

const mostFitting = 3
const mostGroups = 50

/** Blocks of the next days that lie before their goods, with what waits and would fit into the time they free. */
export function freedBlocks(db: Db, now: string, days: number): readonly FreedBlock[] {
  const blocks = blocksBeforeGoods(db, now, { days })
  if (blocks.length === 0) return []
  const today = dayOf(now, studioZone(db))
  const groups = waitingSpins(db, { offset: 0, limit: mostGroups }, now).groups.filter(
    ({ withoutSample, holdUntil, estimateMs }) =>
      withoutSample === 0 && (holdUntil === null || holdUntil <= today) && estimateMs > 0,
  )
  const pace = thePace(db)
  const revisions = new Map<Id<'rig_revision'>, ReturnType<typeof findRevision>>()
  const revisionOf = (id: Id<'rig_revision'> | null) => {
    if (id === null) return undefined
    if (!revisions.has(id)) revisions.set(id, findRevision(db, id))
    return revisions.get(id)
  }
  return blocks.map((block) => {
    const standing = revisionOf(block.rigRevisionId) ?? null
    const waiting = groups.map((group): WaitingGoods => {
      const rig = revisionOf(group.rigRevisionId)
      const isSame = group.rigRevisionId === block.rigRevisionId
      return {
        jobId: group.jobId,
        jobNumber: group.number,
        client: group.client,
        rig: group.rig,
        shootIds: group.shootIds,
        spins: group.spins,
        spinMin: Math.ceil(group.estimateMs / group.spins / 60_000),
        changeMin: rig && !isSame ? Math.ceil(changeoverMs(standing, rig, true, pace) / 60_000) : 0,
        dueDay: group.dueDay,
      }
    })
    return { ...block, fitting: whatFits({ minutes: block.freedMin }, waiting).slice(0, mostFitting) }
  })
}

/**
 * Takes off their blocks the spins whose goods are not in by then, so that they wait for a place again; all of it or
 * nothing. Gives the spins that left.
 */
export function freeBlocks(
  writing: Writing,
  bookingIds: readonly Id<'booking'>[],
): { readonly shootIds: readonly Id<'shoot'>[] } {
  const { db, now } = writing
  return inOneTransaction(db, () => {
    const shootIds = [...new Set(bookingIds)].flatMap((bookingId) => {
      const booking = theBooking(db, bookingId)
      if (booking.jobId === null) return []
      const block = blocksBeforeGoods(db, now, { jobId: booking.jobId }).find(
        (one) => one.bookingId === bookingId,
      )
      if (!block) return []
      takeSpinsOff(writing, booking, block.spins)
      refreshStanding(writing, booking.jobId)
      return block.spins.map(({ shootId }) => shootId)
    })
    return { shootIds }
  })
}
