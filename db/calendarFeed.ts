import { type Writing, writeEvent } from './events.ts'
import type { Db } from './open.ts'
import { inOneTransaction, prepared } from './statement.ts'

/** The address at which calendar programs of this computer read the blocks. */
export interface CalendarFeed {
  /** The part of the address that nobody can guess. It shows nothing that the store beside it does not hold. */
  readonly secret: string
  /** Whether clients and what is spun are named. */
  readonly withNames: boolean
  readonly madeAt: string
}

export function findCalendarFeed(db: Db): CalendarFeed | undefined {
  const row = prepared<[], Omit<CalendarFeed, 'withNames'> & { withNames: 0 | 1 }>(
    db,
    'SELECT secret, with_names AS withNames, made_at AS madeAt FROM calendar_feed',
  ).get()
  return row && { ...row, withNames: row.withNames === 1 }
}

/** Opens the address under a new secret; one that was open before is dead from now on. The log never holds a secret. */
export function openCalendarFeed(writing: Writing, feed: Omit<CalendarFeed, 'madeAt'>): void {
  const { db, now } = writing
  inOneTransaction(db, () => {
    const before = findCalendarFeed(db)
    prepared<unknown[]>(
      db,
      `INSERT INTO calendar_feed (id, secret, with_names, made_at) VALUES (1, ?, ?, ?)
       ON CONFLICT (id) DO UPDATE SET secret = excluded.secret, with_names = excluded.with_names, made_at = excluded.made_at`,
    ).run(feed.secret, feed.withNames ? 1 : 0, now)
    writeEvent(writing, {
      subject: 'calendar',
      subjectId: 1,
      what: before ? 'calendar address renewed' : 'calendar address opened',
      detail: { withNames: feed.withNames },
    })
  })
}

/** Says whether names stand in the calendar; the address stays. */
export function nameInCalendarFeed(writing: Writing, withNames: boolean): void {
  inOneTransaction(writing.db, () => {
    prepared<[number]>(writing.db, 'UPDATE calendar_feed SET with_names = ?').run(withNames ? 1 : 0)
    writeEvent(writing, {
      subject: 'calendar',
      subjectId: 1,
      what: 'calendar names chosen',
      detail: { withNames },
    })
  })
}

/** Switches the address off: nothing answers there any more. */
export function closeCalendarFeed(writing: Writing): void {
  inOneTransaction(writing.db, () => {
    prepared<[]>(writing.db, 'DELETE FROM calendar_feed').run()
    writeEvent(writing, { subject: 'calendar', subjectId: 1, what: 'calendar address closed' })
  })
}
