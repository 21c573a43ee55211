import { type BenchHours, benchHours, type WorkedTake } from '../main/trade/benchHours.ts'
import { margin } from '../main/trade/cost.ts'
import { type JobHours, type MarginAfter, marginAfter } from '../main/trade/margin.ts'
import type { Id } from './ids.ts'
import { costsOfJob } from './jobCosts.ts'
import { jobById } from './jobs.ts'
import type { Db } from './open.ts'
import { orderLinesOf } from './orderLines.ts'
import { thePace } from './pace.ts'
import { costsToPassOn } from './passedOn.ts'
import { hourRates } from './quoteBasis.ts'
import { wholeSetMs } from './spinEstimate.ts'
import { prepared } from './statement.ts'
import { theStudio } from './studio.ts'
import { productsOfSpins } from './takeFacts.ts'

/** What the accepted quote reckoned with. Times in ms, amounts in minor units before tax. */
export interface MarginAtQuote {
  readonly benchMedianMs: number
  readonly benchP80Ms: number
  readonly deskMs: number
  /** What a second person was to do beside the platter; 0 with one. */
  readonly secondMs: number
  readonly priceMinor: number
  readonly costMedianMinor: number
  readonly costP80Minor: number
  readonly median: ReturnType<typeof margin>
  readonly p80: ReturnType<typeof margin>
}

/** A job's margin at its quote beside the margin after all. */
export interface JobMargin {
  readonly atQuote: MarginAtQuote | null
  /** Null where the studio's rates are in another currency than the job. */
  readonly after: (MarginAfter & JobHours) | null
  readonly people: readonly (BenchHours & { readonly name: string })[]
}

/** Planned and actual of a job. The bench's hours come from the takes; desk and second person are taken as quoted. */
export function jobMargin(db: Db, jobId: Id<'job'>): JobMargin {
  const job = jobById(db, jobId)
  const studio = theStudio(db)
  const atQuote = quotedMargin(db, jobId)
  const people = peopleAtBench(db, jobId)
  const hours: JobHours = {
    benchMs: people.reduce((sum, own) => sum + own.turnedMs + own.preparedMs, 0),
    deskMs: atQuote?.deskMs ?? 0,
    secondMs: atQuote?.secondMs ?? 0,
  }
  const costs = costsOfJob(db, jobId).filter(({ currency }) => currency === job.currency)
  const after =
    studio.currency === job.currency
      ? { ...marginAfter(priceAfter(db, jobId), costs, hours, hourRates(studio)), ...hours }
      : null
  return { atQuote, after, people }
}

interface QuotedRow extends Omit<MarginAtQuote, 'secondMs' | 'median' | 'p80'> {
  readonly people: number
  readonly workMedianMs: number
}

function quotedMargin(db: Db, jobId: Id<'job'>): MarginAtQuote | null {
  const row = prepared<[number], QuotedRow>(
    db,
    `SELECT bench_median_ms AS benchMedianMs, bench_p80_ms AS benchP80Ms, desk_ms AS deskMs, net_minor AS priceMinor,
       cost_median_minor AS costMedianMinor, cost_p80_minor AS costP80Minor, people, work_median_ms AS workMedianMs
     FROM quote WHERE job_id = ? AND state = 'accepted'`,
  ).get(jobId)
  if (!row) return null
  const { people, workMedianMs, ...quoted } = row
  return {
    ...quoted,
    secondMs: people === 2 ? Math.max(0, workMedianMs - quoted.benchMedianMs) : 0,
    median: margin(quoted.priceMinor, quoted.costMedianMinor),
    p80: margin(quoted.priceMinor, quoted.costP80Minor),
  }
}

/**
 * What the client pays for the job before tax: what is billed, less credit notes, and what is left to bill of the
 * order and of the costs passed on. Deposits are part of what they are deducted from. Of a cancelled job nothing is
 * left to bill but its agreed extras.
 */
function priceAfter(db: Db, jobId: Id<'job'>): number {
  const isCancelled = jobById(db, jobId).cancelledAt !== null
  const order = orderLinesOf(db, jobId).filter(({ source }) => source === 'extra' || !isCancelled)
  const left = order.reduce((sum, line) => sum + line.netMinor - line.billedNetMinor, 0)
  const passed = costsToPassOn(db, jobId, null).reduce(
    (sum, { priceMinor, quantityMilli }) => sum + Math.round((priceMinor * quantityMilli) / 1000),
    0,
  )
  return billedMinor(db, jobId) + left + passed
}

