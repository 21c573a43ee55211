import * as z from 'zod'
import { creditOf, listInvoices, openOf, paymentsOn } from '../../db/accounts.ts'
import { changeDraft, discardDraft, draftDeposit, draftInvoice, theInvoice } from '../../db/billing.ts'
import { studioZone } from '../../db/calendar.ts'
import { cashStepMinor } from '../../db/cashRounding.ts'
import { draftCredit } from '../../db/creditNotes.ts'
import type { Id } from '../../db/ids.ts'
import { unbilledDeliveries } from '../../db/invoiceDeliveries.ts'
import { linksOf } from '../../db/invoiceLinks.ts'
import { adjustmentsOf, depositsDeductedBy, invoicesOfJob, linesOf, taxesOf } from '../../db/invoices.ts'
import { asIssued, issueInvoice } from '../../db/issuing.ts'
import { draftMonth, monthsToBill } from '../../db/monthlyBilling.ts'
import type { Db } from '../../db/open.ts'
import { orderLinesOf } from '../../db/orderLines.ts'
import { enterPayment, reversePayment, useCredit } from '../../db/payments.ts'
import { remindersOn } from '../../db/reminders.ts'
import { writeOffsOn } from '../../db/writeOffs.ts'
import { invoicePaperOf, invoiceSheet } from '../papers/invoice.ts'
import { unprintable } from '../papers/sheet.ts'
import { shownSheet } from '../papers/shownSheet.ts'
import { invoiceUblOf } from '../papers/ubl.ts'
import { ages } from '../trade/ageing.ts'
import { taxCategories } from '../trade/bill.ts'
import { dayOf } from '../trade/calendar.ts'
import { invoiceState } from '../trade/invoice.ts'
import { call, day, idOf, maybeText, page, router, text } from './kit.ts'

const invoiceId = idOf('invoice')
const month = z
  .string()
  .regex(/^20[0-9]{2}-(0[1-9]|1[0-2])$/, 'A month is a year and a month, such as 2026-03.')
const minor = z.int('No amount is entered here. Type it in.')
const ratePpm = z.int().min(0).max(1_000_000)
const category = z.enum(taxCategories)
const namedRates = z
  .array(z.object({ name: z.string().min(1).max(60), ratePpm }))
  .max(10)
  .readonly()
  .default([])
const favour = minor.min(0, 'What is taken off or put on a line is 0 or more.').default(0)

const DraftInput = z
  .object({
    invoiceId,
    lines: z
      .array(
        z
          .object({
            text: text('The line’s text', 400),
            quantityMilli: z.int('A quantity has at most three decimals.'),
            unit: z.enum(['C62', 'HUR', 'DAY', 'LS']),
            priceMinor: minor.min(0, 'A price cannot be below 0. Use a negative quantity for a reduction.'),
            baseMilli: z.int().positive('A price is for a quantity of more than 0.'),
            category,
            ratePpm,
            namedRates,
            exemptionReason: maybeText(400),
            allowanceMinor: favour,
            allowanceReason: maybeText(200).default(null),
            chargeMinor: favour,
            chargeReason: maybeText(200).default(null),
            quoteLineId: idOf('quote_line').nullable(),
            extraLineId: idOf('extra_line').nullable(),
            jobCostId: idOf('job_cost').nullable().default(null),
            correctsLineId: idOf('invoice_line').nullable(),
            jobId: idOf('job').nullable().default(null),
          })
          .refine(({ allowanceMinor, allowanceReason }) => allowanceMinor === 0 || allowanceReason !== null, {
            // EN 16931-1 BR-42.
            message: 'Say why something is taken off this line; it stands on the paper.',
            path: ['allowanceReason'],
          })
          .refine(({ chargeMinor, chargeReason }) => chargeMinor === 0 || chargeReason !== null, {
            // EN 16931-1 BR-44.
            message: 'Say why something is put on this line; it stands on the paper.',
            path: ['chargeReason'],
          }),
      )
      .max(1000),
    adjustments: z
      .array(
        z.object({
          kind: z.enum(['allowance', 'charge']),
          reason: text('The reason of the allowance or charge'),
          amountMinor: minor.min(0, 'An allowance or charge is 0 or more.'),
          category,
          ratePpm,
          namedRates,
          exemptionReason: maybeText(400).default(null),
        }),
      )
      .max(50),
    note: maybeText(),
    orderNumber: maybeText(60),
    buyerReference: maybeText(60),
    costCentre: maybeText(60),
    serviceFrom: day.nullable(),
    serviceTo: day.nullable(),
  })
  .refine(
    ({ serviceFrom, serviceTo }) => serviceFrom === null || serviceTo === null || serviceTo >= serviceFrom,
    {
      // EN 16931-1 BR-29.
      message: 'The service ends before it begins. Correct one of its days.',
      path: ['serviceTo'],
    },
  )

const PaymentInput = z.object({
  invoiceId,
  day,
  amountMinor: z.int('The amount that came in is missing. Type it in.'),
  way: z.enum(['transfer', 'card', 'cash', 'cheque', 'other']),
  reference: maybeText(140),
  note: maybeText(400),
})

