import * as z from 'zod'
import { studioZone } from '../../db/calendar.ts'
import {
  changeReminderLevels,
  markReminded,
  reminderContent,
  reminderLevels,
  remindersToday,
} from '../../db/reminders.ts'
import { inOneTransaction } from '../../db/statement.ts'
import { theStudio } from '../../db/studio.ts'
import { keepPaper } from '../papers/letterhead.ts'
import { reminderSheet } from '../papers/reminder.ts'
import { dayOf } from '../trade/calendar.ts'
import { call, type InStudio, idOf, router } from './kit.ts'

const minor = z.int('No amount is entered here. Type it in.').min(0, 'What is asked for is 0 or more.')
const days = (least: number, what: string) =>
  z
    .int(`${what} are a whole number.`)
    .min(least, `${what} are at least ${least}.`)
    .max(365, `${what} are at most 365.`)

const Choice = z.object({
  clientId: idOf('client'),
  currency: z.string().length(3),
  invoices: z
    .array(z.object({ invoiceId: idOf('invoice'), interestMinor: minor }))
    .min(1, 'Choose what the client is reminded of.')
    .max(200),
  lumpSumMinor: minor,
})

const todayOf = (ctx: InStudio) => dayOf(ctx.now, studioZone(ctx.db))

/** Reminders: proposed by the studio's levels, sent by a person, written down with their paper. */
export const reminderCalls = router({
  today: call.query(({ ctx }) => {
    const { lateInterestPpm, lateFeeMinor, currency } = theStudio(ctx.db)
    return { ...remindersToday(ctx.db, todayOf(ctx)), lateInterestPpm, lateFeeMinor, currency }
  }),

  /** What the reminder would say, before anybody sends it. */
  preview: call.input(Choice).query(({ ctx, input }) => reminderContent(ctx.db, input, todayOf(ctx))),

  /** The paper of a reminder as it would be sent, marked as a draft, to be looked at. */
  draftPaper: call.input(Choice).mutation(({ ctx, input }) => {
    const sheet = reminderSheet(ctx.db, reminderContent(ctx.db, input, todayOf(ctx)), true)
    return { paperId: keepPaper(ctx, sheet) }
  }),

  /** Writes the reminder's paper and down that it was sent: both or neither. */
  markSent: call.input(Choice).mutation(({ ctx, input }) =>
    inOneTransaction(ctx.db, () => {
      const content = reminderContent(ctx.db, input, todayOf(ctx))
      const paperId = keepPaper(ctx, reminderSheet(ctx.db, content, false))
      return { reminderId: markReminded(ctx, input, paperId), paperId }
    }),
  ),

  levels: call.query(({ ctx }) => reminderLevels(ctx.db)),

  setLevels: call
    .input(
      z.object({
        levels: z
          .array(
            z.object({
              daysAfterDue: days(1, 'The days after the due day'),
              daysBetween: days(0, 'The days since the reminder before'),
              withInterest: z.boolean(),
              withLumpSum: z.boolean(),
            }),
          )
          .min(1, 'Keep at least one level.')
          .max(9, 'There are at most nine levels.'),
      }),
    )
    .mutation(({ ctx, input }) => changeReminderLevels(ctx, input.levels)),
})
