import { type Match, matchesOf, nameKey, type OpenInvoice } from '../main/trade/bankMatch.ts'
import { Refusal } from '../main/trade/refusal.ts'
import { openOf } from './accounts.ts'
import { theInvoice } from './billing.ts'
import { findClient } from './clients.ts'
import { type Writing, writeEvent } from './events.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import type { Page } from './page.ts'
import { addShare, insertPayment, refreshUsed } from './payments.ts'
import { inOneTransaction, prepared } from './statement.ts'

/** A line of a bank statement. Money in minor units. */
export interface BankLine {
  readonly id: Id<'bank_line'>
  readonly day: string
  readonly amountMinor: number
  readonly usedMinor: number
  readonly currency: string
  readonly isReversal: boolean
  readonly payer: string | null
  readonly payerIban: string | null
  readonly reference: string | null
  readonly text: string
  readonly setAsideReason: string | null
}

export interface MatchedLine extends BankLine {
  readonly matches: readonly (Match & { readonly clientName: string })[]
}

export type BankLineFilter = 'open' | 'out' | 'all'

const filters: Record<BankLineFilter, string> = {
  open: 'amount_minor > 0 AND used_minor < amount_minor AND set_aside_reason IS NULL',
  out: 'amount_minor < 0',
  all: 'true',
}

const columns = `id, day, amount_minor AS amountMinor, used_minor AS usedMinor, currency, is_reversal AS isReversal,
  payer, payer_iban AS payerIban, reference, text, set_aside_reason AS setAsideReason`

type BankLineRow = Omit<BankLine, 'isReversal'> & { readonly isReversal: 0 | 1 }

function toLine(row: BankLineRow): BankLine {
  return { ...row, isReversal: row.isReversal === 1 }
}

function theLine(db: Db, lineId: Id<'bank_line'>): BankLine {
  const row = prepared<[number], BankLineRow>(db, `SELECT ${columns} FROM bank_line WHERE id = ?`).get(lineId)
  if (!row)
    throw new Refusal('no-line', 'This line is gone: its statement was taken out. Look at the list again.')
  return toLine(row)
}

/** Lines of bank statements, the oldest open ones first, else the newest; open credits with what they could be for. */
export function listBankLines(
  db: Db,
  filter: BankLineFilter,
  page: Page,
): { readonly lines: readonly MatchedLine[]; readonly total: number } {
  const order = filter === 'open' ? 'day, id' : 'day DESC, id DESC'
  const rows = prepared<object, BankLineRow>(
    db,
    `SELECT ${columns} FROM bank_line WHERE ${filters[filter]} ORDER BY ${order} LIMIT :limit OFFSET :offset`,
  ).all(page)
  const total =
    prepared<[], { count: number }>(
      db,
      `SELECT count(*) AS count FROM bank_line WHERE ${filters[filter]}`,
    ).get()?.count ?? 0
  const open = rows.length === 0 ? [] : openInvoices(db)
  const byName = new Map(open.map(({ clientId, clientName }) => [nameKey(clientName), clientId]))
  return { lines: rows.map((row) => withMatches(db, toLine(row), open, byName)), total }
}

function withMatches(
  db: Db,
  line: BankLine,
  open: readonly OpenInvoice[],
  byName: ReadonlyMap<string, number>,
): MatchedLine {
  const freeMinor = line.amountMinor - line.usedMinor
  // What the bank undoes is no payment of a client.
  if (freeMinor <= 0 || line.isReversal || line.setAsideReason !== null) return { ...line, matches: [] }
  const payerId =
    clientOfIban(db, line.payerIban) ?? (line.payer ? byName.get(nameKey(line.payer)) : undefined)
  return {
    ...line,
    matches: matchesOf({ ...line, freeMinor }, open, payerId).map((match) => ({
      ...match,
      clientName: findClient(db, match.clientId as Id<'client'>)?.name ?? '',
    })),
  }
}

/** The client for whom money of this account was entered last. */
function clientOfIban(db: Db, iban: string | null): number | undefined {
  if (iban === null) return undefined
  return prepared<[string], { clientId: number }>(
    db,
    `SELECT p.client_id AS clientId FROM bank_line b JOIN payment p ON p.bank_line_id = b.id
     WHERE b.payer_iban = ? AND b.used_minor > 0 ORDER BY p.id DESC LIMIT 1`,
  ).get(iban)?.clientId
}

