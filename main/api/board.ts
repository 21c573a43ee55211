import { boardChoices, boardJobs } from '../../db/board.ts'
import { JobFilterInput, presentOf } from './jobs.ts'
import { call, router } from './kit.ts'

/** The board: every open job at its station and due day. `jobs.list` gives the same jobs as a sorted list. */
export const boardCalls = router({
  jobs: call.input(JobFilterInput).query(({ ctx, input }) => {
    const present = presentOf(ctx)
    return { today: present.today, jobs: boardJobs(ctx.db, input, present) }
  }),

  choices: call.query(({ ctx }) => boardChoices(ctx.db)),
})
