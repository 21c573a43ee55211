import { dayOf } from '../main/trade/calendar.ts'
import { Refusal } from '../main/trade/refusal.ts'
import { creditOf, openOf, refreshAccount } from './accounts.ts'
import { theInvoice } from './billing.ts'
import { studioZone } from './calendar.ts'
import { type Writing, writeEvent } from './events.ts'
import type { Id } from './ids.ts'
import { type Invoice, jobsOfInvoice } from './invoices.ts'
import type { Db } from './open.ts'
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
  const { db } = writing
  inOneTransaction(db, () => {
    const invoice = theInvoice(db, invoiceId)
    if (invoice.state !== 'issued' || invoice.kind === 'credit note') {
      throw new Refusal('not-payable', 'Only an issued invoice can be paid. Issue it first.')
    }
    refuseBadAmount(writing, payment)
    const { clientId, currency } = invoice
    const paymentId = insertPayment(writing, { ...payment, ...byHand, clientId, currency })
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

/** A payment's row as it is written: whose it is, from which line of a bank statement, and what it takes back. */
export interface PaymentRow extends NewPayment {
  readonly clientId: Id<'client'>
  readonly currency: string
  readonly bankLineId: Id<'bank_line'> | null
  readonly reversesId: Id<'payment'> | null
}

const byHand = { bankLineId: null, reversesId: null }

/** Writes the bare row; call it inside the transaction that adds its shares. */
export function insertPayment({ db, now }: Writing, payment: PaymentRow): Id<'payment'> {
  return newId<Id<'payment'>>(
    prepared<unknown[]>(
      db,
      `INSERT INTO payment (client_id, day, amount_minor, currency, way, reference, bank_line_id, reverses_id, note, created_at)
       VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
    ).run(
      payment.clientId,
      payment.day,
      payment.amountMinor,
      payment.currency,
      payment.way,
      payment.reference,
      payment.bankLineId,
      payment.reversesId,
      payment.note,
      now,
    ),
  )
}

/** Sets a part of a payment against an invoice, and keeps what is open and how its job stands. */
export function addShare(writing: Writing, invoice: Invoice, paymentId: Id<'payment'>, minor: number): void {
  prepared<[number, number, number]>(writing.db, 'INSERT INTO payment_share VALUES (?, ?, ?)').run(
    paymentId,
    invoice.id,
    minor,
  )
  refreshAccount(writing.db, invoice.id)
  for (const jobId of jobsOfInvoice(writing.db, invoice.id)) refreshStanding(writing, jobId)
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

/** Money given back to a client: of its credit, or what was paid or credited too much on one invoice. */
export interface PayBack extends NewPayment {
  readonly clientId: Id<'client'>
  readonly currency: string
  /** The overpaid invoice; null where the client's credit is paid back. */
  readonly invoiceId: Id<'invoice'> | null
}

/**
 * Enters money that was paid back to a client. Refuses nothing, a day that has not come, and more than the client's
 * credit or than was overpaid on the invoice.
 */
export function payBack(writing: Writing, back: PayBack): void {
  const { db } = writing
  const { clientId, currency, amountMinor } = back
  inOneTransaction(db, () => {
    const invoice = back.invoiceId === null ? undefined : theInvoice(db, back.invoiceId)
    const atMost = invoice
      ? -openOf(db, invoice.id)
      : (creditOf(db, clientId).find((credit) => credit.currency === currency)?.minor ?? 0)
    refuseBadAmount(writing, back)
    if (amountMinor > atMost || (invoice && invoice.clientId !== clientId)) {
      throw new Refusal(
        'pay-back-too-much',
        invoice
          ? `Less than that was paid too much on ${invoice.number}. Enter what was paid back.`
          : 'Less than that is the client’s credit. Enter what was paid back.',
        { field: 'amountMinor' },
      )
    }
    const paymentId = insertPayment(writing, { ...back, ...byHand, amountMinor: -amountMinor })
    if (invoice) addShare(writing, invoice, paymentId, -amountMinor)
    writeEvent(writing, {
      subject: invoice ? 'invoice' : 'client',
      subjectId: invoice?.id ?? clientId,
      jobId: invoice?.jobId ?? null,
      clientId,
      what: 'money paid back',
      detail: { number: invoice?.number, amountMinor, currency, day: back.day },
    })
  })
}

function refuseBadAmount({ db, now }: Writing, { amountMinor, day }: NewPayment): void {
  if (!(amountMinor > 0)) {
    throw new Refusal('payment-nothing', 'A payment is more than 0. Enter what was paid.', {
      field: 'amountMinor',
    })
  }
  if (day > dayOf(now, studioZone(db))) {
    throw new Refusal('payment-in-future', `${day} has not come yet. Enter the day the money moved.`, {
      field: 'day',
    })
  }
}

/**
 * Takes a payment back that was entered by mistake: the opposite payment is entered beside it, with the
 * opposite shares; a line of a bank statement that it took is free again. Refuses one that was taken back already.
 */
export function reversePayment(writing: Writing, paymentId: Id<'payment'>, reason: string): void {
  const { db } = writing
  inOneTransaction(db, () => {
    const payment = reversible(db, paymentId)
    const { amountMinor, currency, clientId, bankLineId } = payment
    const opposite = insertPayment(writing, {
      ...payment,
      amountMinor: -amountMinor,
      reference: null,
      note: reason,
      reversesId: paymentId,
    })
    if (bankLineId !== null) refreshUsed(db, bankLineId)
    const shares = prepared<[number], { invoiceId: Id<'invoice'>; minor: number }>(
      db,
      'SELECT invoice_id AS invoiceId, amount_minor AS minor FROM payment_share WHERE payment_id = ?',
    ).all(paymentId)
    const told = { clientId, what: 'payment taken back' }
    if (shares.length === 0) {
      writeEvent(writing, {
        ...told,
        subject: 'client',
        subjectId: clientId,
        detail: { amountMinor, currency, reason },
      })
    }
    for (const { invoiceId, minor } of shares) {
      const invoice = theInvoice(db, invoiceId)
      addShare(writing, invoice, opposite, -minor)
      writeEvent(writing, {
        ...told,
        subject: 'invoice',
        subjectId: invoiceId,
        jobId: invoice.jobId,
        detail: { number: invoice.number, amountMinor, currency, reason },
      })
    }
  })
}

function reversible(db: Db, paymentId: Id<'payment'>): PaymentRow {
  const payment = prepared<[number], PaymentRow & { isReversed: 0 | 1 }>(
    db,
    `SELECT client_id AS clientId, day, amount_minor AS amountMinor, currency, way, reference, note,
       bank_line_id AS bankLineId, reverses_id AS reversesId,
       EXISTS (SELECT 1 FROM payment r WHERE r.reverses_id = payment.id) AS isReversed
     FROM payment WHERE id = ?`,
  ).get(paymentId)
  if (!payment || payment.isReversed === 1 || payment.reversesId !== null) {
    throw new Refusal('not-reversible', 'This payment was taken back already.')
  }
  return payment
}

/** Works out what payments have taken of a line of a bank statement; in the transaction of the payment. */
export function refreshUsed(db: Db, lineId: Id<'bank_line'>): void {
  prepared<[number]>(
    db,
    `UPDATE bank_line SET used_minor =
       (SELECT ifnull(sum(amount_minor), 0) FROM payment WHERE bank_line_id = bank_line.id) WHERE id = ?`,
  ).run(lineId)
}
