import { createHash, randomBytes, timingSafeEqual } from 'node:crypto'
import * as z from 'zod'
import { findBench } from '../../db/benches.ts'
import {
  closeCalendarFeed,
  findCalendarFeed,
  nameInCalendarFeed,
  openCalendarFeed,
} from '../../db/calendarFeed.ts'
import { calendarFeedText, calendarFile } from '../papers/calendar.ts'
import { daysBetween } from '../trade/calendar.ts'
import { Refusal } from '../trade/refusal.ts'
import type { OpenStudio } from './house.ts'
import { call, day, idOf, router } from './kit.ts'

const withNames = z.boolean().default(false)
const longestDays = 3660

/** What is booked, for calendar programs: as a file, and at an address that they read by themselves. */
export const calendarCalls = router({
  /** The blocks of some days as an iCalendar file; of one bench, or with none of all. */
  file: call
    .input(
      z
        .object({ benchId: idOf('bench').nullable().default(null), fromDay: day, toDay: day, withNames })
        .refine(({ fromDay, toDay }) => toDay >= fromDay, {
          message: 'The last day is before the first. Enter that day or a later one.',
          path: ['toDay'],
        })
        .refine(({ fromDay, toDay }) => daysBetween(fromDay, toDay) <= longestDays, {
          message: 'A calendar file holds ten years at most. Enter fewer days.',
          path: ['toDay'],
        }),
    )
    .query(({ ctx, input }) => {
      const bench = input.benchId === null ? undefined : findBench(ctx.db, input.benchId)
      if (input.benchId !== null && !bench) throw new Refusal('no-bench', 'This bench is not in the studio.')
      const fileName = `${bench?.name ?? 'Benches'} ${input.fromDay} to ${input.toDay}.ics`
      return { fileName, ...calendarFile(ctx.db, input) }
    }),

  /** The address, if one is open: its path, and the whole of it while the browser door is open. */
  feed: call.query(({ ctx }) => {
    const feed = findCalendarFeed(ctx.db)
    if (!feed) return null
    const path = `/calendar/${feed.secret}.ics`
    const { origin } = ctx.house
    return { withNames: feed.withNames, madeAt: feed.madeAt, address: origin ? `${origin}${path}` : null }
  }),

  /** Opens an address under a new secret; one that was open before is dead at once. */
  open: call.input(z.object({ withNames })).mutation(({ ctx, input }) => {
    openCalendarFeed(ctx, { secret: randomBytes(32).toString('base64url'), withNames: input.withNames })
  }),

  chooseNames: call
    .input(z.object({ withNames: z.boolean() }))
    .mutation(({ ctx, input }) => nameInCalendarFeed(ctx, input.withNames)),

  close: call.mutation(({ ctx }) => closeCalendarFeed(ctx)),
})

/** The calendar's text for whoever knows its secret; undefined where that is wrong or no address is open. */
export function openCalendar(
  { db, now }: Pick<OpenStudio, 'db' | 'now'>,
  secret: string,
): string | undefined {
  const feed = findCalendarFeed(db)
  // Hashes are of one length, and comparing them takes the same time wherever they differ.
  if (!feed || !timingSafeEqual(hash(feed.secret), hash(secret))) return undefined
  return calendarFeedText(db, feed.withNames, now().toISOString())
}

function hash(text: string): Buffer {
  return createHash('sha256').update(text).digest()
}
