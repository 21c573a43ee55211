import { addWorkingDays, dayOf, daysBetween, mondayToFriday } from '../main/trade/calendar.ts'
import { runMeansMs } from '../main/trade/estimate.ts'
import type { Schedule } from '../main/trade/plan/problem.ts'
import { deskSide, spinWorkOf } from '../main/trade/quoteTime.ts'
import { Refusal } from '../main/trade/refusal.ts'
import { studioZone } from './calendar.ts'
import type { Id } from './ids.ts'
import { jobById } from './jobs.ts'
import { learnedPace } from './learnedPace.ts'
import type { Db } from './open.ts'
import type { SpinToPlan } from './planItems.ts'
import { type PlanQuestion, type PlanRequest, planQuestion } from './planProblem.ts'
import { movableBlocks, waitingShootIds, waitingWork } from './planWaiting.ts'
import { quoteBasis, startingInput } from './quoteBasis.ts'
import { findQuote } from './quotes.ts'
import { wholeSetMs } from './spinEstimate.ts'
import { prepared } from './statement.ts'

/** Days from today that the question looks at. */
const horizonDays = 120
const mostSpins = 1000
/** Spins without a place that are planned beside the quote's, those due first. */
const mostWaiting = 300

/** A spin that a quote speaks of, with its bench time by the rows and people of the quote. */
export interface QuotedSpin {
  readonly shootId: Id<'shoot'>
  readonly estimateMs: number
}

/** The work that a quote speaks of. */
export interface QuotedWork {
  readonly spins: readonly QuotedSpin[]
  readonly benchMs: number
  /** What follows at the desk. */
  readonly deskMs: number
  /** Spins of it that have no rig planned. */
  readonly withoutRig: number
  /** Spins of it whose samples are not in. */
  readonly withoutSample: number
  /** The day the quote promises, else the job's. */
  readonly dueDay: string | null
}

/**
 * The spins of a job's quote with their mean bench times; without a quote those of its brief, as a first quote would
 * start. Refuses a job that is ordered already, a quote of another job, and a job without spins.
 */
export function quotedWork(db: Db, jobId: Id<'job'>, quoteId: Id<'quote'> | null, today: string): QuotedWork {
  const job = jobById(db, jobId)
  refuseOrdered(db, jobId)
  const quote = quoteId === null ? undefined : findQuote(db, quoteId)
  if (quoteId !== null && quote?.jobId !== jobId) {
    throw new Refusal('no-quote', 'This quote is not one of this job. Open the job’s quote again.')
  }
  const basis = quoteBasis(db, jobId, today)
  if (basis.spins.length === 0) {
    throw new Refusal('no-spins', 'This job has no spins yet. Add its products to the job first.')
  }
  const { rows, people } = quote ?? startingInput(db, jobId)
  const workOf = spinWorkOf(basis, { rows, people })
  const means = runMeansMs(basis.spins.map(workOf), basis.pace, people)
  const asked = openWork(db, jobId)
  return {
    spins: basis.spins.map(({ shootId }, k) => ({
      shootId: shootId as Id<'shoot'>,
      estimateMs: means[k] ?? 0,
    })),
    benchMs: means.reduce((sum, ms) => sum + ms, 0),
    deskMs: deskSide(basis, { rows, people }, basis.spins).desk.totalMs,
    withoutRig: asked.withoutRig,
    withoutSample: asked.withoutSample,
    dueDay: quote?.dueDay ?? job.dueDay,
  }
}

function refuseOrdered(db: Db, jobId: Id<'job'>): void {
  const standing = prepared<[number], { station: string; isOpen: 0 | 1 }>(
    db,
    'SELECT station, is_open AS isOpen FROM job_standing WHERE job_id = ?',
  ).get(jobId)
  if (standing?.isOpen !== 1) {
    throw new Refusal('job-closed', 'This job is closed. Reopen it before asking when it could be done.')
  }
  if (standing.station !== 'enquiry' && standing.station !== 'quote') {
    throw new Refusal(
      'job-ordered',
      'This job is ordered already: plan its spins on its bench page, where they can be booked.',
    )
  }
}

function openWork(db: Db, jobId: Id<'job'>): Pick<QuotedWork, 'withoutRig' | 'withoutSample'> {
  const row = prepared<[number], { withoutRig: number; withoutSample: number }>(
    db,
    `SELECT ifnull(sum(shoot.rig_revision_id IS NULL), 0) AS withoutRig,
       ifnull(sum(shoot.without_sample_reason IS NULL AND EXISTS (SELECT 1 FROM shoot_product sp
         LEFT JOIN sample ON sample.product_id = sp.product_id AND sample.job_id = shoot.job_id
         WHERE sp.shoot_id = shoot.id AND (sample.id IS NULL
           OR (sample.is_needed = 1 AND sample.state IN ('expected', 'missing', 'wrong'))))), 0) AS withoutSample
     FROM shoot WHERE shoot.job_id = ? AND shoot.cancelled_at IS NULL`,
  ).get(jobId)
  return row ?? { withoutRig: 0, withoutSample: 0 }
}

