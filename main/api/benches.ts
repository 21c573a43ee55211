import * as z from 'zod'
import {
  addBench,
  addClosure,
  changeBench,
  closuresBetween,
  findBench,
  listBenches,
  removeClosure,
  retireBench,
} from '../../db/benches.ts'
import { benchPlan, waitingSpins } from '../../db/benchPlan.ts'
import { daySheetOf } from '../../db/daySheet.ts'
import { daySheetPaper } from '../papers/daySheet.ts'
import { shown } from '../trade/measures.ts'
import { Refusal } from '../trade/refusal.ts'
import { call, day, type InStudio, idOf, maybeText, page, router, text } from './kit.ts'
import { namingTwin } from './twins.ts'

const minute = z.int('A time is a whole number of minutes.').min(0).max(1440, 'A day ends at 24:00.')

const BenchInput = z.object({
  name: text('The bench’s name', 60),
  place: z.enum(['ours', 'client']).default('ours'),
  address: maybeText(300),
  loadLimitG: z
    .int('A load limit is a whole number of grams.')
    .positive('A load limit is more than 0. Leave it empty where the maker gives none.')
    .nullable()
    .default(null),
  openings: z
    .array(
      z
        .object({ weekday: z.int().min(1).max(7), fromMinute: minute, toMinute: minute })
        .refine(({ fromMinute, toMinute }) => toMinute > fromMinute, {
          message: 'The bench closes before it opens. Enter a later closing time.',
          path: ['toMinute'],
        }),
    )
    .max(50, 'A bench has at most 50 stretches of opening hours.')
    .refine((openings) => !openings.some((a, i) => openings.slice(i + 1).some((b) => overlap(a, b))), {
      message: 'Two opening hours of one day overlap. Change one of them.',
    }),
  platterIds: z.array(idOf('platter')).max(100).default([]),
})

interface Hours {
  readonly weekday: number
  readonly fromMinute: number
  readonly toMinute: number
}

function overlap(a: Hours, b: Hours): boolean {
  return a.weekday === b.weekday && a.fromMinute < b.toMinute && b.fromMinute < a.toMinute
}

const benchId = idOf('bench')

/** Benches, their opening hours and closures, and the plan of what is booked on them. */
export const benchCalls = router({
  list: call
    .input(z.object({ gone: z.boolean() }).default({ gone: false }))
    .query(({ ctx, input }) => listBenches(ctx.db, input.gone)),

  one: call.input(z.object({ benchId })).query(({ ctx, input }) => known(ctx, input.benchId)),

  add: call.input(BenchInput).mutation(({ ctx, input }) => ({
    benchId: namingTwin('bench', () => addBench(ctx, input)),
  })),

  change: call.input(z.object({ benchId, bench: BenchInput })).mutation(({ ctx, input }) => {
    known(ctx, input.benchId)
    namingTwin('bench', () => changeBench(ctx, input.benchId, input.bench))
  }),

  retire: call.input(z.object({ benchId, gone: z.boolean() })).mutation(({ ctx, input }) => {
    known(ctx, input.benchId)
    retireBench(ctx, input.benchId, input.gone)
  }),

  closures: call
    .input(z.object({ fromDay: day, toDay: day }))
    .query(({ ctx, input }) => closuresBetween(ctx.db, input.fromDay, input.toDay)),

  /** Closes a bench, or with no bench the whole studio. */
  addClosure: call
    .input(
      z
        .object({
          benchId: benchId.nullable(),
          fromDay: day,
          toDay: day,
          reason: text('The reason of the closure', 200),
        })
        .refine(({ fromDay, toDay }) => toDay >= fromDay, {
          message: 'The last closed day is before the first. Enter that day or a later one.',
          path: ['toDay'],
        }),
    )
    .mutation(({ ctx, input }) => {
      if (input.benchId !== null) known(ctx, input.benchId)
      return addClosure(ctx, input)
    }),

  removeClosure: call
    .input(z.object({ closureId: idOf('closure') }))
    .mutation(({ ctx, input }) => removeClosure(ctx, input.closureId)),

  /** Every bench in use over some days, with what is due then. */
  plan: call
    .input(z.object({ firstDay: day, days: z.int().min(1).max(31) }))
    .query(({ ctx, input }) => benchPlan(ctx.db, input.firstDay, input.days)),

  /** Spins that wait for a place on a bench, by job and rig; of one job where it is named. */
  waiting: call
    .input(z.object({ page, jobId: idOf('job').nullable().default(null) }))
    .query(({ ctx, input }) => waitingSpins(ctx.db, input.page, ctx.now, { jobId: input.jobId })),

  daySheet: call
    .input(z.object({ benchId, day }))
    .query(({ ctx, input }) => shown(daySheetOf(ctx.db, known(ctx, input.benchId), input.day))),

  /** Writes the day sheet as a paper; the page shows `/papers/<attachmentId>`. */
  printDaySheet: call.input(z.object({ benchId, day })).mutation(async ({ ctx, input }) => {
    const bench = known(ctx, input.benchId)
    return { attachmentId: await daySheetPaper(ctx, daySheetOf(ctx.db, bench, input.day)) }
  }),
})

function known(ctx: InStudio, id: z.output<typeof benchId>) {
  const bench = findBench(ctx.db, id)
  if (!bench) throw new Refusal('no-bench', 'This bench is not in the studio.')
  return bench
}
