import * as z from 'zod'
import { blocksBeforeGoods, freeBlocks, freedBlocks } from '../../db/freedTime.ts'
import { jobPromise } from '../../db/promises.ts'
import {
  agreeOnSamples,
  goWithoutSamples,
  moveSamples,
  movesOfSample,
  samplesOfJob,
} from '../../db/samples.ts'
import { shelf } from '../../db/shelf.ts'
import { presentOf } from './jobs.ts'
import { call, day, idOf, maybeText, page, router, text } from './kit.ts'
import { ShootIds } from './spins.ts'

const SampleIds = z.array(idOf('sample')).min(1, 'Choose at least one sample.').max(2000)
const valueMinor = z.int().min(0, 'A value is 0 or more.').nullable()

/** The client's products in our custody. Values in minor units of the job's currency. */
export const sampleCalls = router({
  list: call
    .input(z.object({ jobId: idOf('job') }))
    .query(({ ctx, input }) => samplesOfJob(ctx.db, input.jobId)),

  moves: call
    .input(z.object({ sampleId: idOf('sample') }))
    .query(({ ctx, input }) => movesOfSample(ctx.db, input.sampleId)),

  /** Arrived, missing, wrong, broken, gone: one sample or forty at once. Without `at` it happened now. */
  move: call
    .input(
      z.object({
        sampleIds: SampleIds,
        move: z.enum(['arrive', 'shift', 'miss', 'wrong', 'break', 'sendBack', 'keep', 'destroy']),
        at: z.iso
          .datetime({ offset: true, error: 'This is no time. Enter a day and a time.' })
          .transform((at) => new Date(at).toISOString())
          .nullable()
          .default(null),
        place: maybeText(100),
        condition: maybeText(500),
        carrier: maybeText(100),
        note: maybeText(),
        valueMinor: valueMinor.default(null),
      }),
    )
    .mutation(({ ctx, input }) => {
      const { sampleIds, move, at, ...detail } = input
      return { promises: moveSamples(ctx, sampleIds, move, { ...detail, at: at ?? ctx.now }) }
    }),

  /** What is left out stays as it was. */
  agree: call
    .input(
      z.object({
        sampleIds: SampleIds,
        expectedDay: day.nullable().optional(),
        fate: z.enum(['return', 'keep', 'destroy']).optional(),
        valueMinor: valueMinor.optional(),
      }),
    )
    .mutation(({ ctx, input }) => {
      const { sampleIds, ...agreed } = input
      return { promises: agreeOnSamples(ctx, sampleIds, agreed) }
    }),

  /** Lets spins go on without their samples, with a reason; a null reason waits for them again. */
  goWithout: call
    .input(z.object({ shootIds: ShootIds, reason: text('The reason', 500).nullable() }))
    .mutation(({ ctx, input }) => ({ promises: goWithoutSamples(ctx, input.shootIds, input.reason) })),

  /** What a job's samples make of its promise, and which of its blocks lie before its goods. */
  promise: call.input(z.object({ jobId: idOf('job') })).query(({ ctx, input }) => ({
    ...jobPromise(ctx.db, input.jobId, ctx.now),
    before: blocksBeforeGoods(ctx.db, ctx.now, input),
  })),

  /** Blocks of the next days that lie before their goods, and what waits that would fit into the time they free. */
  freed: call
    .input(z.object({ days: z.int().min(1).max(31).default(7) }))
    .query(({ ctx, input }) => freedBlocks(ctx.db, ctx.now, input.days)),

  /** Takes off their blocks the spins whose goods are not in by then. */
  freeBlocks: call
    .input(
      z.object({
        bookingIds: z.array(idOf('booking')).min(1, 'No block is chosen. Choose at least one.').max(200),
      }),
    )
    .mutation(({ ctx, input }) => freeBlocks(ctx, input.bookingIds)),

  shelf: call
    .input(
      z.object({
        part: z.enum(['all', 'done', 'overdue']).default('all'),
        order: z.enum(['place', 'client', 'job', 'code', 'arrived', 'returnBy']).default('place'),
        descending: z.boolean().default(false),
        page,
      }),
    )
    .query(({ ctx, input }) => shelf(ctx.db, { ...input, today: presentOf(ctx).today })),
})