/** By the lines, since one invoice may bill several jobs; a favour on a whole document is shared by no line. */
function billedMinor(db: Db, jobId: Id<'job'>): number {
  const sign = `CASE i.kind WHEN 'credit note' THEN -1 ELSE 1 END`
  const row = prepared<{ jobId: number }, { minor: number }>(
    db,
    `SELECT ifnull((SELECT sum(l.net_minor * ${sign}) FROM invoice_line l JOIN invoice i ON i.id = l.invoice_id
         LEFT JOIN invoice o ON o.id = i.corrects_id
         WHERE l.job_id = @jobId AND i.state = 'issued' AND ifnull(o.kind, i.kind) <> 'deposit'), 0)
       + ifnull((SELECT sum((i.charge_minor - i.allowance_minor) * ${sign}) FROM invoice i
         LEFT JOIN invoice o ON o.id = i.corrects_id
         WHERE i.job_id = @jobId AND i.state = 'issued' AND ifnull(o.kind, i.kind) <> 'deposit'), 0) AS minor`,
  ).get({ jobId })
  return row?.minor ?? 0
}

interface TakeRow {
  readonly personId: number
  readonly shootId: number
  readonly row: number
  readonly rigRevisionId: number
  readonly startedAt: string
  readonly endedAt: string
  readonly pausedMs: number
  readonly beforeId: number | null
}

function peopleAtBench(db: Db, jobId: Id<'job'>): JobMargin['people'] {
  const rows = prepared<[number], TakeRow>(
    db,
    `SELECT t.person_id AS personId, t.shoot_id AS shootId, t.row, t.rig_revision_id AS rigRevisionId,
       t.started_at AS startedAt, t.ended_at AS endedAt,
       ifnull((SELECT sum(unixepoch(p.resumed_at, 'subsec') - unixepoch(p.paused_at, 'subsec')) FROM take_pause p
         WHERE p.take_id = t.id AND p.resumed_at IS NOT NULL), 0) * 1000 AS pausedMs,
       (SELECT b.id FROM take b WHERE b.bench_id = t.bench_id AND b.started_at < t.started_at AND b.ended_at IS NOT NULL
         ORDER BY b.started_at DESC LIMIT 1) AS beforeId
     FROM shoot s CROSS JOIN take t ON t.shoot_id = s.id
     WHERE s.job_id = ? AND t.ended_at IS NOT NULL ORDER BY t.started_at, t.id`,
  ).all(jobId)
  if (rows.length === 0) return []
  const products = productsOfSpins(db, [...new Set(rows.map(({ shootId }) => shootId))])
  const before = takesBefore(
    db,
    rows.flatMap(({ beforeId }) => beforeId ?? []),
  )
  const pace = thePace(db)
  const takes = rows.map(({ startedAt, endedAt, beforeId, pausedMs, ...row }): WorkedTake => {
    const { sizeClass, finish, familyId } = products(row.shootId)
    return {
      ...row,
      sizeClass,
      finish,
      familyId,
      pausedMs: Math.round(pausedMs),
      startedMs: Date.parse(startedAt),
      endedMs: Date.parse(endedAt),
      before: beforeId === null ? null : (before.get(beforeId) ?? null),
    }
  })
  const names = prepared<[number], { name: string }>(db, 'SELECT name FROM person WHERE id = ?')
  return benchHours(takes, { ...pace, setMs: wholeSetMs(pace) }).map((own) => ({
    ...own,
    name: names.get(own.personId)?.name ?? '',
  }))
}

function takesBefore(db: Db, ids: readonly number[]): ReadonlyMap<number, NonNullable<WorkedTake['before']>> {
  const rows = prepared<
    [string],
    { id: number; shootId: number; row: number; rigRevisionId: number; endedAt: string }
  >(
    db,
    `SELECT t.id, t.shoot_id AS shootId, t.row, t.rig_revision_id AS rigRevisionId, t.ended_at AS endedAt
     FROM json_each(?) CROSS JOIN take t ON t.id = json_each.value`,
  ).all(JSON.stringify(ids))
  return new Map(rows.map(({ id, endedAt, ...take }) => [id, { ...take, endedMs: Date.parse(endedAt) }]))
}
