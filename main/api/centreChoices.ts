import * as z from 'zod'
import { centreOfSpin, chooseCentre } from '../../db/centreChoices.ts'
import { centreChoices } from '../trade/check/centre/centre.ts'
import { call, idOf, router } from './kit.ts'

const OneSpin = z.object({ shootId: idOf('shoot') })

/** What of a spin is to stand on the axis: its takes and the help before them are told off the axis by it. */
export const centreChoiceCalls = router({
  ofSpin: call.input(OneSpin).query(({ ctx, input }) => centreOfSpin(ctx.db, input.shootId)),

  choose: call.input(OneSpin.extend({ choice: z.enum(centreChoices) })).mutation(({ ctx, input }) => {
    chooseCentre(ctx, input.shootId, input.choice)
  }),
})
