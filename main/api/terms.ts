import * as z from 'zod'
import { changeTerms, listTerms } from '../../db/terms.ts'
import { termKinds } from '../trade/terms.ts'
import { call, router } from './kit.ts'

const TermInput = z
  .object({
    kind: z.enum(termKinds),
    withinDays: z
      .int('The days are missing. Enter a whole number.')
      .min(0, 'Days cannot be below 0.')
      .max(365, 'At most 365 days before.'),
    chargePpm: z
      .int('The share is missing. Enter a percentage.')
      .min(0, 'A share cannot be below 0 %.')
      .max(1_000_000, 'A share is at most 100 %.'),
  })
  .refine(({ kind, withinDays }) => kind !== 'idle bench' || withinDays === 0, {
    message: 'An idle bench has no notice. Leave the days at 0.',
    path: ['withinDays'],
  })

/** What the studio charges for cancelling, moving late and an idle bench. */
export const termCalls = router({
  list: call.query(({ ctx }) => listTerms(ctx.db)),

  change: call
    .input(
      z
        .array(TermInput)
        .max(30)
        .superRefine((terms, context) => {
          terms.forEach((term, index) => {
            const isTwin = terms
              .slice(0, index)
              .some(({ kind, withinDays }) => kind === term.kind && withinDays === term.withinDays)
            if (!isTwin) return
            context.addIssue({
              code: 'custom',
              message: 'There is a term for these days already. Change one of them.',
              path: [index, 'withinDays'],
            })
          })
        }),
    )
    .mutation(({ ctx, input }) => changeTerms(ctx, input)),
})