/** What the person says of the quote that the store does not know. */
export interface QuoteWish {
  readonly jobId: Id<'job'>
  readonly byDay: string
  /** When the samples that are not in would come; they are turned from the day after. */
  readonly goodsDay: string
  /** The rig of spins that have none planned; null for a rig of their own, built whole. */
  readonly rigRevisionId: Id<'rig_revision'> | null
  readonly benchIds: readonly Id<'bench'>[]
  readonly personIds: readonly Id<'person'>[]
}

/** A question to the solver, asked twice: without the quote's spins and with them. */
export interface QuoteQuestion {
  /** Null where nothing else waits or may move. */
  readonly without: PlanQuestion | null
  readonly with: PlanQuestion
  /** Spins that wait for a place too but are not planned beside it: due later, or held up. */
  readonly otherSpins: number
}

/**
 * The quote's spins beside everything that waits for a place. With `moves` the blocks to come that nobody fixed may
 * move too; they keep their places where no job is less late for it, so that what moves is the quote's doing.
 */
export function quoteQuestion(
  db: Db,
  work: QuotedWork,
  wish: QuoteWish,
  moves: boolean,
  now: string,
): QuoteQuestion {
  const blocks = moves ? movableBlocks(db, now) : []
  const everything = { jobId: null, shootIds: null }
  const waiting = waitingShootIds(db, everything, mostWaiting, now)
  const booked = blocks.flatMap(({ shootIds }) => shootIds)
  const others = [...new Set([...booked, ...waiting])].slice(0, mostSpins)
  const planned = new Set(others)
  const request: Omit<PlanRequest, 'shootIds'> = {
    benchIds: wish.benchIds,
    personIds: wish.personIds,
    replanned: blocks.flatMap(({ id, setChangeId }) => (setChangeId === null ? [id] : [id, setChangeId])),
    keepsPlaces: true,
    days: horizonDays,
    asIf: asQuoted(db, work, wish, now),
  }
  const quoted = work.spins.map(({ shootId }) => shootId)
  const asked = planQuestion(db, { ...request, shootIds: [...others, ...quoted] }, now)
  return {
    without: others.length === 0 ? null : planQuestion(db, { ...request, shootIds: others }, now),
    with: wish.rigRevisionId === null ? withOwnRig(db, asked, new Set(quoted)) : asked,
    otherSpins:
      waiting.length < mostWaiting
        ? 0
        : waitingWork(db, everything, now).spins - waiting.filter((id) => planned.has(id)).length,
  }
}

/** A spin of the quote as it would be ordered; every other spin as it is. */
function asQuoted(db: Db, work: QuotedWork, wish: QuoteWish, now: string): (spin: SpinToPlan) => SpinToPlan {
  const quoted = new Map(work.spins.map(({ shootId, estimateMs }) => [shootId, estimateMs]))
  const platterId = wish.rigRevisionId === null ? null : platterOf(db, wish.rigRevisionId)
  const isIn = wish.goodsDay < dayOf(now, studioZone(db))
  return (spin) => {
    const estimateMs = quoted.get(spin.shootId)
    if (estimateMs === undefined) return spin
    const waits = spin.samplesOut > 0 && !isIn
    return {
      ...spin,
      estimateMs,
      dueDay: wish.byDay,
      rowFrames: null,
      samplesOut: waits ? 1 : 0,
      samplesExpected: waits ? 1 : 0,
      lastExpectedDay: waits ? wish.goodsDay : null,
      ...(spin.rigRevisionId === null ? { rigRevisionId: wish.rigRevisionId, platterId } : {}),
    }
  }
}

function platterOf(db: Db, rigRevisionId: Id<'rig_revision'>): Id<'platter'> {
  const row = prepared<[number], { platterId: Id<'platter'> }>(
    db,
    'SELECT platter_id AS platterId FROM rig_revision WHERE id = ?',
  ).get(rigRevisionId)
  if (!row) throw new Refusal('no-rig', 'This rig is not in the studio. Choose another.', { field: 'rig' })
  return row.platterId
}

/** Gives the quote's spins without a rig one of their own: a whole set change there and back. */
function withOwnRig(db: Db, question: PlanQuestion, quoted: ReadonlySet<Id<'shoot'>>): PlanQuestion {
  const { data } = question
  const own = question.rigs.length
  const wholeMin = Math.ceil(wholeSetMs(learnedPace(db).pace) / 60_000)
  const without = new Set(
    question.spins
      .filter(({ shootId, rigRevisionId }) => rigRevisionId === null && quoted.has(shootId))
      .map(({ shootId }) => shootId as number),
  )
  const rows = data.changeMin.map((row) => [...row, wholeMin])
  return {
    ...question,
    data: {
      ...data,
      items: data.items.map((item) => (without.has(item.id) ? { ...item, rig: own } : item)),
      changeMin: [...rows, [...question.rigs.map(() => wholeMin), 0]],
    },
  }
}

