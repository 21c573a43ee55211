import * as z from 'zod'
import type { Id } from '../../db/ids.ts'
import { refuseOvertaken } from '../../db/planChanges.ts'
import { planDays } from '../../db/planDays.ts'
import { type PlanQuestion, planQuestion } from '../../db/planProblem.ts'
import { refuseUnshared } from '../../db/planResult.ts'
import { type MovableBlock, movableBlocks, waitingShootIds, waitingWork } from '../../db/planWaiting.ts'
import { changePlanWeights, planWeights } from '../../db/planWeights.ts'
import { rebook } from '../../db/rebooking.ts'
import { Refusal } from '../trade/refusal.ts'
import { type PlanFound, runPlan, trialsFor } from '../work/planRun.ts'
import { KeptPlans } from './keptPlans.ts'
import { call, day, type InStudio, idOf, maybeText, router } from './kit.ts'
import { type AskedPlan, liftedBy, proposalOf, saidOf } from './planSaid.ts'

/** Days from today that a plan looks at. */
const horizonDays = 120
const mostSpins = 1000
/** Where everything that waits is planned, the spins due first up to here: as many as are searched well in two seconds. */
const mostUrgent = 300

/** The spins of a plan: those chosen, those of a job, or everything that waits for a place. */
const WhichInput = z.object({
  shootIds: z.array(idOf('shoot')).max(mostSpins, 'A plan holds at most 1,000 spins.').optional(),
  jobId: idOf('job').optional(),
})

const PlanInput = WhichInput.extend({
  benchIds: z.array(idOf('bench')).max(20),
  personIds: z.array(idOf('person')).max(20),
  /** True to plan the blocks to come anew too, but for those that are fixed; with a job, its own blocks. */
  replan: z.boolean().default(false),
  /** True to move as little of them as the promised days allow. */
  keepsPlaces: z.boolean().default(false),
})
export type PlanAsk = z.output<typeof PlanInput>

function weight(what: string) {
  return z
    .int(`${what} is missing. Enter a whole number.`)
    .min(1, `${what} is at least 1.`)
    .max(100, `${what} is at most 100.`)
}

const WeightsInput = z
  .object({
    low: weight('What a late minute of a low job counts'),
    normal: weight('What a late minute of a normal job counts'),
    high: weight('What a late minute of a high job counts'),
  })
  .refine(({ low, normal }) => low <= normal, {
    message: 'A low job cannot count more than a normal one. Enter a larger number for the normal one.',
    path: ['normal'],
  })
  .refine(({ normal, high }) => normal <= high, {
    message: 'A normal job cannot count more than a high one. Enter a larger number for the high one.',
    path: ['high'],
  })

const OnePlan = z.object({ planId: z.int().positive() })

const plans = new KeptPlans<AskedPlan, PlanFound>(
  'This plan is gone: it was accepted or is too old. Plan again.',
)

