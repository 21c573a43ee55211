import { billTotals, type TaxCategory } from '../main/trade/bill.ts'
import { addDays, dayOf } from '../main/trade/calendar.ts'
import { depositMinor, proposeLines } from '../main/trade/invoice.ts'
import { allocate } from '../main/trade/money.ts'
import { creditorReference } from '../main/trade/payment.ts'
import { Refusal } from '../main/trade/refusal.ts'
import { refreshAccount } from './accounts.ts'
import { findClient } from './clients.ts'
import { type Writing, writeEvent } from './events.ts'
import type { Id } from './ids.ts'
import {
  type Adjustment,
  adjustmentsOf,
  deleteInvoiceDraft,
  depositsDeductedBy,
  findInvoice,
  freezeInvoice,
  type Invoice,
  type InvoiceContent,
  type InvoiceLineDraft,
  insertInvoiceDraft,
  linesOf,
  openDepositsOf,
  type Party,
  rewriteInvoiceDraft,
} from './invoices.ts'
import { takeNumber } from './numbers.ts'
import type { Db } from './open.ts'
import { orderLinesOf } from './orderLines.ts'
import { refreshStanding } from './standing.ts'
import { inOneTransaction, prepared } from './statement.ts'
import { theStudio } from './studio.ts'

/** The invoice, or a refusal: a page may still show one that another window threw away. */
export function theInvoice(db: Db, invoiceId: Id<'invoice'>): Invoice {
  const invoice = findInvoice(db, invoiceId)
  if (!invoice)
    throw new Refusal('no-invoice', 'This invoice is not in the studio any more. Go back to the list.')
  return invoice
}

