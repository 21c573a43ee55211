import * as z from 'zod'
import { studioZone } from '../../db/calendar.ts'
import { callBasis, keepCall } from '../../db/calls.ts'
import { nextFreeBench } from '../../db/freeBench.ts'
import { dayOf } from '../trade/calendar.ts'
import { mostSpins } from '../trade/callQuote.ts'
import { deliverableKinds } from '../trade/price.ts'
import { sizeClasses } from '../trade/product.ts'
import { Refusal } from '../trade/refusal.ts'
import { call, day, type InStudio, idOf, maybeText, router, text } from './kit.ts'

const clientId = idOf('client')

const AskInput = z.object({
  spins: z
    .int('How many products is missing. Enter a whole number.')
    .min(1, 'A call is about at least 1 product.')
    .max(mostSpins, `A call is about at most ${mostSpins} products. Make a job and quote it.`),
  sizeClass: z.enum(sizeClasses),
  finishClassId: idOf('finish_class').nullable(),
  kinds: z
    .array(z.enum(deliverableKinds))
    .min(1, 'Nothing is to be delivered yet. Choose a loop, a frame set or stills.')
    .refine((kinds) => new Set(kinds).size === kinds.length, 'A deliverable is chosen twice.'),
})

const longestMs = 400 * 86_400_000
const duration = z.int().min(0).max(longestMs, 'So much time does not fit any bench.')

/** A call answered while the caller waits, and kept as an enquiry. */
export const callCalls = router({
  /** What price and floor are worked out from in the page; with a client its own list and wishes. */
  basis: call
    .input(z.object({ clientId: clientId.nullable().default(null) }))
    .query(({ ctx, input }) => callBasis(ctx.db, input.clientId, today(ctx))),

  /** The next day with room on a bench for one spin, and the day by which all fit. */
  free: call
    .input(z.object({ spinMs: duration, allMs: duration }))
    .query(({ ctx, input }) => nextFreeBench(ctx.db, input.spinMs, input.allMs, ctx.now)),

  keep: call
    .input(
      z.object({
        /** A known client, or the name of a new one. */
        clientId: clientId.nullable(),
        name: maybeText(200),
        phone: maybeText(60),
        ask: AskInput,
        title: text('The title'),
        told: text('What was told', 2000),
        callBackDay: day,
      }),
    )
    .mutation(({ ctx, input: { clientId, name, phone, ...input } }) => {
      if (input.callBackDay < today(ctx)) {
        throw new Refusal(
          'call-back-past',
          `${input.callBackDay} is past. Choose today or a later day to call back.`,
          { field: 'callBackDay' },
        )
      }
      if (clientId !== null) return keepCall(ctx, { ...input, client: { clientId } })
      if (name !== null) return keepCall(ctx, { ...input, client: { name, phone } })
      throw new Refusal(
        'no-caller',
        'Who called is missing. Choose a client, or type the name of a new one.',
        {
          field: 'name',
        },
      )
    }),
})

function today(ctx: InStudio): string {
  return dayOf(ctx.now, studioZone(ctx.db))
}