/** Invoices, deposits, credit notes and what was paid on them. */
export const invoiceCalls = router({
  list: call
    .input(
      z.object({
        filter: z.enum(['open', 'overdue', 'drafts', 'all']).default('open'),
        age: z.enum(ages).nullable().default(null),
        order: z
          .enum(['dueDay', 'issueDay', 'number', 'client', 'totalMinor', 'openMinor'])
          .default('dueDay'),
        descending: z.boolean().default(false),
        page,
      }),
    )
    .query(({ ctx, input }) => {
      const today = dayOf(ctx.now, studioZone(ctx.db))
      return {
        today,
        ...listInvoices(ctx.db, input, today, input.page),
      }
    }),

  ofJob: call.input(z.object({ jobId: idOf('job') })).query(({ ctx, input }) => {
    const today = dayOf(ctx.now, studioZone(ctx.db))
    return {
      today,
      order: orderLinesOf(ctx.db, input.jobId),
      deliveries: unbilledDeliveries(ctx.db, input.jobId),
      invoices: invoicesOfJob(ctx.db, input.jobId).map((invoice) => ({
        ...invoice,
        ...standingOf(ctx.db, invoice.id, today),
      })),
    }
  }),

  one: call.input(z.object({ invoiceId })).query(({ ctx, input }) => {
    const invoice = theInvoice(ctx.db, input.invoiceId)
    const today = dayOf(ctx.now, studioZone(ctx.db))
    return {
      invoice,
      today,
      ...linksOf(ctx.db, invoice),
      ...standingOf(ctx.db, invoice.id, today),
      lines: linesOf(ctx.db, invoice.id),
      adjustments: adjustmentsOf(ctx.db, invoice.id),
      taxes: taxesOf(ctx.db, invoice.id),
      deposits: depositsDeductedBy(ctx.db, invoice.id),
      cashStepMinor: cashStepMinor(ctx.db, invoice.currency),
      payments: paymentsOn(ctx.db, invoice.id),
      writeOffs: writeOffsOn(ctx.db, invoice.id),
      reminders: remindersOn(ctx.db, invoice.id),
      credit:
        creditOf(ctx.db, invoice.clientId).find(({ currency }) => currency === invoice.currency)?.minor ?? 0,
    }
  }),

  /** With a delivery, an invoice of what went out up to it; else of all that went out. */
  draft: call
    .input(z.object({ jobId: idOf('job'), deliveryId: idOf('delivery').nullable().default(null) }))
    .mutation(({ ctx, input }) => ({
      invoiceId: draftInvoice(ctx, input.jobId, input.deliveryId),
    })),

  /** Clients that are billed by the month, with what a month would hold. */
  months: call.input(z.object({ month })).query(({ ctx, input }) => monthsToBill(ctx.db, input.month)),

  draftMonth: call
    .input(z.object({ clientId: idOf('client'), month }))
    .mutation(({ ctx, input }) => ({ invoiceIds: draftMonth(ctx, input.clientId, input.month) })),

  draftDeposit: call
    .input(z.object({ jobId: idOf('job'), depositPpm: z.int('A share is a whole number of ppm.') }))
    .mutation(({ ctx, input }) => ({ invoiceId: draftDeposit(ctx, input.jobId, input.depositPpm) })),

  changeDraft: call.input(DraftInput).mutation(({ ctx, input: { invoiceId: id, ...change } }) => {
    changeDraft(ctx, id, change)
  }),

  discard: call.input(z.object({ invoiceId })).mutation(({ ctx, input }) => {
    discardDraft(ctx, input.invoiceId)
  }),

  /**
   * A draft's paper as issuing it now would print it, under the number it would be given; why it would be refused,
   * or null; and the letters on it that its typeface lacks.
   */
  asIssued: call.input(z.object({ invoiceId })).query(({ ctx, input }) => {
    const { invoice, number, refusal } = asIssued(ctx, input.invoiceId)
    const sheet = invoiceSheet(ctx.db, invoice, ctx.now)
    return {
      number,
      sheet: shownSheet(ctx.db, sheet),
      refusal: refusal?.message ?? null,
      lettersLacking: unprintable(sheet),
    }
  }),

  /** Issues and writes the paper. Were the paper to fail, the invoice stands and `paper` writes it later. */
  issue: call.input(z.object({ invoiceId })).mutation(async ({ ctx, input }) => {
    const number = issueInvoice(ctx, input.invoiceId)
    return { number, paperId: await invoicePaperOf(ctx, input.invoiceId) }
  }),

  /** The paper of an issued invoice, or a draft's as it would be. */
  paper: call.input(z.object({ invoiceId })).mutation(async ({ ctx, input }) => ({
    paperId: await invoicePaperOf(ctx, input.invoiceId),
  })),

  /** The electronic invoice of an issued document: UBL 2.1 after EN 16931-1. */
  ubl: call.input(z.object({ invoiceId })).mutation(({ ctx, input }) => ({
    paperId: invoiceUblOf(ctx, input.invoiceId),
  })),

  draftCredit: call
    .input(
      z.object({
        invoiceId,
        reason: text('The reason of the credit note', 400),
        part: z
          .array(z.object({ lineId: idOf('invoice_line'), quantityMilli: z.int() }))
          .min(1)
          .nullable(),
      }),
    )
    .mutation(({ ctx, input }) => ({
      invoiceId: draftCredit(ctx, input.invoiceId, input.reason, input.part),
    })),

  pay: call.input(PaymentInput).mutation(({ ctx, input: { invoiceId: id, ...payment } }) => {
    enterPayment(ctx, id, payment)
  }),

  useCredit: call.input(z.object({ invoiceId })).mutation(({ ctx, input }) => {
    useCredit(ctx, input.invoiceId)
  }),

  reversePayment: call
    .input(z.object({ paymentId: idOf('payment'), reason: text('The reason') }))
    .mutation(({ ctx, input }) => {
      reversePayment(ctx, input.paymentId, input.reason)
    }),
})

/** What is open on an invoice and how that stands today; a draft or credit note owes nothing. */
function standingOf(db: Db, id: Id<'invoice'>, today: string) {
  const invoice = theInvoice(db, id)
  if (invoice.state === 'draft' || invoice.kind === 'credit note')
    return { openMinor: 0, standing: invoice.state }
  const open = openOf(db, id)
  return { openMinor: open, standing: invoiceState(open, invoice.dueDay ?? today, today) }
}
