import * as z from 'zod'
import { lastTimesOf, lastTimesOfJob, planAsLastTime } from '../../db/lastTime.ts'
import { shown } from '../trade/measures.ts'
import { call, idOf, router } from './kit.ts'

const shootIds = z
  .array(idOf('shoot'))
  .min(1, 'No spin is chosen. Choose at least one.')
  .max(5000, 'At most 5,000 spins can be planned at once.')

/** 'Same as last time': the approved take that a spin is to match, and what has changed since. */
export const lastTimeCalls = router({
  ofJob: call
    .input(z.object({ jobId: idOf('job') }))
    .query(({ ctx, input }) => shown(lastTimesOfJob(ctx.db, input.jobId, ctx.now))),

  ofSpin: call
    .input(z.object({ shootId: idOf('shoot') }))
    .query(({ ctx, input }) => shown(lastTimesOf(ctx.db, [input.shootId], ctx.now)[0]?.lastTime ?? null)),

  /** Plans rig revision, settings and start pose of the approved take for each spin. */
  plan: call.input(z.object({ shootIds })).mutation(({ ctx, input }) => planAsLastTime(ctx, input.shootIds)),
})
