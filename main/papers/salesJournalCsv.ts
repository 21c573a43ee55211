import type { JournalDocument, JournalPayment, JournalTax } from '../../db/salesJournal.ts'
import { plainMoney, plainPercent } from '../trade/money.ts'
import { type CsvCell, csvHead, csvRows } from './csv.ts'

const journalHead = [
  'Number',
  'Kind',
  'Day',
  'Due',
  'Corrects or deducts',
  'Client',
  'Country',
  'Tax number',
  'Currency',
  'Tax category',
  'Rate (%)',
  'Name of the rate',
  'Taxable base',
  'Tax',
  'Net of the document',
  'Tax of the document',
  'Total of the document',
  'Deposits deducted',
  'Payable',
]

/**
 * A part of the sales journal as CSV: a row for each document and rate. What the whole document comes to stands in its
 * first row alone, so that every column can be added up; of several named rates each row has the base again. A deducted
 * deposit has rows of its own with its tax taken off, so that the tax of a period counts once.
 */
export function salesJournalPart(documents: readonly JournalDocument[], isFirst: boolean): string {
  return `${isFirst ? csvHead(journalHead) : ''}${csvRows(documents.flatMap(rowsOf))}`
}

function rowsOf(document: JournalDocument): readonly (readonly CsvCell[])[] {
  const { number, kind, issueDay, dueDay, buyer, currency, corrects } = document
  const money = (minor: number) => Number(plainMoney(minor, currency))
  const row = (what: string, refersTo: string | null, tax: JournalTax, whole: readonly CsvCell[]) => [
    number,
    what,
    issueDay,
    kind === 'credit note' ? null : dueDay,
    refersTo,
    buyer.name,
    buyer.country,
    buyer.taxNumber,
    currency,
    tax.category,
    Number(plainPercent(tax.ratePpm)),
    tax.name || null,
    money(tax.baseMinor),
    money(tax.taxMinor),
    ...whole,
  ]
  const { netMinor, taxMinor, totalMinor, prepaidMinor, payableMinor } = document
  const whole = [netMinor, taxMinor, totalMinor, prepaidMinor, payableMinor].map(money)
  const nothing = whole.map(() => null)
  return [
    ...document.taxes.map((tax, index) => row(kind, corrects, tax, index === 0 ? whole : nothing)),
    ...document.deducted.map((tax) => row('deposit deducted', tax.number, tax, nothing)),
  ]
}

const paymentHead = ['Day', 'Kind', 'Client', 'Amount', 'Currency', 'Way', 'Documents', 'Reference', 'Note']

/** A part of the payments of a period as CSV; what was paid back or taken back is less than 0. */
export function paymentsPart(payments: readonly JournalPayment[], isFirst: boolean): string {
  const rows = payments.map((payment) => [
    payment.day,
    payment.kind,
    payment.clientName,
    Number(plainMoney(payment.amountMinor, payment.currency)),
    payment.currency,
    payment.way,
    payment.numbers,
    payment.reference,
    payment.note,
  ])
  return `${isFirst ? csvHead(paymentHead) : ''}${csvRows(rows)}`
}