/** Every invoice on which something is open, what was due first at the head. */
export function openInvoices(db: Db): readonly OpenInvoice[] {
  return prepared<[], OpenInvoice>(
    db,
    `SELECT i.id AS invoiceId, i.number, i.client_id AS clientId,
       (SELECT name FROM client WHERE client.id = i.client_id) AS clientName, i.currency,
       a.open_minor AS openMinor, a.due_day AS dueDay, i.payment_reference AS paymentReference
     FROM invoice_account a JOIN invoice i ON i.id = a.invoice_id WHERE a.open_minor <> 0 AND a.open_minor > 0
     ORDER BY a.due_day, i.id`,
  ).all()
}

/** What a person decided about money that came in: parts of invoices, and what is kept as a client's credit. */
export interface Booking {
  readonly shares: readonly { readonly invoiceId: Id<'invoice'>; readonly minor: number }[]
  readonly credit: { readonly clientId: Id<'client'>; readonly minor: number } | null
}

/**
 * Enters payments from a line of a bank statement as a person confirmed it, one for each client: all of it or nothing.
 * What is left of the line stays open. Refuses money that went out or that the bank undid, more than came in, more
 * than is open on an invoice, and another currency.
 */
export function bookLine(writing: Writing, lineId: Id<'bank_line'>, booking: Booking): void {
  const { db } = writing
  inOneTransaction(db, () => {
    const line = theLine(db, lineId)
    refuseUnbookable(line, booking)
    const shares = booking.shares.map(({ invoiceId, minor }) => ({
      invoice: theInvoice(db, invoiceId),
      minor,
    }))
    for (const { invoice, minor } of shares) {
      if (invoice.currency !== line.currency) {
        throw new Refusal(
          'other-currency',
          `${invoice.number} is in ${invoice.currency}, the money came in ${line.currency}. Enter the payment by hand on the invoice.`,
        )
      }
      if (minor > openOf(db, invoice.id)) {
        throw new Refusal(
          'more-than-open',
          `Less than that is open on ${invoice.number}. Take what is open, and keep the rest as credit.`,
        )
      }
    }
    const { credit } = booking
    const clients = new Set([
      ...shares.map(({ invoice }) => invoice.clientId),
      ...(credit ? [credit.clientId] : []),
    ])
    for (const clientId of clients) {
      const own = shares.filter(({ invoice }) => invoice.clientId === clientId)
      const kept = credit?.clientId === clientId ? credit.minor : 0
      const amountMinor = own.reduce((sum, { minor }) => sum + minor, kept)
      const paymentId = insertPayment(writing, {
        clientId,
        day: line.day,
        amountMinor,
        currency: line.currency,
        way: 'transfer',
        reference: (line.reference ?? line.text).slice(0, 140) || null,
        note: null,
        bankLineId: lineId,
        reversesId: null,
      })
      for (const { invoice, minor } of own) addShare(writing, invoice, paymentId, minor)
      writeEvent(writing, {
        subject: 'client',
        subjectId: clientId,
        clientId,
        jobId: own.length === 1 ? (own[0]?.invoice.jobId ?? null) : null,
        what: 'payment entered',
        detail: {
          numbers: own.map(({ invoice }) => invoice.number),
          amountMinor,
          currency: line.currency,
          day: line.day,
        },
      })
    }
    refreshUsed(db, lineId)
  })
}

function refuseUnbookable(line: BankLine, { shares, credit }: Booking): void {
  if (line.amountMinor < 0 || line.isReversal) {
    throw new Refusal(
      'not-a-credit',
      'Only money that came in for an invoice can be entered from a statement.',
    )
  }
  const parts = [...shares.map(({ minor }) => minor), ...(credit ? [credit.minor] : [])]
  const twice = new Set(shares.map(({ invoiceId }) => invoiceId)).size < shares.length
  if (parts.length === 0 || twice || parts.some((minor) => !(minor > 0))) {
    throw new Refusal(
      'nothing-to-book',
      'Each part is more than 0, and an invoice is named once. Say what the money is for.',
    )
  }
  if (parts.reduce((sum, minor) => sum + minor, 0) > line.amountMinor - line.usedMinor) {
    throw new Refusal(
      'more-than-came',
      'The parts are more than what is left of this line. Take some of them smaller.',
    )
  }
}

/** Sets a line aside that is for no invoice, with why; null takes it back into the list. */
export function setAside(writing: Writing, lineId: Id<'bank_line'>, reason: string | null): void {
  const { db } = writing
  inOneTransaction(db, () => {
    theLine(db, lineId)
    prepared<[string | null, number]>(db, 'UPDATE bank_line SET set_aside_reason = ? WHERE id = ?').run(
      reason,
      lineId,
    )
    writeEvent(writing, {
      subject: 'bank_line',
      subjectId: lineId,
      what: reason === null ? 'bank line taken back' : 'bank line set aside',
      detail: { reason },
    })
  })
}
