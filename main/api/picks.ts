import * as z from 'zod'
import { pickNewest, pickTake, withdrawPicks } from '../../db/picks.ts'
import { askForStrip, askForStripsOfPicked } from '../work/takeChecks.ts'
import { call, idOf, router } from './kit.ts'

/** Our choice of a take for each row and deliverable. */
export const pickCalls = router({
  pick: call
    .input(
      z.object({
        takeId: idOf('take'),
        deliverableIds: z.array(idOf('deliverable')).max(12).nullable().default(null),
        startFrame: z.int('A frame is a whole number.').min(1, 'Frames count from 1.').default(1),
        reversed: z.boolean().default(false),
      }),
    )
    .mutation(({ ctx, input }) => {
      pickTake(ctx, input)
      askForStrip(ctx.db, input.takeId)
    }),

  /** The newest kept take of every row, for every deliverable of these spins that has no pick yet. */
  newest: call
    .input(z.object({ shootIds: z.array(idOf('shoot')).min(1, 'Choose the spins to pick for.').max(1000) }))
    .mutation(({ ctx, input }) => {
      const picked = pickNewest(ctx, input.shootIds)
      askForStripsOfPicked(ctx.db, input.shootIds)
      return picked
    }),

  withdraw: call
    .input(z.object({ shootId: idOf('shoot'), deliverableId: idOf('deliverable') }))
    .mutation(({ ctx, input }) => {
      withdrawPicks(ctx, input.shootId, input.deliverableId)
    }),
})
