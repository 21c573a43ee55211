import * as z from 'zod'
import { moveBooking } from '../../db/bookingChanges.ts'
import { outageEffects } from '../../db/outageEffects.ts'
import { inOneTransaction } from '../../db/statement.ts'
import { shown } from '../trade/measures.ts'
import { call, day, idOf, maybeText, router } from './kit.ts'

const Thing = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('equipment'), id: idOf('equipment') }),
  z.object({ kind: z.literal('platter'), id: idOf('platter') }),
  z.object({ kind: z.literal('person'), id: idOf('person') }),
])

/** What it means that something or somebody is not here. */
export const outageCalls = router({
  /** The spins that would wait, and which other rigs could do them. Nothing is stored. */
  effects: call
    .input(
      z
        .object({ thing: Thing, fromDay: day, toDay: day.nullable() })
        .refine(({ fromDay, toDay }) => toDay === null || toDay >= fromDay, {
          message: 'The last day is before the first. Enter that day or a later one.',
          path: ['toDay'],
        }),
    )
    .query(({ ctx, input: { thing, ...days } }) => shown(outageEffects(ctx.db, thing, days, ctx.now))),

  /** Moves blocks to where they find room once it is back: all of them or none. Refuses as booking does. */
  wait: call
    .input(
      z.object({
        moves: z
          .array(
            z.object({
              bookingId: idOf('booking'),
              benchId: idOf('bench'),
              day,
              fromMinute: z.int().min(0).max(1440),
            }),
          )
          .min(1, 'No block is chosen. Choose at least one.')
          .max(200),
        overruledReason: maybeText(300),
      }),
    )
    .mutation(({ ctx, input: { moves, overruledReason } }) =>
      inOneTransaction(ctx.db, () => {
        for (const { bookingId, ...to } of moves) moveBooking(ctx, bookingId, { ...to, overruledReason })
      }),
    ),
})
