import * as z from 'zod'
import { studioZone } from '../../db/calendar.ts'
import { rightsEnding } from '../../db/endingRights.ts'
import {
  addRight,
  agreeRight,
  changeRight,
  removeRight,
  rightsOfJob,
  withdrawRight,
} from '../../db/usageRights.ts'
import { addDays, dayOf } from '../trade/calendar.ts'
import { rightStanding, soonDays } from '../trade/usageRights.ts'
import { call, day, idOf, page, router, text } from './kit.ts'

const rightId = idOf('usage_right')
const jobId = idOf('job')

const RightInput = z
  .object({
    media: text('What it may be used in', 300),
    territory: text('Where it may be used', 200),
    fromDay: day.nullable().default(null),
    toDay: day.nullable().default(null),
    passesOnPayment: z.boolean().default(true),
  })
  .refine(({ fromDay, toDay }) => fromDay === null || toDay === null || toDay >= fromDay, {
    message: 'The right ends before it begins. Correct one of its days.',
    path: ['toDay'],
  })

/** For how long a right that has ended is still listed. */
const endedForDays = 365

/** Rights of use: media, territory and days, on a job and its papers, and those that end soon. */
export const usageRightCalls = router({
  ofJob: call.input(z.object({ jobId })).query(({ ctx, input }) => {
    const today = dayOf(ctx.now, studioZone(ctx.db))
    return rightsOfJob(ctx.db, input.jobId).map((right) => ({
      ...right,
      standing: rightStanding(right, today),
    }))
  }),

  add: call
    .input(z.object({ jobId, right: RightInput }))
    .mutation(({ ctx, input }) => ({ rightId: addRight(ctx, input.jobId, input.right) })),

  change: call.input(z.object({ rightId, right: RightInput })).mutation(({ ctx, input }) => {
    changeRight(ctx, input.rightId, input.right)
  }),

  remove: call.input(z.object({ rightId })).mutation(({ ctx, input }) => {
    removeRight(ctx, input.rightId)
  }),

  agree: call.input(z.object({ rightId, by: text('Who said yes') })).mutation(({ ctx, input }) => {
    agreeRight(ctx, input.rightId, input.by)
  }),

  withdraw: call.input(z.object({ rightId, reason: text('The reason') })).mutation(({ ctx, input }) => {
    withdrawRight(ctx, input.rightId, input.reason)
  }),

  /** Agreed rights that end within ninety days, or that ended within the last year. */
  ending: call
    .input(z.object({ which: z.enum(['soon', 'ended']).default('soon'), page }))
    .query(({ ctx, input }) => {
      const today = dayOf(ctx.now, studioZone(ctx.db))
      const [from, to] =
        input.which === 'soon'
          ? [today, addDays(today, soonDays)]
          : [addDays(today, -endedForDays), addDays(today, -1)]
      return rightsEnding(ctx.db, from, to, input.page)
    }),
})
