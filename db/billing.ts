import { type BillTotals, billTotals } from '../main/trade/bill.ts'
import { dayOf } from '../main/trade/calendar.ts'
import { depositMinor, proposeLines } from '../main/trade/invoice.ts'
import { allocate, cashRoundingMinor } from '../main/trade/money.ts'
import { clientFigures } from '../main/trade/paperFigures.ts'
import { Refusal } from '../main/trade/refusal.ts'
import { paperTexts } from '../main/trade/texts/paperTexts.ts'
import { cashStepMinor } from './cashRounding.ts'
import { readerOf } from './clients.ts'
import { creditTotals } from './creditTotals.ts'
import { type Writing, writeEvent } from './events.ts'
import type { Id } from './ids.ts'
import { nameDeliveries } from './invoiceDeliveries.ts'
import {
  deleteInvoiceDraft,
  type InvoiceContent,
  insertInvoiceDraft,
  rewriteInvoiceDraft,
} from './invoiceDrafts.ts'
import {
  type Adjustment,
  depositsDeductedBy,
  findInvoice,
  type Invoice,
  type InvoiceLineDraft,
  invoiceIdsOfJob,
  jobsOfInvoice,
  openDepositsOf,
} from './invoices.ts'
import type { Db } from './open.ts'
import { orderLinesOf } from './orderLines.ts'
import { costsToPassOn } from './passedOn.ts'
import { inOneTransaction, prepared } from './statement.ts'
import { theStudio } from './studio.ts'
import { taxRateById } from './taxRates.ts'

/** The invoice, or a refusal: a page may still show one that another window threw away. */
export function theInvoice(db: Db, invoiceId: Id<'invoice'>): Invoice {
  const invoice = findInvoice(db, invoiceId)
  if (!invoice)
    throw new Refusal('no-invoice', 'This invoice is not in the studio any more. Go back to the list.')
  return invoice
}

export function theDraft(db: Db, invoiceId: Id<'invoice'>): Invoice {
  const invoice = theInvoice(db, invoiceId)
  if (invoice.state === 'issued') {
    throw new Refusal(
      'invoice-issued',
      `${invoice.number} is issued and never changes. Write a credit note instead.`,
    )
  }
  return invoice
}

/** What of a job stands at the head of its invoice. */
export interface BilledJob {
  readonly clientId: Id<'client'>
  readonly number: string
  readonly currency: string
  readonly orderNumber: string | null
  readonly buyerReference: string | null
  readonly costCentre: string | null
  readonly serviceFrom: string | null
  readonly serviceTo: string | null
}

export function billedJob(db: Db, jobId: Id<'job'>, until: string | null = null): BilledJob {
  const zone = theStudio(db).timeZone
  const row = prepared<object, BilledJob>(
    db,
    `SELECT client_id AS clientId, number, currency, order_number AS orderNumber, buyer_reference AS buyerReference,
       cost_centre AS costCentre,
       (SELECT min(t.started_at) FROM take t JOIN shoot s ON s.id = t.shoot_id WHERE s.job_id = job.id) AS serviceFrom,
       (SELECT max(d.sent_at) FROM delivery d WHERE d.job_id = job.id
         AND (@until IS NULL OR d.sent_at <= @until)) AS serviceTo
     FROM job WHERE id = @jobId`,
  ).get({ jobId, until })
  if (!row) throw new Refusal('no-job', 'This job is not in the studio any more.')
  const localDay = (at: string | null) => (at === null ? null : dayOf(at, zone))
  const [from, to] = [localDay(row.serviceFrom), localDay(row.serviceTo)]
  return { ...row, serviceFrom: from ?? to, serviceTo: to ?? from }
}

/**
 * The lines of a job's next invoice: what was delivered or agreed until then and is not billed, and the costs that
 * are passed on, at the client's own rate of tax.
 */
export function proposedLines(db: Db, jobId: Id<'job'>, until: string | null): readonly InvoiceLineDraft[] {
  const nothingNamed = { quoteLineId: null, extraLineId: null, jobCostId: null, correctsLineId: null, jobId }
  const ordered = proposeLines(orderLinesOf(db, jobId, until)).map((line): InvoiceLineDraft => {
    const { source, lineId, taxRateId, ...rest } = line
    return {
      ...rest,
      ...taxedBy(db, taxRateId),
      ...nothingNamed,
      quoteLineId: source === 'quote' ? (lineId as Id<'quote_line'>) : null,
      extraLineId: source === 'extra' ? (lineId as Id<'extra_line'>) : null,
    }
  })
  const zone = theStudio(db).timeZone
  const passed = costsToPassOn(db, jobId, until === null ? null : dayOf(until, zone)).map(
    ({ jobCostId, taxRateId, ...line }): InvoiceLineDraft => ({
      ...line,
      unit: 'LS',
      baseMilli: 1000,
      ...taxedBy(db, taxRateId),
      ...nothingNamed,
      jobCostId,
    }),
  )
  return [...ordered, ...passed]
}

