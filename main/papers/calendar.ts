import { type Booking, type CalendarSpan, calendarBookings } from '../../db/bookings.ts'
import { studioZone } from '../../db/calendar.ts'
import type { Db } from '../../db/open.ts'
import { theStudio } from '../../db/studio.ts'
import { addDays, type Day, dayOf, instantAt } from '../trade/calendar.ts'
import { type CalendarEntry, calendarText } from '../trade/icalendar/writing.ts'

/** What of a calendar a person chooses: whose blocks, which days, and whether clients and goods are named. */
export interface CalendarFile extends Pick<CalendarSpan, 'benchId'> {
  readonly fromDay: Day
  readonly toDay: Day
  readonly withNames: boolean
}

/** The blocks of some days as an iCalendar file, both days counted; what was cancelled is not in it. */
export function calendarFile(db: Db, file: CalendarFile): { readonly text: string; readonly blocks: number } {
  const zone = studioZone(db)
  const entries = calendarBookings(db, {
    benchId: file.benchId,
    from: instantAt(file.fromDay, 0, zone).toISOString(),
    to: instantAt(file.toDay, 1440, zone).toISOString(),
    cancelledSince: null,
  }).map((booking) => entryOf(booking, file.withNames))
  return { text: calendarText(theStudio(db).name, entries, null), blocks: entries.length }
}

/** A calendar program asks rarely, some once a week; after a month it has heard of what was cancelled. */
export const daysKept = 30
const daysAhead = 3660
const refreshMinutes = 15

/** The blocks as a subscriber reads them: the last month and all to come, what was cancelled within a month among them. */
export function calendarFeedText(db: Db, withNames: boolean, now: string): string {
  const zone = studioZone(db)
  const today = dayOf(now, zone)
  // From the beginning of a day, so that the text stays the same while nothing changes.
  const from = instantAt(addDays(today, -daysKept), 0, zone).toISOString()
  const entries = calendarBookings(db, {
    benchId: null,
    from,
    to: instantAt(addDays(today, daysAhead), 0, zone).toISOString(),
    cancelledSince: from,
  }).map((booking) => entryOf(booking, withNames))
  return calendarText(theStudio(db).name, entries, refreshMinutes)
}

/** A block as a calendar's entry. It never holds a price, and a client or what is spun only where names are wanted. */
function entryOf(booking: Booking, withNames: boolean): CalendarEntry {
  const { uid, sequence, changedAt, startsAt, endsAt } = booking
  const told = [
    booking.rig === null ? null : `Rig: ${booking.rig}, revision ${booking.revision ?? 1}`,
    booking.people.length > 0 ? `People: ${booking.people.map(({ name }) => name).join(', ')}` : null,
    ...(withNames ? booking.spins.map(({ name }, index) => `${index + 1}. ${name}`) : []),
  ].filter((line) => line !== null)
  return {
    uid,
    sequence,
    changedAt,
    startsAt,
    endsAt,
    summary: summaryOf(booking, withNames),
    description: told.length > 0 ? told.join('\n') : null,
    location: booking.bench,
    isCancelled: booking.cancelledAt !== null,
  }
}

function summaryOf(booking: Booking, withNames: boolean): string {
  if (booking.kind === 'other') return booking.title ?? ''
  const job = [withNames ? booking.client : null, booking.jobNumber].filter(Boolean).join(', ')
  if (booking.kind === 'set change') {
    return `Set change${booking.rig === null ? '' : ` to ${booking.rig}`}${job ? ` (${job})` : ''}`
  }
  const { length } = booking.spins
  return `${job}: ${length} ${length === 1 ? 'spin' : 'spins'}`
}