/** The same question, in which every other spin stands where the plan without the quote has it. */
export function standingAsPlanned(question: PlanQuestion, planned: Schedule): PlanQuestion {
  const places = new Map(planned.placed.map((place) => [place.id, place]))
  const items = question.data.items.map((item) => {
    const place = places.get(item.id)
    if (!place) return item
    const { bench, startMin, endMin } = place
    return { ...item, now: { bench, startMin, endMin } }
  })
  return { ...question, data: { ...question.data, items } }
}

/** A job that would be later because of the quote. */
export interface LaterJob {
  readonly jobId: Id<'job'>
  readonly jobNumber: string
  readonly client: string
  readonly dueDay: string
  /** Days after its due day without the quote, and with it; null where it found no place. */
  readonly daysLateBefore: number
  readonly daysLateAfter: number | null
}

/** What the solver answers about a quote. */
export interface QuoteAnswer {
  /** The day its last spin is turned; null where not all of them found a place. */
  readonly doneDay: string | null
  readonly unplaced: number
  readonly isByDay: boolean
  /** Days after the day asked for. */
  readonly daysLate: number
  readonly later: readonly LaterJob[]
  /** Booked spins that would lie elsewhere than today. */
  readonly movedSpins: number
  /** Set change minutes that come with it. */
  readonly addedChangeMin: number
  readonly isProved: boolean
}

/** Reads from both plans when the quote would be done, and whose spins come later for it. */
export function quoteAnswer(
  db: Db,
  question: QuoteQuestion,
  wish: QuoteWish,
  plans: { readonly without: Schedule | null; readonly with: Schedule & { readonly isProved: boolean } },
): QuoteAnswer {
  const { spins, baseMs, data } = question.with
  const zone = studioZone(db)
  const dayAt = (min: number) => dayOf(new Date(baseMs + min * 60_000), zone)
  const isQuoted = new Set(
    spins.filter(({ jobId }) => jobId === wish.jobId).map(({ shootId }) => shootId as number),
  )
  const mine = plans.with.placed.filter(({ id }) => isQuoted.has(id))
  const unplaced = isQuoted.size - mine.length
  const doneDay =
    unplaced > 0 || mine.length === 0 ? null : dayAt(Math.max(...mine.map(({ endMin }) => endMin)))
  const booked = new Map(
    question.without?.data.items.flatMap(({ id, now }) => (now ? [[id, now] as const] : [])),
  )
  return {
    doneDay,
    unplaced,
    isByDay: doneDay !== null && doneDay <= wish.byDay,
    daysLate: doneDay === null ? 0 : Math.max(0, daysBetween(wish.byDay, doneDay)),
    later: laterJobs(question.with, plans, dayAt, isQuoted),
    movedSpins: plans.with.placed.filter(({ id, bench, startMin }) => {
      const today = booked.get(id)
      return today !== undefined && (today.bench !== bench || today.startMin !== startMin)
    }).length,
    addedChangeMin: plans.with.cost.changeoverMin - (plans.without?.cost.changeoverMin ?? 0),
    isProved: plans.with.isProved && data.items.length === plans.with.placed.length,
  }
}

function laterJobs(
  { spins }: PlanQuestion,
  plans: { readonly without: Schedule | null; readonly with: Schedule },
  dayAt: (min: number) => string,
  isQuoted: ReadonlySet<number>,
): readonly LaterJob[] {
  const ends = (plan: Schedule | null) => new Map(plan?.placed.map(({ id, endMin }) => [id, dayAt(endMin)]))
  const [before, after] = [ends(plans.without), ends(plans.with)]
  const jobs = new Map<Id<'job'>, LaterJob>()
  for (const { shootId, jobId, jobNumber, client, dueDay } of spins) {
    const endedBefore = before.get(shootId)
    if (isQuoted.has(shootId) || dueDay === null || endedBefore === undefined) continue
    const endsAfter = after.get(shootId)
    const known = jobs.get(jobId)
    const daysAfter = endsAfter === undefined ? null : Math.max(0, daysBetween(dueDay, endsAfter))
    jobs.set(jobId, {
      jobId,
      jobNumber,
      client,
      dueDay,
      daysLateBefore: Math.max(known?.daysLateBefore ?? 0, daysBetween(dueDay, endedBefore)),
      daysLateAfter:
        daysAfter === null || known?.daysLateAfter === null
          ? null
          : Math.max(known?.daysLateAfter ?? 0, daysAfter),
    })
  }
  return [...jobs.values()]
    .filter(({ daysLateBefore, daysLateAfter }) => daysLateAfter === null || daysLateAfter > daysLateBefore)
    .sort((a, b) => (b.daysLateAfter ?? Infinity) - (a.daysLateAfter ?? Infinity))
}

/** Where a page starts: the samples come within five working days. Common practice, no published source. */
export function usualGoodsDay(today: string): string {
  return addWorkingDays(today, 5, mondayToFriday())
}
