import * as z from 'zod'
import { briefById } from '../../db/briefs.ts'
import { studioZone } from '../../db/calendar.ts'
import { jobHistory } from '../../db/events.ts'
import { cancelJob, holdJob, loseJob, prioritiseJob, releaseJob, reopenJob } from '../../db/jobActs.ts'
import { rewriteJobBrief } from '../../db/jobBriefs.ts'
import { listJobs } from '../../db/jobLists.ts'
import { jobPage } from '../../db/jobPage.ts'
import { jobStatus } from '../../db/jobStatus.ts'
import { addJob, changeJob, jobById } from '../../db/jobs.ts'
import { statusCsv } from '../papers/statusCsv.ts'
import { dayOf } from '../trade/calendar.ts'
import { historySentence } from '../trade/history.ts'
import { BriefInput } from './briefs.ts'
import { call, day, type InStudio, idOf, maybeText, page, router, text } from './kit.ts'
import { SpinInputs } from './spins.ts'

const JobInput = z.object({
  contactId: idOf('contact').nullable(),
  title: text('The job’s title'),
  orderNumber: maybeText(100),
  buyerReference: maybeText(100),
  costCentre: maybeText(100),
  enquiredDay: day.nullable().default(null),
  callBackDay: day.nullable(),
  dueDay: day.nullable(),
  promiseWorkingDays: z
    .int('A promise is a whole number of working days.')
    .min(1, 'A promise is at least 1 working day.')
    .max(365, 'A promise is at most 365 working days.')
    .nullable(),
  returnByDay: day.nullable(),
  roundsIncluded: z
    .int('Rounds are a whole number.')
    .min(0)
    .max(20, 'At most 20 rounds can be included.')
    .nullable()
    .default(null),
  note: maybeText(),
})

const OneJob = z.object({ jobId: idOf('job') })

/** Which jobs a list shows, as the page sends it. */
export const JobFilterInput = z.object({
  clientId: idOf('client').nullable().default(null),
  benchId: idOf('bench').nullable().default(null),
  lateOnly: z.boolean().default(false),
})

/** The present of a call: its instant, and the studio's day. */
export function presentOf({ db, now }: Pick<InStudio, 'db' | 'now'>) {
  return { today: dayOf(now, studioZone(db)), now }
}

/** Jobs: one order by a client each. Money in minor units of the job's currency. */
export const jobCalls = router({
  list: call
    .input(
      JobFilterInput.extend({
        openOnly: z.boolean().default(true),
        order: z
          .enum(['due', 'number', 'client', 'title', 'station', 'benchLeft', 'value', 'priority'])
          .default('due'),
        descending: z.boolean().default(false),
        page,
      }),
    )
    .query(({ ctx, input }) => {
      const { order, descending, page: part, ...filter } = input
      return listJobs(ctx.db, filter, presentOf(ctx), order, descending, part)
    }),

  one: call.input(OneJob).query(({ ctx, input }) => jobPage(ctx.db, input.jobId)),

  brief: call
    .input(OneJob)
    .query(({ ctx, input }) => briefById(ctx.db, jobById(ctx.db, input.jobId).briefId)),

  rewriteBrief: call
    .input(OneJob.extend({ brief: BriefInput }))
    .mutation(({ ctx, input }) => rewriteJobBrief(ctx, input.jobId, input.brief)),

  add: call
    .input(
      z.object({
        clientId: idOf('client', 'Choose whose job it is.'),
        job: JobInput,
        spins: SpinInputs.default([]),
      }),
    )
    .mutation(({ ctx, input }) => addJob(ctx, input.clientId, input.job, input.spins)),

  change: call.input(OneJob.extend({ job: JobInput })).mutation(({ ctx, input }) => {
    changeJob(ctx, input.jobId, input.job)
  }),

  hold: call
    .input(OneJob.extend({ reason: text('The reason', 500), until: day }))
    .mutation(({ ctx, input }) => {
      holdJob(ctx, input.jobId, input.reason, input.until)
    }),

  release: call.input(OneJob).mutation(({ ctx, input }) => {
    releaseJob(ctx, input.jobId)
  }),

  setPriority: call
    .input(OneJob.extend({ priority: z.enum(['low', 'normal', 'high']) }))
    .mutation(({ ctx, input }) => {
      prioritiseJob(ctx, input.jobId, input.priority)
    }),

  lose: call
    .input(
      OneJob.extend({
        reason: text('The reason', 500),
        priceMinor: z.int().min(0, 'A price is 0 or more.').nullable(),
      }),
    )
    .mutation(({ ctx, input }) => {
      loseJob(ctx, input.jobId, input.reason, input.priceMinor)
    }),

  cancel: call.input(OneJob.extend({ reason: text('The reason', 500) })).mutation(({ ctx, input }) => {
    cancelJob(ctx, input.jobId, input.reason)
  }),

  reopen: call.input(OneJob).mutation(({ ctx, input }) => {
    reopenJob(ctx, input.jobId)
  }),

  /** The job's history, newest first; `before` is the id of the last entry shown. */
  history: call
    .input(
      OneJob.extend({
        before: z.int().positive().nullable().default(null),
        limit: z.int().min(1).max(200).default(50),
      }),
    )
    .query(({ ctx, input }) =>
      jobHistory(ctx.db, input.jobId, input.before, input.limit).map(({ id, at, person, what, detail }) => ({
        id,
        at,
        person,
        sentence: historySentence(what, detail),
      })),
    ),

  /** Where every product of the job is, as a CSV file for the client. */
  statusCsv: call.input(OneJob).query(({ ctx, input }) => {
    const { number } = jobById(ctx.db, input.jobId)
    return {
      fileName: `${number}-status-${presentOf(ctx).today}.csv`,
      csv: statusCsv(jobStatus(ctx.db, input.jobId)),
    }
  }),
})
