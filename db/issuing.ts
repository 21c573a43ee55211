import { refuseMissingParties } from '../main/trade/billParties.ts'
import { addDays, dayOf } from '../main/trade/calendar.ts'
import { creditorReference } from '../main/trade/payment.ts'
import { refuseMissingReferences } from '../main/trade/references.ts'
import { Refusal } from '../main/trade/refusal.ts'
import { refreshAccount } from './accounts.ts'
import { theDraft, theInvoice } from './billing.ts'
import { findClient } from './clients.ts'
import { refuseOverCredit } from './creditNotes.ts'
import { type Writing, writeEvent } from './events.ts'
import type { Id } from './ids.ts'
import { freezeInvoice } from './invoiceDrafts.ts'
import {
  depositsDeductedBy,
  type Invoice,
  jobsOfInvoice,
  linesOf,
  openDepositsOf,
  taxesOf,
} from './invoices.ts'
import { nextNumbers, takeNumber } from './numbers.ts'
import type { Db } from './open.ts'
import { buyerOf, sellerOf } from './parties.ts'
import { keepInvoiceRights } from './rightsOnPapers.ts'
import { refreshStanding } from './standing.ts'
import { inOneTransaction } from './statement.ts'
import { theStudio } from './studio.ts'

/**
 * Issues a draft: its number, days and parties are given and frozen in one transaction, so that a series has
 * no gaps. Refuses a draft that is empty, due back to the client, without a reference the client needs, or
 * without a number or day that its kind of tax demands,
 * and a credit note of more than is left of its invoice.
 * @returns the number
 */
export function issueInvoice(writing: Writing, invoiceId: Id<'invoice'>): string {
  const { db, now } = writing
  return inOneTransaction(db, () => {
    const draft = theDraft(db, invoiceId)
    refuseUnready(db, draft)
    const terms = termsOfIssue(writing, draft)
    const number = takeNumber(writing, seriesOf(draft), yearOf(terms.issueDay))
    keepInvoiceRights(db, invoiceId)
    freezeInvoice(db, invoiceId, { ...terms, ...named(draft, number), issuedAt: now })
    refreshAccount(db, draft.correctsId ?? invoiceId)
    const jobIds = jobsOfInvoice(db, invoiceId)
    for (const jobId of jobIds) refreshStanding(writing, jobId)
    for (const jobId of jobIds.length === 0 ? [null] : jobIds) {
      writeEvent(writing, {
        subject: 'invoice',
        subjectId: invoiceId,
        jobId,
        clientId: draft.clientId,
        what: `${draft.kind} issued`,
        detail: { number, payableMinor: draft.payableMinor, currency: draft.currency },
      })
    }
    return number
  })
}

/**
 * A draft as it would be issued now, with the number its series gives next and the days, parties and payment
 * reference that would be frozen. Writes nothing and takes no number.
 * @returns refusal  why it cannot be issued as it is; null where nothing stands against it
 */
export function asIssued(
  writing: Pick<Writing, 'db' | 'now'>,
  invoiceId: Id<'invoice'>,
): { readonly invoice: Invoice; readonly number: string; readonly refusal: Refusal | null } {
  const { db } = writing
  const draft = theDraft(db, invoiceId)
  const terms = termsOfIssue(writing, draft)
  const next = nextNumbers(db, yearOf(terms.issueDay)).find(({ kind }) => kind === seriesOf(draft))
  if (!next) throw new Error(`There is no series for a ${draft.kind}.`)
  const { number } = next
  return { invoice: { ...draft, ...terms, ...named(draft, number) }, number, refusal: refusalOf(db, draft) }
}

/** Days and parties that a document issued now bears. */
function termsOfIssue({ db, now }: Pick<Writing, 'db' | 'now'>, draft: Invoice) {
  const studio = theStudio(db)
  const client = findClient(db, draft.clientId)
  if (!client) throw new Error(`There is no client ${draft.clientId}.`)
  const issueDay = dayOf(now, studio.timeZone)
  const paymentDays = draft.kind === 'credit note' ? 0 : (client.paymentDays ?? studio.paymentDays)
  return {
    issueDay,
    dueDay: addDays(issueDay, paymentDays),
    seller: sellerOf(studio),
    buyer: buyerOf(client),
  }
}

/** The number, and the reference made from it that a payment is known by. */
function named(draft: Invoice, number: string) {
  return {
    number,
    paymentReference: draft.kind === 'credit note' ? null : creditorReference(number.replaceAll('-', '')),
  }
}

function seriesOf(draft: Invoice): 'credit note' | 'invoice' {
  return draft.kind === 'credit note' ? 'credit note' : 'invoice'
}

function yearOf(day: string): number {
  return Number(day.slice(0, 4))
}

function refusalOf(db: Db, draft: Invoice): Refusal | null {
  try {
    refuseUnready(db, draft)
    return null
  } catch (error) {
    if (error instanceof Refusal) return error
    throw error
  }
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
  if (draft.correctsId !== null) {
    refuseOverCredit(db, theInvoice(db, draft.correctsId), draft.totalMinor + draft.roundingMinor)
  }
  const client = findClient(db, draft.clientId)
  if (draft.kind !== 'credit note' && client) refuseMissingReferences(client, draft)
  if (draft.kind !== 'credit note') refuseUnnamed(db, draft)
  if (draft.kind === 'invoice') refuseStaleDeposits(db, draft)
}

/** A credit note is left alone: a mistake must be put right whatever is known today. */
function refuseUnnamed(db: Db, draft: Invoice): void {
  const studio = theStudio(db)
  const buyer = findClient(db, draft.clientId)
  if (!buyer) throw new Error(`There is no client ${draft.clientId}.`)
  refuseMissingParties({
    seller: sellerOf(studio),
    buyer,
    serviceDay: draft.serviceTo ?? draft.serviceFrom,
    taxed: taxesOf(db, draft.id).map(({ category, name }) => ({ category, isNamed: name !== '' })),
  })
}

/** A deposit credited, or deducted elsewhere, since the draft was made would be deducted wrongly. */
function refuseStaleDeposits(db: Db, draft: Invoice): void {
  const open = new Set(
    jobsOfInvoice(db, draft.id).flatMap((jobId) =>
      openDepositsOf(db, jobId).map(({ depositId }) => depositId),
    ),
  )
  const stale = depositsDeductedBy(db, draft.id).find(({ depositId }) => !open.has(depositId))
  if (stale) {
    throw new Refusal(
      'deposit-stale',
      `The deposit ${stale.number} was credited or deducted since this draft was made. Throw the draft away and make it again.`,
    )
  }
}
