import { studioLearning } from '../../db/figures.ts'
import { studioLessons } from '../../db/takeLessons.ts'
import { backTestState, startBackTest, stopBackTest } from '../work/backTest.ts'
import { call, router } from './kit.ts'

/** What takes have taught, and how close past quotes would have come. */
export const figureCalls = router({
  learned: call.query(({ ctx }) => studioLearning(ctx.db)),

  /** Pace and faults by the hour of the day, by rig and by person. */
  lessons: call.query(({ ctx }) => studioLessons(ctx.db)),

  /** Begins the back-test where there is none or it is behind; tells how far it is, or what came of it. */
  backTest: call.query(({ ctx }) => backTestState(ctx.db)),

  startBackTest: call.mutation(({ ctx }) => {
    startBackTest(ctx.db)
  }),

  stopBackTest: call.mutation(({ ctx }) => {
    stopBackTest(ctx.db)
  }),
})
