import * as z from 'zod'
import { studioZone } from '../../db/calendar.ts'
import { learnedPace, paceFrom } from '../../db/learnedPace.ts'
import { sizeLimitsMm, studioFigures } from '../../db/pace.ts'
import { basisWithoutJob, jobForPlanner } from '../../db/planner.ts'
import { quoteBasis, startingInput } from '../../db/quoteBasis.ts'
import { theStudio } from '../../db/studio.ts'
import { dayOf } from '../trade/calendar.ts'
import { shown } from '../trade/measures.ts'
import { call, idOf, router } from './kit.ts'

/** What the planner works from; the page works everything out from it while one types. Writes nothing. */
export const plannerCalls = router({
  /** The studio's figures and prices, and with a job its brief, largest product, rig and spins. */
  start: call.input(z.object({ jobId: idOf('job').nullable() })).query(({ ctx, input: { jobId } }) => {
    const { db } = ctx
    const studio = theStudio(db)
    const today = dayOf(ctx.now, studioZone(db))
    return {
      basis: jobId === null ? basisWithoutJob(db, today) : quoteBasis(db, jobId, today),
      sizeLimitsMm: sizeLimitsMm(db),
      /** Rigs that were turned on, each with its step over the studio's and what that rests on. */
      rigSteps: [...learnedPace(db).stepFactors].map(([rigId, stepFactor]) => ({
        rigId,
        stepFactor,
        from: paceFrom(db, [rigId]),
      })),
      paper: studio.paper,
      benchPeople: studioFigures(ctx.db).benchPeople,
      job:
        jobId === null
          ? null
          : { ...shown(jobForPlanner(db, jobId)), jobId, taxRateId: startingInput(db, jobId).taxRateId },
    }
  }),
})