function theDraft(db: Db, invoiceId: Id<'invoice'>): Invoice {
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

interface TaxRateRow {
  readonly category: TaxCategory
  readonly ratePpm: number
  readonly exemptionReason: string | null
}

function taxRate(db: Db, taxRateId: number): TaxRateRow {
  const row = prepared<[number], TaxRateRow>(
    db,
    'SELECT category, rate_ppm AS ratePpm, exemption_reason AS exemptionReason FROM tax_rate WHERE id = ?',
  ).get(taxRateId)
  if (!row) throw new Error(`There is no tax rate ${taxRateId}.`)
  return row
}

function contentOf(
  db: Db,
  job: BilledJob,
  jobId: Id<'job'>,
  of: Pick<InvoiceContent, 'kind' | 'lines' | 'deposits'>,
): InvoiceContent {
  const prepaidMinor = of.deposits.reduce((sum, { amountMinor }) => sum + amountMinor, 0)
  return {
    ...job,
    ...of,
    jobId,
    correctsId: null,
    language: findClient(db, job.clientId)?.language ?? 'en',
    note: null,
    adjustments: [],
    totals: billTotals({ lines: of.lines, prepaidMinor }),
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
        ...taxRate(db, taxRateId),
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
        text: `Deposit of ${depositPpm / 10_000} % on job ${job.number}`,
        quantityMilli: 1000,
        unit: 'LS',
        priceMinor: shares[index] ?? 0,
        baseMilli: 1000,
        ...taxRate(db, rate),
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

function addDraft(writing: Writing, content: InvoiceContent): Id<'invoice'> {
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

/** Changes a draft by hand; its sums follow. Refuses an issued invoice. */
export function changeDraft(writing: Writing, invoiceId: Id<'invoice'>, change: DraftChange): void {
  const { db } = writing
  inOneTransaction(db, () => {
    const draft = theDraft(db, invoiceId)
    const deposits = depositsDeductedBy(db, invoiceId)
    rewriteInvoiceDraft(db, invoiceId, {
      ...draft,
      ...change,
      deposits,
      totals: billTotals({
        lines: change.lines,
        allowances: change.adjustments.filter(({ kind }) => kind === 'allowance'),
        charges: change.adjustments.filter(({ kind }) => kind === 'charge'),
        prepaidMinor: deposits.reduce((sum, { amountMinor }) => sum + amountMinor, 0),
      }),
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

/**
 * Issues a draft: its number, days and parties are given and frozen in one transaction, so that a series has
 * no gaps. Refuses a draft that is empty, due back to the client, or without the order number the client needs.
 * @returns the number
 */
export function issueInvoice(writing: Writing, invoiceId: Id<'invoice'>): string {
  const { db, now } = writing
  return inOneTransaction(db, () => {
    const draft = theDraft(db, invoiceId)
    refuseUnready(db, draft)
    const studio = theStudio(db)
    const client = findClient(db, draft.clientId)
    if (!client) throw new Error(`There is no client ${draft.clientId}.`)
    const issueDay = dayOf(now, studio.timeZone)
    const series = draft.kind === 'credit note' ? 'credit note' : 'invoice'
    const number = takeNumber(writing, series, Number(issueDay.slice(0, 4)))
    freezeInvoice(db, invoiceId, {
      number,
      issueDay,
      dueDay: addDays(
        issueDay,
        draft.kind === 'credit note' ? 0 : (client.paymentDays ?? studio.paymentDays),
      ),
      seller: { ...studio, name: studio.legalName ?? studio.name } satisfies Party & object,
      buyer: { ...client, companyNumber: null, email: null, iban: null, bic: null } satisfies Party & object,
      paymentReference: draft.kind === 'credit note' ? null : creditorReference(number.replaceAll('-', '')),
      issuedAt: now,
    })
    refreshAccount(db, draft.correctsId ?? invoiceId)
    if (draft.jobId !== null) refreshStanding(writing, draft.jobId)
    writeEvent(writing, {
      subject: 'invoice',
      subjectId: invoiceId,
      jobId: draft.jobId,
      clientId: draft.clientId,
      what: `${draft.kind} issued`,
      detail: { number, payableMinor: draft.payableMinor, currency: draft.currency },
    })
    return number
  })
}

function refuseUnready(db: Db, draft: Invoice): void {
  if (linesOf(db, draft.id).length === 0) {
    throw new Refusal(
      'invoice-empty',
      'This invoice has no lines. Add what is billed, or throw the draft away.',
    )
  }
  if (draft.payableMinor < 0) {
    throw new Refusal(
      'invoice-negative',
      'This invoice would pay money to the client. Write a credit note for that.',
    )
  }
  const client = findClient(db, draft.clientId)
  if (draft.kind !== 'credit note' && client?.orderNumberNeeded && !draft.orderNumber) {
    throw new Refusal(
      'order-number-missing',
      `${client.name} needs its order number on every invoice. Enter it first.`,
      {
        field: 'orderNumber',
      },
    )
  }
  if (draft.kind === 'invoice' && draft.jobId !== null) refuseStaleDeposits(db, draft, draft.jobId)
}

/** A deposit credited, or deducted elsewhere, since the draft was made would be deducted wrongly. */
function refuseStaleDeposits(db: Db, draft: Invoice, jobId: Id<'job'>): void {
  const open = new Set(openDepositsOf(db, jobId).map(({ depositId }) => depositId))
  const stale = depositsDeductedBy(db, draft.id).find(({ depositId }) => !open.has(depositId))
  if (stale) {
    throw new Refusal(
      'deposit-stale',
      `The deposit ${stale.number} was credited or deducted since this draft was made. Throw the draft away and make it again.`,
    )
  }
}

/** Lines of an invoice to be credited, with how much of each. */
export type CreditPart = readonly { readonly lineId: Id<'invoice_line'>; readonly quantityMilli: number }[]

/**
 * Makes the draft of a credit note on an issued invoice: the whole of it, or parts of its lines. The amounts
 * are positive, as on any credit note. Refuses more than what is left after earlier credit notes.
 */
export function draftCredit(
  writing: Writing,
  invoiceId: Id<'invoice'>,
  reason: string,
  part: CreditPart | null,
): Id<'invoice'> {
  const { db } = writing
  return inOneTransaction(db, () => {
    const invoice = theInvoice(db, invoiceId)
    if (invoice.state !== 'issued' || invoice.kind === 'credit note') {
      throw new Refusal(
        'not-creditable',
        'Only an issued invoice can be credited. Change or throw away a draft instead.',
      )
    }
    refuseSecondCreditDraft(db, invoiceId)
    const lines = creditLines(db, invoiceId, part)
    const adjustments = part === null ? adjustmentsOf(db, invoiceId) : []
    const totals = billTotals({
      lines,
      allowances: adjustments.filter(({ kind }) => kind === 'allowance'),
      charges: adjustments.filter(({ kind }) => kind === 'charge'),
      prepaidMinor: part === null ? invoice.prepaidMinor : 0,
      roundingMinor: part === null ? invoice.roundingMinor : 0,
    })
    const left = invoice.totalMinor - creditedMinor(db, invoiceId)
    if (totals.taxInclusiveMinor > left) {
      throw new Refusal(
        'credit-too-much',
        `Less than that is left of ${invoice.number} after earlier credit notes. Credit fewer lines.`,
      )
    }
    const content = { ...invoice, kind: 'credit note' as const, correctsId: invoiceId, note: reason }
    return addDraft(writing, { ...content, lines, adjustments, deposits: [], totals })
  })
}

function refuseSecondCreditDraft(db: Db, invoiceId: Id<'invoice'>): void {
  const draft = prepared<[number], { id: number }>(
    db,
    `SELECT id FROM invoice WHERE corrects_id = ? AND state = 'draft'`,
  ).get(invoiceId)
  if (draft)
    throw new Refusal(
      'draft-exists',
      'There is already a draft of a credit note on this invoice. Issue it, or throw it away.',
    )
}

function creditedMinor(db: Db, invoiceId: Id<'invoice'>): number {
  return (
    prepared<[number], { minor: number }>(
      db,
      `SELECT ifnull(sum(total_minor), 0) AS minor FROM invoice WHERE corrects_id = ? AND state = 'issued'`,
    ).get(invoiceId)?.minor ?? 0
  )
}

function creditLines(db: Db, invoiceId: Id<'invoice'>, part: CreditPart | null): readonly InvoiceLineDraft[] {
  const lines = linesOf(db, invoiceId)
  const wanted = part ?? lines.map(({ id, quantityMilli }) => ({ lineId: id, quantityMilli }))
  return wanted.map(({ lineId, quantityMilli }) => {
    const line = lines.find(({ id }) => id === lineId)
    if (!line) throw new Refusal('no-line', 'A line to be credited is not on this invoice.')
    const left = line.quantityMilli - creditedQuantityMilli(db, lineId)
    if (
      Math.abs(quantityMilli) > Math.abs(left) ||
      Math.sign(quantityMilli) !== Math.sign(line.quantityMilli)
    ) {
      throw new Refusal('credit-too-much', `Of '${line.text}' only ${left / 1000} is left to credit.`)
    }
    return { ...line, quantityMilli, correctsLineId: lineId }
  })
}

function creditedQuantityMilli(db: Db, lineId: Id<'invoice_line'>): number {
  return (
    prepared<[number], { milli: number }>(
      db,
      `SELECT ifnull(sum(l.quantity_milli), 0) AS milli FROM invoice_line l JOIN invoice i ON i.id = l.invoice_id
       WHERE l.corrects_line_id = ? AND i.state = 'issued'`,
    ).get(lineId)?.milli ?? 0
  )
}
