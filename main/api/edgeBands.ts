import * as z from 'zod'
import { cameraPlaceOfTake, drawEdgeBand, edgeBand, takeEdgeBandAway } from '../../db/edgeBands.ts'
import { call, idOf, router } from './kit.ts'

const OneTake = z.object({ takeId: idOf('take') })

const part = z
  .number('A side of the band is missing.')
  .min(0, 'The band lies within the picture: its sides are from 0 % to 100 %.')
  .max(1, 'The band lies within the picture: its sides are from 0 % to 100 %.')

/** Thinner than this, as a part of the picture, a band holds no pixel of the small frame that is read. */
const leastPart = 0.005

const Band = z
  .object({ left: part, top: part, right: part, bottom: part })
  .refine(({ left, right }) => right - left >= leastPart, {
    path: ['right'],
    message: 'The right side of the band lies right of its left side, by 0.5 % at least.',
  })
  .refine(({ top, bottom }) => bottom - top >= leastPart, {
    path: ['bottom'],
    message: 'The lower side of the band lies below its upper side, by 0.5 % at least.',
  })

/** Where the platter's edge with its mark is seen: drawn once for a rig as it stands, for each row of its spins. */
export const edgeBandCalls = router({
  /** The band by which a take is checked, and for which rig and row it holds. */
  ofTake: call.input(OneTake).query(({ ctx, input }) => {
    const { rigRevisionId, row, rigName } = cameraPlaceOfTake(ctx.db, input.takeId)
    return { band: edgeBand(ctx.db, rigRevisionId, row), row, rigName }
  }),

  draw: call.input(OneTake.extend({ band: Band })).mutation(({ ctx, input }) => {
    drawEdgeBand(ctx, cameraPlaceOfTake(ctx.db, input.takeId), input.band)
  }),

  takeAway: call.input(OneTake).mutation(({ ctx, input }) => {
    takeEdgeBandAway(ctx, cameraPlaceOfTake(ctx.db, input.takeId))
  }),
})