/** Plans of the bench: asked for, searched in a thread of their own, accepted or left. */
export const planCalls = router({
  /** What a plan of these spins could hold: how much of them waits, and which blocks to come may move. */
  choices: call.input(WhichInput).query(({ ctx, input }) => {
    const { jobId = null, shootIds = null } = input
    const blocks = movableBlocks(ctx.db, ctx.now, jobId)
    return {
      waiting: waitingWork(ctx.db, { jobId, shootIds }, ctx.now),
      movable: { blocks: blocks.length, spins: new Set(blocks.flatMap((block) => block.shootIds)).size },
      /** Of everything that waits, as many spins as one plan takes, the earliest due first. */
      mostUrgent: jobId === null && shootIds === null ? mostUrgent : mostSpins,
    }
  }),

  /** Begins the search for a plan. Nothing is booked. */
  start: call.input(PlanInput).mutation(({ ctx, input }) => ({ planId: begin(ctx, input) })),

  /** Begins the search anew, as it was asked for, in the world as it is now. */
  again: call.input(OnePlan).mutation(({ ctx, input }) => {
    const { ask } = plans.one(ctx.db, input.planId).question
    const planId = begin(ctx, ask)
    plans.forget(ctx.db, input.planId)
    return { planId }
  }),

  /** How far the search is, or the plan with what it costs, beside the two simple orders. */
  state: call.input(OnePlan).query(({ ctx, input }) => {
    const { question: asked, found } = plans.one(ctx.db, input.planId)
    const { question, run } = asked
    const spins = question.spins.length
    if (!found) return { state: 'working' as const, spins, trials: run.trials, ...run.progress() }
    return { state: 'done' as const, spins, ...saidOf(ctx.db, asked, found) }
  }),

  /** A week of the benches with what stays on them, what is free, what is due and comes in; the plan's blocks are told by `state`. */
  days: call.input(OnePlan.extend({ firstDay: day })).query(({ ctx, input }) => {
    const { question: asked, found } = plans.one(ctx.db, input.planId)
    if (!found) return []
    return planDays(ctx.db, proposalOf(ctx.db, asked, found), { firstDay: input.firstDay, count: 7 }, ctx.now)
  }),

  /** Ends a search with the best plan so far. */
  stop: call.input(OnePlan).mutation(({ ctx, input }) => plans.one(ctx.db, input.planId).search.stop()),

  /** Books what a plan proposes, in the place of the blocks it plans anew: all of it or nothing. */
  accept: call.input(OnePlan.extend({ overruledReason: maybeText(300) })).mutation(({ ctx, input }) => {
    const { question: asked, found } = plans.one(ctx.db, input.planId)
    if (!found)
      throw new Refusal('still-searching', 'The plan is still being searched. Wait for it, or stop it.')
    const { question, replanned, askedAt } = asked
    refuseOvertaken(
      ctx.db,
      { askedAt, replanned, spins: question.spins, startsAt: firstInstant(question, found) },
      ctx.now,
    )
    const { blocks } = proposalOf(ctx.db, asked, found)
    refuseUnshared(blocks)
    const bookingIds = rebook(
      ctx,
      blockIds(replanned),
      blocks.map((block) => ({ ...block, overruledReason: input.overruledReason })),
    )
    plans.forget(ctx.db, input.planId)
    return { bookingIds }
  }),

  /** Lets a plan go; nothing was booked, and nothing is. */
  discard: call.input(OnePlan).mutation(({ ctx, input }) => plans.forget(ctx.db, input.planId)),

  /** What a minute late counts, by the job's priority. */
  weights: call.query(({ ctx }) => planWeights(ctx.db)),

  setWeights: call.input(WeightsInput).mutation(({ ctx, input }) => changePlanWeights(ctx, input)),
})

function begin(ctx: InStudio, ask: PlanAsk): number {
  const { jobId = null, shootIds: named = null } = ask
  const replanned = ask.replan ? movableBlocks(ctx.db, ctx.now, jobId) : []
  const isEverything = jobId === null && named === null
  const which = { jobId, shootIds: named }
  const limit = isEverything ? mostUrgent : mostSpins
  const waiting = waitingShootIds(ctx.db, which, limit, ctx.now)
  const shootIds = [...new Set([...waiting, ...replanned.flatMap((block) => block.shootIds)])]
  if (shootIds.length > mostSpins) {
    throw new Refusal(
      'too-many-spins',
      `${shootIds.length} spins are too many for one plan. Choose up to 1,000 of them.`,
    )
  }
  const question = planQuestion(
    ctx.db,
    {
      shootIds,
      benchIds: ask.benchIds,
      personIds: ask.personIds,
      replanned: liftedBy(replanned),
      keepsPlaces: ask.keepsPlaces,
      days: horizonDays,
    },
    ctx.now,
  )
  const run = runPlan(question.data, trialsFor(question.spins.length))
  const otherSpins = waiting.length < limit ? 0 : waitingWork(ctx.db, which, ctx.now).spins - waiting.length
  return plans.keep(ctx.db, { ask, question, replanned, otherSpins, askedAt: ctx.now, run }, run)
}

function blockIds(blocks: readonly MovableBlock[]): readonly Id<'booking'>[] {
  return blocks.map(({ id }) => id)
}

/** When the first set change or turn of a plan begins; null for a plan without any. */
function firstInstant({ baseMs }: PlanQuestion, { plan }: PlanFound): string | null {
  const starts = plan.placed.map(({ change, startMin }) => change?.fromMin ?? startMin)
  return starts.length === 0 ? null : new Date(baseMs + Math.min(...starts) * 60_000).toISOString()
}