/** How a line is taxed that the order taxes by a rate of the studio, and nothing taken off or put on it. */
function taxedBy(db: Db, taxRateId: number) {
  const { category, ratePpm, namedRates, exemptionReason } = taxRateById(db, taxRateId)
  const nothing = { allowanceMinor: 0, allowanceReason: null, chargeMinor: 0, chargeReason: null }
  return { category, ratePpm, namedRates, exemptionReason, ...nothing }
}

/** The sums of a document that is to be paid: deposits deducted, the rest rounded as its currency is paid. */
export function totalsOf(
  db: Db,
  of: Pick<InvoiceContent, 'currency' | 'lines' | 'adjustments' | 'deposits'>,
): BillTotals {
  const draft = {
    lines: of.lines,
    allowances: of.adjustments.filter(({ kind }) => kind === 'allowance'),
    charges: of.adjustments.filter(({ kind }) => kind === 'charge'),
    prepaidMinor: of.deposits.reduce((sum, { amountMinor }) => sum + amountMinor, 0),
  }
  const due = billTotals(draft).payableMinor
  return billTotals({ ...draft, roundingMinor: cashRoundingMinor(due, cashStepMinor(db, of.currency)) })
}

function contentOf(
  db: Db,
  job: BilledJob,
  jobId: Id<'job'>,
  of: Pick<InvoiceContent, 'kind' | 'lines' | 'deposits'>,
): InvoiceContent {
  const adjustments: readonly Adjustment[] = []
  return {
    ...job,
    ...of,
    jobId,
    correctsId: null,
    language: readerOf(db, job.clientId).language,
    note: null,
    adjustments,
    totals: totalsOf(db, { ...of, currency: job.currency, adjustments }),
  }
}

/**
 * Makes the draft of a job's next invoice: what was delivered of the accepted quote, agreed extras, and the
 * open deposits deducted. Refuses a job without an accepted quote, one with a draft already, and one of which
 * nothing is left to bill.
 * @param upTo  the last delivery that is billed, for an invoice per batch; null for all that went out
 */
export function draftInvoice(
  writing: Writing,
  jobId: Id<'job'>,
  upTo: Id<'delivery'> | null = null,
): Id<'invoice'> {
  const { db } = writing
  return inOneTransaction(db, () => {
    refuseSecondDraft(db, jobId, 'invoice')
    if (orderLinesOf(db, jobId).length === 0) {
      throw new Refusal('no-order', 'There is no accepted quote to bill. Have the quote accepted first.')
    }
    const until = upTo === null ? null : sentAt(db, jobId, upTo)
    const lines = proposedLines(db, jobId, until)
    if (lines.length === 0) {
      throw new Refusal(
        'nothing-to-bill',
        'Everything delivered so far is billed. Deliver the next spins first.',
      )
    }
    const job = billedJob(db, jobId, until)
    const deposits = deductible(openDepositsOf(db, jobId), billTotals({ lines }).taxInclusiveMinor)
    const invoiceId = addDraft(writing, contentOf(db, job, jobId, { kind: 'invoice', lines, deposits }))
    nameDeliveries(db, invoiceId, [jobId], until)
    return invoiceId
  })
}

function sentAt(db: Db, jobId: Id<'job'>, deliveryId: Id<'delivery'>): string {
  const row = prepared<[number, number], { sentAt: string | null }>(
    db,
    'SELECT sent_at AS sentAt FROM delivery WHERE id = ? AND job_id = ?',
  ).get(deliveryId, jobId)
  if (row?.sentAt) return row.sentAt
  throw new Refusal('delivery-not-sent', 'This delivery has not gone out. Choose one that was sent.', {
    field: 'deliveryId',
  })
}

/** Deposits in their order, as far as the invoice reaches: one that is larger waits for the next invoice. */
export function deductible<T extends { readonly amountMinor: number }>(
  deposits: readonly T[],
  totalMinor: number,
): readonly T[] {
  let left = totalMinor
  return deposits.filter(({ amountMinor }) => {
    if (amountMinor > left) return false
    left -= amountMinor
    return true
  })
}

/**
 * Makes the draft of a deposit invoice: a share of the accepted quote before tax, spread over its tax rates.
 * Refuses a job without an accepted quote and one whose deposit is billed already.
 */
export function draftDeposit(writing: Writing, jobId: Id<'job'>, depositPpm: number): Id<'invoice'> {
  const { db } = writing
  return inOneTransaction(db, () => {
    refuseSecondDraft(db, jobId, 'deposit')
    const order = orderLinesOf(db, jobId).filter(({ source }) => source === 'quote')
    if (order.length === 0) {
      throw new Refusal(
        'no-order',
        'There is no accepted quote to ask a deposit on. Have the quote accepted first.',
      )
    }
    if (openDepositsOf(db, jobId).length > 0) {
      throw new Refusal(
        'deposit-billed',
        'The deposit of this job is billed already. Credit it first to bill another.',
      )
    }
    const job = billedJob(db, jobId)
    const reader = readerOf(db, job.clientId)
    const { deposit } = paperTexts[reader.language].lines
    const share = clientFigures(reader).percent(depositPpm)
    const rates = [...new Set(order.map(({ taxRateId }) => taxRateId))]
    const nets = rates.map((rate) =>
      order.filter(({ taxRateId }) => taxRateId === rate).reduce((sum, { netMinor }) => sum + netMinor, 0),
    )
    const whole = depositMinor(
      nets.reduce((a, b) => a + b, 0),
      depositPpm,
    )
    const shares = allocate(whole, nets)
    const lines = rates.map(
      (rate, index): InvoiceLineDraft => ({
        text: deposit(share, job.number),
        quantityMilli: 1000,
        unit: 'LS',
        priceMinor: shares[index] ?? 0,
        baseMilli: 1000,
        ...taxedBy(db, rate),
        quoteLineId: null,
        extraLineId: null,
        jobCostId: null,
        correctsLineId: null,
        jobId,
      }),
    )
    return addDraft(writing, contentOf(db, job, jobId, { kind: 'deposit', lines, deposits: [] }))
  })
}

