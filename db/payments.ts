import { dayOf } from '../main/trade/calendar.ts'
import { Refusal } from '../main/trade/refusal.ts'
import { creditOf, openOf, refreshAccount } from './accounts.ts'
import { theInvoice } from './billing.ts'
import { studioZone } from './calendar.ts'
import { type Writing, writeEvent } from './events.ts'
import type { Id } from './ids.ts'
import type { Invoice } from './invoices.ts'
import { refreshStanding } from './standing.ts'
import { inOneTransaction, newId, prepared } from './statement.ts'

/** Money that came in for an invoice, in minor units of the invoice's currency. */
export interface NewPayment {
  readonly day: string
  readonly amountMinor: number
  readonly way: 'transfer' | 'card' | 'cash' | 'cheque' | 'other'
  readonly reference: string | null
  readonly note: string | null
}

/**
 * Enters a payment on an issued invoice. What is more than the open amount stays with the client as credit.
 * Refuses a payment of nothing, on a draft or credit note, and on a day that has not come.
 */
export function enterPayment(writing: Writing, invoiceId: Id<'invoice'>, payment: NewPayment): void {
  const { db, now } = writing
  inOneTransaction(db, () => {
    const invoice = theInvoice(db, invoiceId)
    if (invoice.state !== 'issued' || invoice.kind === 'credit note') {
      throw new Refusal('not-payable', 'Only an issued invoice can be paid. Issue it first.')
    }
    if (!(payment.amountMinor > 0)) {
      throw new Refusal('payment-nothing', 'A payment is more than 0. Enter what came in.', {
        field: 'amountMinor',
      })
    }
    if (payment.day > dayOf(now, studioZone(db))) {
      throw new Refusal(
        'payment-in-future',
        `${payment.day} has not come yet. Enter the day the money came in.`,
        {
          field: 'day',
        },
      )
    }
    const paymentId = insertPayment(writing, invoice, payment)
    const share = Math.min(payment.amountMinor, Math.max(0, openOf(db, invoiceId)))
    if (share > 0) addShare(writing, invoice, paymentId, share)
    writeEvent(writing, {
      subject: 'invoice',
      subjectId: invoiceId,
      jobId: invoice.jobId,
      clientId: invoice.clientId,
      what: 'payment entered',
      detail: {
        number: invoice.number,
        amountMinor: payment.amountMinor,
        currency: invoice.currency,
        day: payment.day,
      },
    })
  })
}

function insertPayment({ db, now }: Writing, invoice: Invoice, payment: NewPayment): Id<'payment'> {
  return newId<Id<'payment'>>(
    prepared<unknown[]>(
      db,
      `INSERT INTO payment (client_id, day, amount_minor, currency, way, reference, note, created_at)
       VALUES (?, ?, ?, ?, ?, ?, ?, ?)`,
    ).run(
      invoice.clientId,
      payment.day,
      payment.amountMinor,
      invoice.currency,
      payment.way,
      payment.reference,
      payment.note,
      now,
    ),
  )
}

function addShare(writing: Writing, invoice: Invoice, paymentId: Id<'payment'>, minor: number): void {
  prepared<[number, number, number]>(writing.db, 'INSERT INTO payment_share VALUES (?, ?, ?)').run(
    paymentId,
    invoice.id,
    minor,
  )
  refreshAccount(writing.db, invoice.id)
  if (invoice.jobId !== null) refreshStanding(writing, invoice.jobId)
}

/** Sets a client's credit against an open invoice, the oldest payment first. Refuses where there is no credit. */
export function useCredit(writing: Writing, invoiceId: Id<'invoice'>): void {
  const { db } = writing
  inOneTransaction(db, () => {
    const invoice = theInvoice(db, invoiceId)
    const credit =
      creditOf(db, invoice.clientId).find(({ currency }) => currency === invoice.currency)?.minor ?? 0
    let open = Math.min(openOf(db, invoiceId), credit)
    if (open <= 0)
      throw new Refusal('no-credit', 'There is no credit of this client to set against the invoice.')
    const used = open
    for (const { id, left } of unusedPayments(writing, invoice)) {
      const share = Math.min(left, open)
      if (share > 0) addShare(writing, invoice, id, share)
      open -= share
    }
    writeEvent(writing, {
      subject: 'invoice',
      subjectId: invoiceId,
      jobId: invoice.jobId,
      clientId: invoice.clientId,
      what: 'credit used',
      detail: { number: invoice.number, amountMinor: used, currency: invoice.currency },
    })
  })
}

/** Payments with something left; one that already has a share on this invoice cannot take a second. */
function unusedPayments({ db }: Writing, invoice: Invoice): readonly { id: Id<'payment'>; left: number }[] {
  return prepared<[number, string, number], { id: Id<'payment'>; left: number }>(
    db,
    `SELECT p.id, p.amount_minor - (SELECT ifnull(sum(s.amount_minor), 0) FROM payment_share s WHERE s.payment_id = p.id) AS left
     FROM payment p WHERE p.client_id = ? AND p.currency = ? AND p.amount_minor > 0
       AND NOT EXISTS (SELECT 1 FROM payment_share s WHERE s.payment_id = p.id AND s.invoice_id = ?)
     ORDER BY p.day, p.id`,
  ).all(invoice.clientId, invoice.currency, invoice.id)
}

/**
 * Takes a payment back that was entered by mistake: the opposite payment is entered beside it, with the
 * opposite shares. Refuses one that was taken back already.
 */
export function reversePayment(writing: Writing, paymentId: Id<'payment'>, reason: string): void {
  const { db, now } = writing
  inOneTransaction(db, () => {
    const payment = prepared<
      [number],
      { clientId: Id<'client'>; day: string; amountMinor: number; currency: string; way: string }
    >(
      db,
      `SELECT client_id AS clientId, day, amount_minor AS amountMinor, currency, way FROM payment WHERE id = ?`,
    ).get(paymentId)
    const key = `reverses ${paymentId}`
    const already = prepared<[string], { id: number }>(
      db,
      'SELECT id FROM payment WHERE statement_key = ?',
    ).get(key)
    if (!payment || already || payment.amountMinor < 0) {
      throw new Refusal('not-reversible', 'This payment was taken back already.')
    }
    const opposite = newId<Id<'payment'>>(
      prepared<unknown[]>(
        db,
        `INSERT INTO payment (client_id, day, amount_minor, currency, way, statement_key, note, created_at)
         VALUES (?, ?, ?, ?, ?, ?, ?, ?)`,
      ).run(
        payment.clientId,
        payment.day,
        -payment.amountMinor,
        payment.currency,
        payment.way,
        key,
        reason,
        now,
      ),
    )
    const shares = prepared<[number], { invoiceId: Id<'invoice'>; minor: number }>(
      db,
      'SELECT invoice_id AS invoiceId, amount_minor AS minor FROM payment_share WHERE payment_id = ?',
    ).all(paymentId)
    for (const { invoiceId, minor } of shares) {
      const invoice = theInvoice(db, invoiceId)
      addShare(writing, invoice, opposite, -minor)
      writeEvent(writing, {
        subject: 'invoice',
        subjectId: invoiceId,
        jobId: invoice.jobId,
        clientId: payment.clientId,
        what: 'payment taken back',
        detail: {
          number: invoice.number,
          amountMinor: payment.amountMinor,
          currency: payment.currency,
          reason,
        },
      })
    }
  })
}
