import { stationsNeverLate } from '../main/trade/standing.ts'
import type { Id } from './ids.ts'
import type { Priority } from './jobs.ts'
import { type KeptStanding, type StandingRecord, standingColumns, toStanding } from './keptStanding.ts'
import type { Db } from './open.ts'
import type { Page } from './page.ts'
import { prepared } from './statement.ts'

/** A job as the board and every list of jobs show it. */
export interface JobLine extends KeptStanding {
  readonly jobId: Id<'job'>
  readonly number: string
  readonly title: string
  readonly clientId: Id<'client'>
  readonly clientName: string
  readonly currency: string
  readonly priority: Priority
  readonly holdReason: string | null
  readonly holdUntil: string | null
}

/** Which jobs a list is about; null where it does not matter. */
export interface JobFilter {
  readonly openOnly: boolean
  readonly clientId: Id<'client'> | null
  /** Jobs with a booking to come on this bench. */
  readonly benchId: Id<'bench'> | null
  /** Jobs that are late, as `isLate` has it. */
  readonly lateOnly: boolean
}

/** The present, for what is late and what is to come: the studio's day, and the instant. */
export interface Present {
  readonly today: string
  readonly now: string
}

/** Orders a list can be read in; a fixed text per name, so that no name from outside reaches the SQL. */
const jobOrders = {
  due: 'st.due_day IS NULL, st.due_day @way, job.id @way',
  number: 'job.id @way',
  client: 'client.name COLLATE NOCASE @way, st.due_day IS NULL, st.due_day, job.id',
  title: 'job.title COLLATE NOCASE @way, job.id',
  station: `CASE st.station WHEN 'enquiry' THEN 1 WHEN 'quote' THEN 2 WHEN 'order' THEN 3 WHEN 'samples in' THEN 4
    WHEN 'bench' THEN 5 WHEN 'takes' THEN 6 WHEN 'pick' THEN 7 WHEN 'yes' THEN 8 WHEN 'delivery' THEN 9
    WHEN 'samples back' THEN 10 WHEN 'invoice' THEN 11 WHEN 'paid' THEN 12 ELSE 13 END @way, st.due_day IS NULL,
    st.due_day, job.id`,
  benchLeft: 'st.bench_ms_left @way, job.id',
  value: 'job.currency, st.value_minor @way, job.id',
  priority: `CASE st.priority WHEN 'high' THEN 1 WHEN 'normal' THEN 2 ELSE 3 END @way, st.due_day IS NULL,
    st.due_day, job.id`,
} as const
export type JobOrder = keyof typeof jobOrders

/** The columns of a job's line, of the tables that `linesFrom` joins. */
export const lineColumns = `job.id AS jobId, job.number, job.title, job.client_id AS clientId, client.name AS clientName,
  job.currency, job.priority, job.hold_reason AS holdReason, job.hold_until AS holdUntil, ${standingColumns}`

export const linesFrom = `FROM job_standing st JOIN job ON job.id = st.job_id JOIN client ON client.id = st.client_id`

/** What `lineColumns` reads. */
export type LineRecord = StandingRecord & Omit<JobLine, keyof KeptStanding>

export function toLine({
  jobId,
  number,
  title,
  clientId,
  clientName,
  currency,
  priority,
  ...rest
}: LineRecord): JobLine {
  const { holdReason, holdUntil } = rest
  const job = { jobId, number, title, clientId, clientName, currency, priority, holdReason, holdUntil }
  return { ...job, ...toStanding(rest) }
}

/** A page of jobs, and how many there are in all. */
export function listJobs(
  db: Db,
  filter: JobFilter,
  present: Present,
  order: JobOrder,
  descending: boolean,
  page: Page,
): { readonly lines: readonly JobLine[]; readonly total: number } {
  const { where, values } = conditionOf(filter, present)
  const by = jobOrders[order].replaceAll('@way', descending ? 'DESC' : 'ASC')
  const lines = prepared<object, LineRecord>(
    db,
    `SELECT ${lineColumns} ${linesFrom} WHERE ${where} ORDER BY ${by} LIMIT @limit OFFSET @offset`,
  ).all({ ...values, limit: page.limit, offset: page.offset })
  const total = prepared<object, { n: number }>(
    db,
    `SELECT count(*) AS n FROM job_standing st WHERE ${where}`,
  ).get(values)
  return { lines: lines.map(toLine), total: total?.n ?? 0 }
}

/** The same as a list in SQL. */
export const neverLate = stationsNeverLate.map((station) => `'${station}'`).join(', ')

/** The filter as SQL made of fixed texts alone, with the values to bind to it. */
export function conditionOf(filter: JobFilter, { today, now }: Present) {
  const where = [filter.openOnly ? 'st.is_open = 1' : 'true']
  const values: Record<string, unknown> = {}
  if (filter.clientId !== null) {
    where.push('st.client_id = @clientId')
    values.clientId = filter.clientId
  }
  if (filter.lateOnly) {
    where.push(`st.due_day < @today AND st.station NOT IN (${neverLate})`)
    values.today = today
  }
  if (filter.benchId !== null) {
    where.push(`EXISTS (SELECT 1 FROM booking b WHERE b.job_id = st.job_id AND b.bench_id = @benchId
      AND b.cancelled_at IS NULL AND b.ends_at > @now)`)
    values.benchId = filter.benchId
    values.now = now
  }
  return { where: where.join(' AND '), values }
}
