import * as z from 'zod'
import { studioZone } from '../../db/calendar.ts'
import type { Db } from '../../db/open.ts'
import type { PlanQuestion } from '../../db/planProblem.ts'
import {
  type QuotedWork,
  type QuoteQuestion,
  type QuoteWish,
  quoteAnswer,
  quotedWork,
  quoteQuestion,
  standingAsPlanned,
  usualGoodsDay,
} from '../../db/quotePlan.ts'
import { addDays, dayOf } from '../trade/calendar.ts'
import { Refusal } from '../trade/refusal.ts'
import { type PlanFound, type PlanRun, runPlan, trialsFor } from '../work/planRun.ts'
import { KeptPlans } from './keptPlans.ts'
import { call, day, type InStudio, idOf, router } from './kit.ts'

const OneQuote = z.object({ jobId: idOf('job'), quoteId: idOf('quote').nullable().default(null) })

const WishInput = OneQuote.extend({
  byDay: day,
  goodsDay: day,
  rigRevisionId: idOf('rig_revision').nullable().default(null),
  benchIds: z.array(idOf('bench')).max(20),
  personIds: z.array(idOf('person')).max(20),
})

const OneAnswer = z.object({ answerId: z.int().positive() })

/** Both questions, each asked without the quote's spins and with them. */
interface Asked {
  readonly wish: QuoteWish
  readonly work: QuotedWork
  readonly questions: readonly QuoteQuestion[]
  readonly progress: () => { readonly done: number; readonly trials: number }
}

interface Pair {
  readonly without: PlanFound | null
  readonly with: PlanFound
}

const answers = new KeptPlans<Asked, readonly Pair[]>('This answer is gone: it is too old. Ask again.')

/** By when a quote's spins could be turned, beside what is booked; nothing is stored. */
export const quotePlanCalls = router({
  /** What the quote speaks of, and where the page's form starts. */
  start: call.input(OneQuote).query(({ ctx, input }) => {
    const { spins, ...work } = quotedWork(ctx.db, input.jobId, input.quoteId, today(ctx))
    const goodsDay = usualGoodsDay(today(ctx))
    return {
      ...work,
      spins: spins.length,
      goodsDay,
      byDay: work.dueDay !== null && work.dueDay >= today(ctx) ? work.dueDay : addDays(goodsDay, 14),
    }
  }),

  /** Begins the search for an answer. */
  ask: call.input(WishInput).mutation(({ ctx, input }) => {
    if (input.byDay < today(ctx)) {
      throw new Refusal('day-past', `${input.byDay} is past. Enter today or a later day.`, { field: 'byDay' })
    }
    const work = quotedWork(ctx.db, input.jobId, input.quoteId, today(ctx))
    const questions = [false, true].map((moves) => quoteQuestion(ctx.db, work, input, moves, ctx.now))
    const { progress, stop, found } = searchPairs(questions)
    return { answerId: answers.keep(ctx.db, { wish: input, work, questions, progress }, { stop, found }) }
  }),

  /** How far the search is, or both answers: beside what is booked, and with everything moved that may move. */
  state: call.input(OneAnswer).query(({ ctx, input }) => {
    const { question: asked, found } = answers.one(ctx.db, input.answerId)
    if (!found) return { state: 'working' as const, ...asked.progress() }
    return { state: 'done' as const, ...saidOf(ctx.db, asked, found) }
  }),

  /** Ends the search with the best plans so far. */
  stop: call.input(OneAnswer).mutation(({ ctx, input }) => answers.one(ctx.db, input.answerId).search.stop()),
})

/** An answer is worked out once, and told to every window that looks. */
const said = new WeakMap<readonly Pair[], Said>()
type Said = ReturnType<typeof worded>

function saidOf(db: Db, asked: Asked, found: readonly Pair[]): Said {
  const known = said.get(found) ?? worded(db, asked, found)
  said.set(found, known)
  return known
}

function worded(db: Db, { wish, work, questions }: Asked, found: readonly Pair[]) {
  const [beside, moving] = questions.map((question, k) => {
    const pair = found[k] as Pair
    return quoteAnswer(db, question, wish, { without: pair.without?.plan ?? null, with: pair.with.plan })
  })
  if (!beside || !moving) throw new Error('Both questions have an answer.')
  return {
    byDay: wish.byDay,
    spins: work.spins.length,
    deskMs: work.deskMs,
    leftOut: (questions[0] as QuoteQuestion).with.leftOut.length,
    /** Waiting spins that neither question plans. */
    otherSpins: Math.max(...questions.map(({ otherSpins }) => otherSpins)),
    beside,
    moving,
  }
}

/**
 * Searches each question without the quote's spins, and then with them from where that plan has all others: what differs
 * is then the quote's doing, and not the search's. The questions are searched side by side.
 */
function searchPairs(questions: readonly QuoteQuestion[]) {
  const runs: PlanRun[] = []
  let isStopped = false
  const search = ({ data }: PlanQuestion): Promise<PlanFound> => {
    // A search that was stopped still needs its plans: then the best of the starting orders.
    const run = runPlan(data, isStopped ? 1 : trialsFor(data.items.length))
    runs.push(run)
    return run.found
  }
  const pairOf = async (question: QuoteQuestion): Promise<Pair> => {
    const without = question.without && (await search(question.without))
    const asked = without ? standingAsPlanned(question.with, without.plan) : question.with
    return { without, with: await search(asked) }
  }
  const all = questions.flatMap(({ without, with: asked }) => (without ? [without, asked] : [asked]))
  const trials = all.reduce((sum, { data }) => sum + trialsFor(data.items.length), 0)
  return {
    progress: () => ({ done: runs.reduce((sum, run) => sum + run.progress().done, 0), trials }),
    stop: () => {
      isStopped = true
      for (const run of runs) run.stop()
    },
    found: Promise.all(questions.map(pairOf)),
  }
}

function today(ctx: InStudio): string {
  return dayOf(ctx.now, studioZone(ctx.db))
}
