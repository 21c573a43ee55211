import * as z from 'zod'
import { closuresBetween } from '../../db/benches.ts'
import { type Booking, calendarBookings } from '../../db/bookings.ts'
import { studioZone, workingWeek } from '../../db/calendar.ts'
import { type HolidayTaken, type ImportedClosure, importedClosures, takeHolidays } from '../../db/holidays.ts'
import type { Db } from '../../db/open.ts'
import { addDays, dayOf, daysBetween, instantAt, weekdayOf } from '../trade/calendar.ts'
import { type Holiday, readHolidays } from '../trade/icalendar/holidays.ts'
import { Refusal } from '../trade/refusal.ts'
import { call, type InStudio, router, text } from './kit.ts'

const CalendarText = z
  .string()
  .min(1, 'This file is empty. Pick another one.')
  .max(
    2_000_000,
    'This file is over 2 MB, which no list of holidays is. Pick a file that holds holidays alone.',
  )

/** Taking public holidays from an iCalendar file as days on which the whole studio is closed. */
export const holidayCalls = router({
  /** What the file would close, and which booked blocks lie on those days; nothing is written. */
  preview: call.input(z.object({ text: CalendarText })).query(({ ctx, input }) => {
    const { holidays, outside, unread } = judged(ctx, input.text)
    return {
      holidays: holidays.map((holiday) => ({
        ...holiday,
        blocks: blocksOn(ctx.db, holiday).map(shownBlock),
      })),
      outside,
      unread: unread.slice(0, 100),
      unreadCount: unread.length,
      ...spanOf(ctx),
    }
  }),

  /** Takes the chosen days, in one transaction. */
  take: call
    .input(
      z.object({
        text: CalendarText,
        fileName: text('The file’s name', 255),
        sourceUids: z.array(z.string().min(1)).min(1, 'No day is chosen. Choose what to take.').max(1000),
      }),
    )
    .mutation(({ ctx, input }) => {
      const chosen = new Set(input.sourceUids)
      const taken = judged(ctx, input.text).holidays.flatMap((holiday): readonly HolidayTaken[] =>
        chosen.has(holiday.sourceUid) && holiday.does !== 'nothing'
          ? [{ ...holiday, does: holiday.does, reason: holiday.name }]
          : [],
      )
      if (taken.length === 0) {
        throw new Refusal(
          'nothing-to-take',
          'Everything chosen is in the studio already. Look at the file again: something else has changed meanwhile.',
        )
      }
      takeHolidays(ctx, input.fileName, taken)
      const closed = taken.filter(({ does }) => does !== 'opens')
      return {
        closed: taken.filter(({ does }) => does === 'closes').length,
        changed: taken.filter(({ does }) => does === 'changes').length,
        opened: taken.filter(({ does }) => does === 'opens').length,
        blocks: new Set(closed.flatMap((days) => blocksOn(ctx.db, days)).map(({ id }) => id)).size,
      }
    }),
})

interface Judged extends Holiday {
  readonly does: 'closes' | 'changes' | 'opens' | 'nothing'
  /** What is there of it from an earlier time. */
  readonly before: Pick<ImportedClosure, 'fromDay' | 'toDay' | 'reason'> | null
  /** Why the studio is closed on all its days already, by something else. */
  readonly closedBy: string | null
  /** No bench opens on the weekdays it falls on. */
  readonly isShutAnyway: boolean
}

/** From today to the end of the year after next: as far as holidays are mostly settled, and no longer than a plan looks. */
function spanOf({ db, now }: InStudio) {
  const today = dayOf(now, studioZone(db))
  return { fromDay: today, toDay: `${Number(today.slice(0, 4)) + 2}-12-31` }
}

function judged(ctx: InStudio, calendarText: string) {
  const { db } = ctx
  const known = importedClosures(db)
  const { weekdays } = workingWeek(db)
  const read = readHolidays(calendarText, studioZone(db), spanOf(ctx))
  const holidays = read.holidays.flatMap((holiday): readonly Judged[] => {
    const before = known.get(holiday.sourceUid) ?? null
    if (holiday.isCancelled && before === null) return []
    return [
      {
        ...holiday,
        before,
        does: whatItDoes(holiday, before),
        closedBy: closedBy(db, holiday, before),
        isShutAnyway: daysOf(holiday).every((day) => !weekdays.has(weekdayOf(day))),
      },
    ]
  })
  return { ...read, holidays }
}

function whatItDoes(holiday: Holiday, before: ImportedClosure | null): Judged['does'] {
  if (holiday.isCancelled) return 'opens'
  if (before === null) return 'closes'
  const { fromDay, toDay, reason } = before
  return fromDay === holiday.fromDay && toDay === holiday.toDay && reason === holiday.name
    ? 'nothing'
    : 'changes'
}

function closedBy(db: Db, { fromDay, toDay }: Holiday, before: ImportedClosure | null): string | null {
  return (
    closuresBetween(db, fromDay, toDay).find(
      (closure) =>
        closure.id !== before?.id &&
        closure.benchId === null &&
        closure.fromDay <= fromDay &&
        closure.toDay >= toDay,
    )?.reason ?? null
  )
}

function daysOf({ fromDay, toDay }: Pick<Holiday, 'fromDay' | 'toDay'>): readonly string[] {
  return Array.from({ length: daysBetween(fromDay, toDay) + 1 }, (_, index) => addDays(fromDay, index))
}

function blocksOn(db: Db, { fromDay, toDay }: Pick<Holiday, 'fromDay' | 'toDay'>): readonly Booking[] {
  const zone = studioZone(db)
  return calendarBookings(db, {
    benchId: null,
    from: instantAt(fromDay, 0, zone).toISOString(),
    to: instantAt(toDay, 1440, zone).toISOString(),
    cancelledSince: null,
  })
}

function shownBlock({ id, bench, day, fromMinute, toMinute, kind, title, jobNumber }: Booking) {
  const what =
    kind === 'other' ? (title ?? '') : kind === 'set change' ? 'set change' : `spins of ${jobNumber ?? ''}`
  return { id, bench, day, fromMinute, toMinute, what }
}
