import type { WorkingWeek } from '../main/trade/calendar.ts'
import { proposeLines } from '../main/trade/invoice.ts'
import { type JobFacts, jobStanding, type SpinFacts, spinStation } from '../main/trade/standing.ts'
import { workingWeek } from './calendar.ts'
import type { Writing } from './events.ts'
import type { Id } from './ids.ts'
import { unbilledDeliveries } from './invoiceDeliveries.ts'
import { invoiceIdsOfJob } from './invoices.ts'
import type { Db } from './open.ts'
import { orderLinesOf } from './orderLines.ts'
import { promiseOfJob } from './promises.ts'
import { prepared } from './statement.ts'

/**
 * Works out a job's standing from its facts and keeps it. Every function that changes a fact of a job calls
 * this inside its own transaction; a test holds stored = worked out.
 */
export function refreshStanding({ db }: Pick<Writing, 'db'>, jobId: Id<'job'>): void {
  const row = standingOf(db, jobId)
  prepared<unknown[]>(
    db,
    `INSERT OR REPLACE INTO job_standing (job_id, station, is_open, waits_for, due_day, on_hold, spins, at_samples_in,
       at_bench, at_takes, at_pick, at_yes, at_delivery, delivered, bench_ms_left, value_minor, client_id, priority)
     VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
  ).run(...row)
}

/** The row that `refreshStanding` keeps, in the order of its columns. */
export function standingOf(db: Db, jobId: Id<'job'>): readonly unknown[] {
  const job = jobRow(db, jobId)
  const spins = [...spinFactsOfJob(db, jobId).values()]
  const standing = jobStanding({
    lost: job.lost === 1,
    cancelled: job.cancelled === 1,
    quote: quoteState(db, jobId),
    orderNumberMissing: job.orderNumberMissing === 1,
    samplesToReturn: job.samplesToReturn,
    ...billing(db, jobId),
    spins,
  })
  const { spread } = standing
  const notYetKept = spins.filter((spin) => ['samples in', 'bench', 'takes'].includes(spinStation(spin)))
  return [
    jobId,
    standing.station,
    standing.isOpen ? 1 : 0,
    standing.waitsFor,
    job.dueDay ?? (job.promiseWorkingDays === null ? null : dueByPromise(db, jobId)),
    job.onHold,
    spins.length,
    spread['samples in'],
    spread.bench,
    spread.takes,
    spread.pick,
    spread.yes,
    spread.delivery,
    spread.delivered,
    standing.isOpen ? notYetKept.reduce((sum, spin) => sum + spin.estimateMs, 0) : 0,
    valueMinor(db, jobId),
    job.clientId,
    job.priority,
  ]
}

interface JobRow {
  readonly clientId: number
  readonly lost: 0 | 1
  readonly cancelled: 0 | 1
  readonly onHold: 0 | 1
  readonly priority: string
  readonly dueDay: string | null
  readonly promiseWorkingDays: number | null
  readonly orderNumberMissing: 0 | 1
  readonly samplesToReturn: number
}

function jobRow(db: Db, jobId: Id<'job'>): JobRow {
  const row = prepared<[number], JobRow>(
    db,
    `SELECT job.client_id AS clientId, job.lost_at IS NOT NULL AS lost, job.cancelled_at IS NOT NULL AS cancelled,
       job.hold_reason IS NOT NULL AS onHold, job.priority, job.due_day AS dueDay,
       job.promise_working_days AS promiseWorkingDays,
       client.order_number_needed = 1 AND ifnull(job.order_number, '') = '' AS orderNumberMissing,
       (SELECT count(*) FROM sample WHERE sample.job_id = job.id AND sample.state IN ('in', 'wrong', 'broken'))
         AS samplesToReturn
     FROM job JOIN client ON client.id = job.client_id WHERE job.id = ?`,
  ).get(jobId)
  if (!row) throw new Error(`There is no job ${jobId}.`)
  return row
}

function quoteState(db: Db, jobId: Id<'job'>): JobFacts['quote'] {
  const row = prepared<[number], { state: JobFacts['quote'] }>(
    db,
    `SELECT state FROM quote WHERE job_id = ? AND state IN ('accepted', 'sent', 'draft', 'declined')
     ORDER BY state = 'accepted' DESC, state = 'sent' DESC, state = 'draft' DESC LIMIT 1`,
  ).get(jobId)
  return row?.state ?? 'none'
}

/**
 * Billed: there is an invoice that is not wholly credited, and neither a delivery that no such invoice names nor an
 * agreed extra is left that the order still holds unbilled (what a person took off a draft on purpose is not asked for
 * again: the draft names its deliveries all the same). Open: what the accounts of its invoices still miss.
 */
function billing(db: Db, jobId: Id<'job'>): Pick<JobFacts, 'billed' | 'openMinor'> {
  const rows = prepared<object, { kind: string; isStanding: 0 | 1; openMinor: number }>(
    db,
    `SELECT i.kind, ifnull(a.open_minor, 0) AS openMinor, i.total_minor = 0 OR i.total_minor >
       (SELECT ifnull(sum(c.total_minor), 0) FROM invoice c WHERE c.corrects_id = i.id AND c.state = 'issued') AS isStanding
     FROM invoice i LEFT JOIN invoice_account a ON a.invoice_id = i.id
     WHERE i.id IN (${invoiceIdsOfJob}) AND i.state = 'issued' AND i.kind <> 'credit note'`,
  ).all({ jobId })
  const isBilled = rows.some((row) => row.kind === 'invoice' && row.isStanding === 1)
  return {
    billed: isBilled && !isLeftUnbilled(db, jobId),
    openMinor: rows.reduce((sum, row) => sum + Math.max(0, row.openMinor), 0),
  }
}

function isLeftUnbilled(db: Db, jobId: Id<'job'>): boolean {
  const extra = prepared<object>(
    db,
    `SELECT 1 FROM extra WHERE job_id = @jobId AND state = 'agreed' LIMIT 1`,
  ).get({ jobId })
  if (extra === undefined && unbilledDeliveries(db, jobId).length === 0) return false
  const left = proposeLines(orderLinesOf(db, jobId))
  return (
    left.some(({ source }) => source === 'extra') ||
    (left.length > 0 && unbilledDeliveries(db, jobId).length > 0)
  )
}

type SpinRow = { [K in keyof SpinFacts]: number } & { estimateMs: number }

/**
 * The columns of one spin's facts. What was kept or answered before the last call for a reshoot no longer counts,
 * nor does a delivery of something the client wanted changed afterwards.
 */
const spinColumns = `
  NOT EXISTS (SELECT 1 FROM shoot_product sp LEFT JOIN sample s ON s.product_id = sp.product_id AND s.job_id = shoot.job_id
    WHERE sp.shoot_id = shoot.id AND ifnull(s.state, '') NOT IN ('in', 'kept')) AS samplesHere,
  shoot.without_sample_reason IS NOT NULL AS sampleOverruled,
  EXISTS (SELECT 1 FROM booking_shoot bs JOIN booking b ON b.id = bs.booking_id
    WHERE bs.shoot_id = shoot.id AND b.cancelled_at IS NULL AND b.ends_at > reopened.at) AS isBooked,
  EXISTS (SELECT 1 FROM take t WHERE t.shoot_id = shoot.id AND t.started_at > reopened.at) AS hasTake,
  (SELECT count(*) FROM shoot_row r WHERE r.shoot_id = shoot.id) AS rows,
  (SELECT count(DISTINCT t.row) FROM take t WHERE t.shoot_id = shoot.id AND t.verdict = 'keep' AND t.started_at > reopened.at)
    AS rowsKept,
  (SELECT count(*) FROM shoot_row r WHERE r.shoot_id = shoot.id)
    * (SELECT count(*) FROM deliverable d WHERE d.brief_id = ifnull(shoot.brief_id, job.brief_id)) AS picksWanted,
  (SELECT count(*) FROM pick p JOIN deliverable d ON d.id = p.deliverable_id
    WHERE p.shoot_id = shoot.id AND p.withdrawn_at IS NULL AND d.brief_id = ifnull(shoot.brief_id, job.brief_id)) AS picks,
  (SELECT count(*) FROM deliverable d WHERE d.brief_id = ifnull(shoot.brief_id, job.brief_id)) AS deliverables,
  (SELECT count(*) FROM answer a JOIN deliverable d ON d.id = a.deliverable_id
    WHERE a.shoot_id = shoot.id AND a.verdict = 'yes' AND a.withdrawn_at IS NULL
      AND d.brief_id = ifnull(shoot.brief_id, job.brief_id)) AS yeses,
  (SELECT count(DISTINCT di.deliverable_id) FROM delivery_item di JOIN delivery d ON d.id = di.delivery_id
    JOIN deliverable w ON w.id = di.deliverable_id AND w.brief_id = ifnull(shoot.brief_id, job.brief_id)
    WHERE di.shoot_id = shoot.id AND d.sent_at > reopened.at AND d.sent_at > ifnull((SELECT max(c.answered_at)
      FROM answer c WHERE c.shoot_id = shoot.id AND c.deliverable_id = di.deliverable_id AND c.verdict = 'change'
        AND c.withdrawn_at IS NULL), '')) AS delivered,
  shoot.estimate_ms AS estimateMs`

const spinsFrom = `FROM shoot JOIN job ON job.id = shoot.job_id
  JOIN (SELECT s.id AS shoot_id, ifnull((SELECT max(asked_at) FROM reshoot r WHERE r.shoot_id = s.id), '') AS at FROM shoot s)
    reopened ON reopened.shoot_id = shoot.id`

/** The facts of every spin of a job that is not cancelled, by the spin's id, in the job's order. */
export function spinFactsOfJob(
  db: Db,
  jobId: Id<'job'>,
): ReadonlyMap<Id<'shoot'>, SpinFacts & { readonly estimateMs: number }> {
  const rows = prepared<[number], SpinRow & { shootId: Id<'shoot'> }>(
    db,
    `SELECT shoot.id AS shootId, ${spinColumns} ${spinsFrom}
     WHERE shoot.job_id = ? AND shoot.cancelled_at IS NULL ORDER BY shoot.position`,
  ).all(jobId)
  return new Map(rows.map(({ shootId, ...row }) => [shootId, toSpinFacts(row)]))
}

/** The facts of one spin, for its own page. */
export function spinFacts(db: Db, shootId: Id<'shoot'>): SpinFacts {
  const row = prepared<[number], SpinRow>(db, `SELECT ${spinColumns} ${spinsFrom} WHERE shoot.id = ?`).get(
    shootId,
  )
  if (!row) throw new Error(`There is no spin ${shootId}.`)
  return toSpinFacts(row)
}

function toSpinFacts(row: SpinRow): SpinFacts & { estimateMs: number } {
  return {
    ...row,
    samplesHere: row.samplesHere === 1,
    sampleOverruled: row.sampleOverruled === 1,
    isBooked: row.isBooked === 1,
    hasTake: row.hasTake === 1,
  }
}

/** What the job is worth before tax: the accepted quote and agreed extras, else the quote that is furthest along. */
function valueMinor(db: Db, jobId: Id<'job'>): number {
  const row = prepared<[number, number], { minor: number }>(
    db,
    `SELECT ifnull((SELECT net_minor FROM quote WHERE job_id = ? AND state IN ('accepted', 'sent', 'draft')
         ORDER BY state = 'accepted' DESC, state = 'sent' DESC, version DESC, way = 'as asked' DESC LIMIT 1), 0)
       + (SELECT ifnull(sum(l.net_minor), 0) FROM extra e JOIN extra_line l ON l.extra_id = e.id
         WHERE e.job_id = ? AND e.state = 'agreed') AS minor`,
  ).get(jobId, jobId)
  return row?.minor ?? 0
}

/** A promise binds once the last needed sample is in; until then its day is only expected, and nothing is late by it. */
function dueByPromise(db: Db, jobId: Id<'job'>, week?: WorkingWeek): string | null {
  const promised = promiseOfJob(db, jobId, week)
  return promised === null || promised.isExpected ? null : promised.day
}

/**
 * Works out anew the due day of every job that has a promise: call it in the transaction that changes the studio's
 * working days or its time zone.
 */
export function refreshPromises({ db }: Pick<Writing, 'db'>): void {
  const week = workingWeek(db)
  const jobs = prepared<[], { id: Id<'job'> }>(
    db,
    'SELECT id FROM job WHERE promise_working_days IS NOT NULL',
  ).all()
  for (const { id } of jobs) {
    const due = dueByPromise(db, id, week)
    prepared<[string | null, number, string | null]>(
      db,
      'UPDATE job_standing SET due_day = ? WHERE job_id = ? AND due_day IS NOT ?',
    ).run(due, id, due)
  }
}