export function refuseSecondDraft(db: Db, jobId: Id<'job'>, kind: 'invoice' | 'deposit'): void {
  const draft = prepared<object, { id: number }>(
    db,
    `SELECT id FROM invoice WHERE id IN (${invoiceIdsOfJob}) AND kind = @kind AND state = 'draft'`,
  ).get({ jobId, kind })
  if (draft) {
    throw new Refusal(
      'draft-exists',
      'There is already a draft for this job. Issue it, or throw it away first.',
    )
  }
}

export function addDraft(writing: Writing, content: InvoiceContent): Id<'invoice'> {
  const invoiceId = insertInvoiceDraft(writing.db, content, writing.now)
  writeEvent(writing, {
    subject: 'invoice',
    subjectId: invoiceId,
    jobId: content.jobId,
    clientId: content.clientId,
    what: `${content.kind} drafted`,
    detail: { totalMinor: content.totals.taxInclusiveMinor, currency: content.currency },
  })
  return invoiceId
}

/** What a person may change of a draft. */
export interface DraftChange {
  readonly lines: readonly InvoiceLineDraft[]
  readonly adjustments: readonly Adjustment[]
  readonly note: string | null
  readonly orderNumber: string | null
  readonly buyerReference: string | null
  readonly costCentre: string | null
  readonly serviceFrom: string | null
  readonly serviceTo: string | null
}

/** Changes a draft by hand; its sums follow. Refuses an issued invoice, and a line of another job's order. */
export function changeDraft(writing: Writing, invoiceId: Id<'invoice'>, change: DraftChange): void {
  const { db } = writing
  inOneTransaction(db, () => {
    const draft = theDraft(db, invoiceId)
    const jobIds = draft.jobId === null ? jobsOfInvoice(db, invoiceId) : [draft.jobId]
    for (const line of change.lines) refuseOtherOrder(db, jobIds, line)
    const deposits = depositsDeductedBy(db, invoiceId)
    rewriteInvoiceDraft(db, invoiceId, {
      ...draft,
      ...change,
      deposits,
      totals:
        draft.kind === 'credit note'
          ? creditTotals(db, draft, change)
          : totalsOf(db, { ...change, currency: draft.currency, deposits }),
    })
    writeEvent(writing, {
      subject: 'invoice',
      subjectId: invoiceId,
      jobId: draft.jobId,
      clientId: draft.clientId,
      what: `${draft.kind} draft changed`,
    })
  })
}

/** What a line says it bills is taken off what its order still holds, so it must be the order of its own job. */
function refuseOtherOrder(db: Db, jobIds: readonly Id<'job'>[], line: InvoiceLineDraft): void {
  const ofThese = (jobId: Id<'job'>) =>
    jobIds.includes(jobId) && (line.jobId === null || line.jobId === jobId)
  if (line.quoteLineId === null && line.extraLineId === null && line.jobCostId === null) {
    if (line.jobId === null || jobIds.includes(line.jobId)) return
  }
  const order = prepared<(number | null)[], { jobId: Id<'job'> }>(
    db,
    `SELECT q.job_id AS jobId FROM quote_line l JOIN quote q ON q.id = l.quote_id WHERE l.id = ?
     UNION ALL SELECT e.job_id FROM extra_line l JOIN extra e ON e.id = l.extra_id WHERE l.id = ?
     UNION ALL SELECT job_id FROM job_cost WHERE id = ?`,
  ).all(line.quoteLineId, line.extraLineId, line.jobCostId)
  if (order.length > 0 && order.every((source) => ofThese(source.jobId))) return
  throw new Refusal(
    'line-of-another-job',
    `‘${line.text}’ bills the order of another job. Take the line off and type it anew.`,
    { field: 'lines' },
  )
}

/** Throws a draft away. Refuses an issued invoice. */
export function discardDraft(writing: Writing, invoiceId: Id<'invoice'>): void {
  inOneTransaction(writing.db, () => {
    const draft = theDraft(writing.db, invoiceId)
    deleteInvoiceDraft(writing.db, invoiceId)
    writeEvent(writing, {
      subject: 'invoice',
      subjectId: invoiceId,
      jobId: draft.jobId,
      clientId: draft.clientId,
      what: `${draft.kind} draft thrown away`,
    })
  })
}
