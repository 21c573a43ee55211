import { billTotals } from '../main/trade/bill.ts'
import { addDays, instantAt } from '../main/trade/calendar.ts'
import { commonReferences, invoiceKey, type References } from '../main/trade/references.ts'
import { Refusal } from '../main/trade/refusal.ts'
import { paperTexts } from '../main/trade/texts/paperTexts.ts'
import { addDraft, billedJob, deductible, proposedLines, refuseSecondDraft, totalsOf } from './billing.ts'
import { type Client, findClient } from './clients.ts'
import type { Writing } from './events.ts'
import type { Id } from './ids.ts'
import { nameDeliveries } from './invoiceDeliveries.ts'
import { type InvoiceLineDraft, openDepositsOf } from './invoices.ts'
import type { Db } from './open.ts'
import { inOneTransaction, prepared } from './statement.ts'
import { theStudio } from './studio.ts'

/** A job with something to bill until the end of a month. */
interface Due {
  readonly jobId: Id<'job'>
  readonly head: ReturnType<typeof billedJob>
  readonly lines: readonly InvoiceLineDraft[]
}

/** The last instant of a month (`YYYY-MM`) in the studio's time zone. */
function endOfMonth(db: Db, month: string): string {
  const [year = 0, of = 0] = month.split('-').map(Number)
  const next = of === 12 ? `${year + 1}-01-01` : `${year}-${String(of + 1).padStart(2, '0')}-01`
  const start = instantAt(addDays(next, 0), 0, theStudio(db).timeZone)
  return new Date(start.getTime() - 1).toISOString()
}

/** Open jobs of a client with a delivery or an agreed extra until then; closed ones only with an extra that no invoice names. */
function candidates(db: Db, clientId: Id<'client'>, until: string): readonly Id<'job'>[] {
  return prepared<object, { id: Id<'job'> }>(
    db,
    `SELECT s.job_id AS id FROM job_standing s WHERE s.client_id = @clientId AND s.is_open = 1
       AND (EXISTS (SELECT 1 FROM delivery d WHERE d.job_id = s.job_id AND d.sent_at <= @until)
         OR EXISTS (SELECT 1 FROM extra e WHERE e.job_id = s.job_id AND e.state = 'agreed' AND e.decided_at <= @until))
     UNION SELECT job.id FROM job JOIN extra e ON e.job_id = job.id JOIN extra_line l ON l.extra_id = e.id
       WHERE job.client_id = @clientId AND e.state = 'agreed' AND e.decided_at <= @until
         AND NOT EXISTS (SELECT 1 FROM invoice_line il JOIN invoice i ON i.id = il.invoice_id
           WHERE il.extra_line_id = l.id AND i.state = 'issued')
     ORDER BY 1`,
  )
    .all({ clientId, until })
    .map(({ id }) => id)
}

function dueOf(db: Db, clientId: Id<'client'>, until: string): readonly Due[] {
  return candidates(db, clientId, until).flatMap((jobId) => {
    const lines = proposedLines(db, jobId, until)
    return lines.length === 0 ? [] : [{ jobId, head: billedJob(db, jobId, until), lines }]
  })
}

/** A client that is billed by the month, and what a month would hold, in minor units before tax. */
export interface MonthOfClient {
  readonly clientId: Id<'client'>
  readonly name: string
  readonly currency: string
  readonly netMinor: number
  readonly jobs: readonly { readonly id: Id<'job'>; readonly number: string }[]
}

/** What is unbilled until the end of a month (`YYYY-MM`), per client that is billed monthly and per currency. */
export function monthsToBill(db: Db, month: string): readonly MonthOfClient[] {
  const until = endOfMonth(db, month)
  const clients = prepared<[], { id: Id<'client'>; name: string }>(
    db,
    'SELECT id, name FROM client WHERE bills_monthly = 1 AND archived_at IS NULL ORDER BY name COLLATE NOCASE',
  ).all()
  return clients.flatMap(({ id, name }) =>
    [...Map.groupBy(dueOf(db, id, until), ({ head }) => head.currency)].map(([currency, due]) => ({
      clientId: id,
      name,
      currency,
      netMinor: due.reduce((sum, { lines }) => sum + billTotals({ lines }).netMinor, 0),
      jobs: due.map(({ jobId, head }) => ({ id: jobId, number: head.number })),
    })),
  )
}

/**
 * Drafts a client's invoice of a month over all its jobs: what was delivered or agreed until the month's end and is
 * not billed, each line with the number of its job, the open deposits of these jobs deducted. Jobs of other currencies
 * have an invoice of their own, and so have those whose references differ, where the client needs one on each invoice.
 * Refuses a month of which nothing is left to bill, and a job that has a draft already.
 */
export function draftMonth(
  writing: Writing,
  clientId: Id<'client'>,
  month: string,
): readonly Id<'invoice'>[] {
  const { db } = writing
  return inOneTransaction(db, () => {
    const client = findClient(db, clientId)
    if (!client) throw new Refusal('no-client', 'This client is not in the studio.')
    const until = endOfMonth(db, month)
    const due = dueOf(db, clientId, until)
    if (due.length === 0) {
      throw new Refusal(
        'nothing-to-bill',
        `Everything delivered to ${client.name} until the end of ${month} is billed.`,
        { field: 'month' },
      )
    }
    for (const { jobId } of due) refuseSecondDraft(db, jobId, 'invoice')
    const apart = Map.groupBy(due, ({ head }) => `${head.currency} ${invoiceKey(client, head)}`)
    return [...apart.values()].map((jobs) => draftOver(writing, client, jobs, until))
  })
}

function draftOver(writing: Writing, client: Client, due: readonly Due[], until: string): Id<'invoice'> {
  const { db } = writing
  const [first] = due
  if (!first) throw new Error('An invoice bills at least one job.')
  const references = commonReferences(due.map(({ head }) => head))
  const words = paperTexts[client.language].lines
  const lines = due.flatMap(({ head, lines: ofJob }) =>
    ofJob.map((line) => ({
      ...line,
      text: words.ofJob(head.number, ownReferences(head, references), line.text),
    })),
  )
  const currency = first.head.currency
  const jobIds = due.map(({ jobId }) => jobId)
  const deposits = deductible(
    jobIds.flatMap((jobId) => openDepositsOf(db, jobId)),
    billTotals({ lines }).taxInclusiveMinor,
  )
  const days = due.flatMap(({ head }) => [head.serviceFrom, head.serviceTo]).filter((day) => day !== null)
  const adjustments = [] as const
  const invoiceId = addDraft(writing, {
    kind: 'invoice',
    clientId: client.id,
    jobId: null,
    correctsId: null,
    currency,
    language: client.language,
    serviceFrom: days.toSorted()[0] ?? null,
    serviceTo: days.toSorted().at(-1) ?? null,
    ...references,
    note: null,
    lines,
    adjustments,
    deposits,
    totals: totalsOf(db, { currency, lines, adjustments, deposits }),
  })
  nameDeliveries(db, invoiceId, jobIds, until)
  return invoiceId
}

/** The references of a job that do not hold for all jobs of the invoice. */
function ownReferences(of: References, common: References): Partial<References> {
  return {
    ...(common.orderNumber === of.orderNumber ? {} : { orderNumber: of.orderNumber }),
    ...(common.buyerReference === of.buyerReference ? {} : { buyerReference: of.buyerReference }),
    ...(common.costCentre === of.costCentre ? {} : { costCentre: of.costCentre }),
  }
}
