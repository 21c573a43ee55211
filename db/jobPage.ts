import type { Id } from './ids.ts'
import { invoiceIdsOfJob } from './invoices.ts'
import { type Job, jobById } from './jobs.ts'
import { type KeptStanding, keptStanding } from './keptStanding.ts'
import type { Db } from './open.ts'
import { prepared } from './statement.ts'

/** The quote a job goes by: the accepted one, else the one that is furthest along. Minor units. */
export interface JobQuote {
  readonly quoteId: Id<'quote'>
  readonly number: string
  readonly version: number
  readonly state: 'draft' | 'sent' | 'accepted' | 'declined' | 'lapsed' | 'replaced'
  readonly netMinor: number
  readonly totalMinor: number
  readonly validUntil: string | null
  readonly decidedAt: string | null
}

/** What the frame round a job's pages shows. */
export interface JobPage {
  readonly job: Job
  readonly clientName: string
  readonly clientLanguage: 'en' | 'de'
  readonly orderNumberNeeded: boolean
  readonly contact: {
    readonly name: string
    readonly email: string | null
    readonly phone: string | null
  } | null
  readonly standing: KeptStanding
  readonly quote: JobQuote | null
  /** Samples by where they are. */
  readonly samples: { readonly expected: number; readonly here: number; readonly gone: number }
  /** Issued invoices less credit notes, and what of them is still open; minor units with tax. */
  readonly invoicedMinor: number
  readonly openMinor: number
}

/** Refuses a job that is not in the studio. */
export function jobPage(db: Db, jobId: Id<'job'>): JobPage {
  const job = jobById(db, jobId)
  return {
    job,
    ...clientOfJob(db, job),
    contact: contactOfJob(db, job),
    standing: keptStanding(db, jobId),
    quote: quoteOfJob(db, jobId),
    samples: sampleCounts(db, jobId),
    ...moneyOfJob(db, jobId),
  }
}

function clientOfJob(db: Db, job: Job): Pick<JobPage, 'clientName' | 'clientLanguage' | 'orderNumberNeeded'> {
  const row = prepared<[number], { clientName: string; clientLanguage: 'en' | 'de'; needed: 0 | 1 }>(
    db,
    'SELECT name AS clientName, language AS clientLanguage, order_number_needed AS needed FROM client WHERE id = ?',
  ).get(job.clientId)
  if (!row) throw new Error(`Job ${job.number} has no client.`)
  const { needed, ...client } = row
  return { ...client, orderNumberNeeded: needed === 1 }
}

function contactOfJob(db: Db, job: Job): JobPage['contact'] {
  if (job.contactId === null) return null
  return (
    prepared<[number], NonNullable<JobPage['contact']>>(
      db,
      'SELECT name, email, phone FROM contact WHERE id = ?',
    ).get(job.contactId) ?? null
  )
}

function quoteOfJob(db: Db, jobId: Id<'job'>): JobQuote | null {
  return (
    prepared<[number], JobQuote>(
      db,
      `SELECT id AS quoteId, number, version, state, net_minor AS netMinor, total_minor AS totalMinor,
         valid_until AS validUntil, decided_at AS decidedAt FROM quote WHERE job_id = ?
       ORDER BY state = 'accepted' DESC, state = 'sent' DESC, state = 'draft' DESC, version DESC,
         way = 'as asked' DESC LIMIT 1`,
    ).get(jobId) ?? null
  )
}

function sampleCounts(db: Db, jobId: Id<'job'>): JobPage['samples'] {
  const row = prepared<[number], JobPage['samples']>(
    db,
    `SELECT count(*) FILTER (WHERE is_needed = 1 AND state IN ('expected', 'missing')) AS expected,
       count(*) FILTER (WHERE state IN ('in', 'wrong', 'broken')) AS here,
       count(*) FILTER (WHERE state IN ('back', 'kept', 'destroyed')) AS gone FROM sample WHERE job_id = ?`,
  ).get(jobId)
  return row ?? { expected: 0, here: 0, gone: 0 }
}

/** Of an invoice over several jobs, this job's share by the net of its lines. */
function moneyOfJob(db: Db, jobId: Id<'job'>): Pick<JobPage, 'invoicedMinor' | 'openMinor'> {
  const row = prepared<object, { invoicedMinor: number; openMinor: number }>(
    db,
    `SELECT ifnull(sum(round(CASE kind WHEN 'credit note' THEN -payable_minor ELSE payable_minor END * share)), 0)
         AS invoicedMinor,
       ifnull(sum(round((SELECT max(0, a.open_minor) FROM invoice_account a WHERE a.invoice_id = i.id) * share)), 0)
         AS openMinor
     FROM (SELECT id, kind, payable_minor, CASE WHEN job_id IS NOT NULL OR lines_minor = 0 THEN 1.0
         ELSE (SELECT sum(net_minor) FROM invoice_line WHERE invoice_id = invoice.id AND job_id = @jobId) * 1.0 / lines_minor
       END AS share FROM invoice WHERE id IN (${invoiceIdsOfJob}) AND state = 'issued') i`,
  ).get({ jobId })
  return row ?? { invoicedMinor: 0, openMinor: 0 }
}
