import * as z from 'zod'
import { addPlatter, changePlatter, findPlatter, listPlatters, retirePlatter } from '../../db/platters.ts'
import { kept, shown } from '../trade/measures.ts'
import { Refusal } from '../trade/refusal.ts'
import { call, idOf, maybeText, router, text } from './kit.ts'
import { namingTwin } from './twins.ts'

const PlatterInput = z
  .object({
    name: text('The platter’s name', 60),
    rimMm: z
      .number('The rim is missing. Enter what the tape reads where it comes round to its start, in mm.')
      .min(100, 'A rim is at least 100 mm. Measure it with its own tape.')
      .max(10_000, 'A rim is at most 10,000 mm. Measure it with its own tape.'),
    divisionMm: z
      .number('The division is missing. Enter the smallest step the tape can be read to, in mm.')
      .min(0.1, 'A division is at least 0.1 mm.')
      .max(100, 'A division is at most 100 mm.'),
    loadLimitG: z
      .int('A load limit is a whole number of grams.')
      .positive('A load limit is more than 0. Leave it empty where the maker gives none.')
      .max(10_000_000, 'A load limit is at most 10,000 kg.')
      .nullable(),
    surface: maybeText(120),
    note: maybeText(),
  })
  .refine(({ rimMm, divisionMm }) => divisionMm * 2 <= rimMm, {
    message: 'The division is over half of the rim. Enter the smallest step the tape can be read to.',
    path: ['divisionMm'],
  })

const platterId = idOf('platter')

/** Platters: the turning surfaces and what their tapes read. Lengths in mm. */
export const platterCalls = router({
  list: call
    .input(z.object({ gone: z.boolean() }).default({ gone: false }))
    .query(({ ctx, input }) => shown(listPlatters(ctx.db, input.gone))),

  one: call
    .input(z.object({ platterId }))
    .query(({ ctx, input }) => shown(knownPlatter(ctx.db, input.platterId))),

  add: call.input(PlatterInput).mutation(({ ctx, input }) => ({
    platterId: namingTwin('platter', () => addPlatter(ctx, kept(input))),
  })),

  change: call.input(z.object({ platterId, platter: PlatterInput })).mutation(({ ctx, input }) => {
    knownPlatter(ctx.db, input.platterId)
    namingTwin('platter', () => changePlatter(ctx, input.platterId, kept(input.platter)))
  }),

  retire: call.input(z.object({ platterId, gone: z.boolean() })).mutation(({ ctx, input }) => {
    knownPlatter(ctx.db, input.platterId)
    retirePlatter(ctx, input.platterId, input.gone)
  }),
})

function knownPlatter(...args: Parameters<typeof findPlatter>) {
  const platter = findPlatter(...args)
  if (!platter) throw new Refusal('no-platter', 'This platter is not in the studio.')
  return platter
}
