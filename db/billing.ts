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
  openDepositsOf,
} from './invoices.ts'
import type { Db } from './open.ts'
import { orderLinesOf } from './orderLines.ts'
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

interface BilledJob {
  readonly clientId: Id<'client'>
  readonly number: string
  readonly currency: string
  readonly orderNumber: string | null
  readonly buyerReference: string | null
  readonly costCentre: string | null
  readonly serviceFrom: string | null
  readonly serviceTo: string | null
}

function billedJob(db: Db, jobId: Id<'job'>): BilledJob {
  const zone = theStudio(db).timeZone
  const row = prepared<[number], BilledJob>(
    db,
    `SELECT client_id AS clientId, number, currency, order_number AS orderNumber, buyer_reference AS buyerReference,
       cost_centre AS costCentre,
       (SELECT min(t.started_at) FROM take t JOIN shoot s ON s.id = t.shoot_id WHERE s.job_id = job.id) AS serviceFrom,
       (SELECT max(d.sent_at) FROM delivery d WHERE d.job_id = job.id) AS serviceTo
     FROM job WHERE id = ?`,
  ).get(jobId)
  if (!row) throw new Refusal('no-job', 'This job is not in the studio any more.')
  const localDay = (at: string | null) => (at === null ? null : dayOf(at, zone))
  const [from, to] = [localDay(row.serviceFrom), localDay(row.serviceTo)]
  return { ...row, serviceFrom: from ?? to, serviceTo: to ?? from }
}

/** How a line is taxed that the order taxes by a rate of the studio, and nothing taken off or put on it. */
function taxedBy(db: Db, taxRateId: number) {
  const { category, ratePpm, namedRates, exemptionReason } = taxRateById(db, taxRateId)
  const nothing = { allowanceMinor: 0, allowanceReason: null, chargeMinor: 0, chargeReason: null }
  return { category, ratePpm, namedRates, exemptionReason, ...nothing }
}

/** The sums of a document that is to be paid: deposits deducted, the rest rounded as its currency is paid. */
function totalsOf(
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
 */
export function draftInvoice(writing: Writing, jobId: Id<'job'>): Id<'invoice'> {
  const { db } = writing
  return inOneTransaction(db, () => {
    refuseSecondDraft(db, jobId, 'invoice')
    const order = orderLinesOf(db, jobId)
    if (order.length === 0) {
      throw new Refusal('no-order', 'There is no accepted quote to bill. Have the quote accepted first.')
    }
    const lines = proposeLines(order).map((line): InvoiceLineDraft => {
      const { source, lineId, taxRateId, ...rest } = line
      return {
        ...rest,
        ...taxedBy(db, taxRateId),
        quoteLineId: source === 'quote' ? (lineId as Id<'quote_line'>) : null,
        extraLineId: source === 'extra' ? (lineId as Id<'extra_line'>) : null,
        correctsLineId: null,
      }
    })
    if (lines.length === 0) {
      throw new Refusal(
        'nothing-to-bill',
        'Everything delivered so far is billed. Deliver the next spins first.',
      )
    }
    const job = billedJob(db, jobId)
    const deposits = deductible(openDepositsOf(db, jobId), billTotals({ lines }).taxInclusiveMinor)
    return addDraft(writing, contentOf(db, job, jobId, { kind: 'invoice', lines, deposits }))
  })
}

/** Deposits in their order, as far as the invoice reaches: one that is larger waits for the next invoice. */
function deductible<T extends { readonly amountMinor: number }>(
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
        correctsLineId: null,
      }),
    )
    return addDraft(writing, contentOf(db, job, jobId, { kind: 'deposit', lines, deposits: [] }))
  })
}

function refuseSecondDraft(db: Db, jobId: Id<'job'>, kind: 'invoice' | 'deposit'): void {
  const draft = prepared<[number, string], { id: number }>(
    db,
    `SELECT id FROM invoice WHERE job_id = ? AND kind = ? AND state = 'draft'`,
  ).get(jobId, kind)
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
    for (const line of change.lines) refuseOtherOrder(db, draft.jobId, line)
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

/** What a line says it bills is taken off what its order still holds, so it must be the order of this job. */
function refuseOtherOrder(db: Db, jobId: Id<'job'> | null, line: InvoiceLineDraft): void {
  if (line.quoteLineId === null && line.extraLineId === null) return
  const order = prepared<[number | null, number | null], { jobId: Id<'job'> }>(
    db,
    `SELECT q.job_id AS jobId FROM quote_line l JOIN quote q ON q.id = l.quote_id WHERE l.id = ?
     UNION ALL SELECT e.job_id FROM extra_line l JOIN extra e ON e.id = l.extra_id WHERE l.id = ?`,
  ).all(line.quoteLineId, line.extraLineId)
  if (order.length > 0 && order.every((source) => source.jobId === jobId)) return
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
