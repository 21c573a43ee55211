import * as z from 'zod'
import { waitingSpins } from '../../db/benchPlan.ts'
import type { Id } from '../../db/ids.ts'
import type { Db } from '../../db/open.ts'
import { type PlanQuestion, planQuestion } from '../../db/planProblem.ts'
import { lateSpins, movableBlocks, shownBlocks } from '../../db/planResult.ts'
import { rebook } from '../../db/rebooking.ts'
import { Refusal } from '../trade/refusal.ts'
import { type PlanFound, type PlanRun, runPlan, trialsFor } from '../work/planRun.ts'
import { call, type InStudio, idOf, maybeText, router } from './kit.ts'

/** Days from today that a plan looks at. */
const horizonDays = 120
const mostSpins = 1000

interface Kept {
  readonly question: PlanQuestion
  readonly run: PlanRun
  readonly personIds: readonly Id<'person'>[]
  readonly replanned: readonly Id<'booking'>[]
  readonly askedAt: string
  found?: PlanFound
  /** A bug on the way: thrown to whoever asks next, so that it is logged. */
  failure?: unknown
}

/** The last plans of a studio; a plan lives no longer than the program. */
const plans = new WeakMap<Db, Map<number, Kept>>()
const plansKept = 5
let lastPlan = 0

const PlanInput = z.object({
  /** Spins to plan; left out, everything that waits for a place. */
  shootIds: z.array(idOf('shoot')).max(mostSpins, 'A plan holds at most 1,000 spins.').optional(),
  benchIds: z.array(idOf('bench')).max(20),
  personIds: z.array(idOf('person')).max(20),
  /** True to plan the blocks to come anew too, but for those that are fixed. */
  replan: z.boolean().default(false),
  /** True to move as little of them as the promised days allow. */
  keepsPlaces: z.boolean().default(false),
})

const OnePlan = z.object({ planId: z.int().positive() })

/** Plans of the bench: asked for, searched in a thread of their own, accepted or left. */
export const planCalls = router({
  /** Begins the search for a plan. Nothing is booked. */
  start: call.input(PlanInput).mutation(({ ctx, input }) => {
    const movable = input.replan ? movableBlocks(ctx.db, ctx.now) : []
    const waiting = input.shootIds ?? everythingWaiting(ctx.db)
    const shootIds = [...new Set([...waiting, ...movable.flatMap((block) => block.shootIds)])]
    if (shootIds.length > mostSpins) {
      throw new Refusal(
        'too-many-spins',
        `${shootIds.length} spins are too many for one plan. Choose up to 1,000 of them.`,
      )
    }
    const replanned = movable.map(({ id }) => id)
    const question = planQuestion(ctx.db, { ...input, shootIds, replanned, days: horizonDays }, ctx.now)
    const run = runPlan(question.data, trialsFor(question.spins.length))
    return { planId: keep(ctx, { question, run, personIds: input.personIds, replanned, askedAt: ctx.now }) }
  }),

  /** How far the search is, or the plan with what it costs, beside the two simple orders. */
  state: call.input(OnePlan).query(({ ctx, input }) => {
    const kept = thePlan(ctx.db, input.planId)
    if (kept.failure !== undefined) throw kept.failure
    const { question, run, found } = kept
    const spins = question.spins.length
    if (!found) return { state: 'working' as const, spins, trials: run.trials, ...run.progress() }
    return {
      state: 'done' as const,
      spins,
      ...whatItSays(ctx.db, kept, found),
    }
  }),

  /** Ends a search with the best plan so far. */
  stop: call.input(OnePlan).mutation(({ ctx, input }) => thePlan(ctx.db, input.planId).run.stop()),

  /** Books what a plan proposes, in the place of the blocks it plans anew: all of it or nothing. */
  accept: call.input(OnePlan.extend({ overruledReason: maybeText(300) })).mutation(({ ctx, input }) => {
    const kept = thePlan(ctx.db, input.planId)
    if (!kept.found)
      throw new Refusal('still-searching', 'The plan is still being searched. Wait for it, or stop it.')
    const blocks = shownBlocks(ctx.db, kept.question, kept.found.plan, kept.personIds)
    const bookingIds = rebook(
      ctx,
      kept.replanned,
      blocks.map((block) => ({ ...block, overruledReason: input.overruledReason })),
    )
    plans.get(ctx.db)?.delete(input.planId)
    return { bookingIds }
  }),
})

function everythingWaiting(db: Db): readonly Id<'shoot'>[] {
  return waitingSpins(db, { offset: 0, limit: 500 }).groups.flatMap(({ shootIds }) => shootIds)
}

function keep(ctx: InStudio, kept: Kept): number {
  const mine = plans.get(ctx.db) ?? new Map<number, Kept>()
  plans.set(ctx.db, mine)
  lastPlan += 1
  mine.set(lastPlan, kept)
  for (const [planId, old] of mine) {
    if (mine.size <= plansKept) break
    old.run.stop()
    mine.delete(planId)
  }
  kept.run.found.then(
    (found) => {
      kept.found = found
    },
    (failure: unknown) => {
      kept.failure = failure
    },
  )
  return lastPlan
}

function thePlan(db: Db, planId: number): Kept {
  const kept = plans.get(db)?.get(planId)
  if (!kept) throw new Refusal('no-plan', 'This plan is gone: it was accepted or is too old. Plan again.')
  return kept
}

function whatItSays(db: Db, { question, personIds, replanned, askedAt }: Kept, found: PlanFound) {
  const { plan } = found
  const name = (id: number) => question.spins.find(({ shootId }) => shootId === id)?.name ?? ''
  return {
    askedAt,
    blocks: shownBlocks(db, question, plan, personIds),
    late: lateSpins(db, question, plan),
    unplaced: plan.unplaced.map(name),
    tooLong: plan.impossible.map(name),
    leftOut: question.leftOut,
    outages: question.outages,
    atRisk: question.atRisk,
    replanned: replanned.length,
    isProved: plan.isProved,
    cost: plan.cost,
    bound: plan.bound,
    byDueDay: found.byDueDay,
    byNearestRig: found.byNearestRig,
  }
}
