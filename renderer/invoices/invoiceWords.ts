import type { Answers } from '../../main/api/types.ts'
import { formatMilli } from '../../main/trade/money.ts'

export type InvoicePageData = Answers['invoices']['one']
export type Invoice = InvoicePageData['invoice']
export type InvoiceLine = InvoicePageData['lines'][number]
export type Unit = InvoiceLine['unit']

export const kindWords: Readonly<Record<Invoice['kind'], string>> = {
  invoice: 'Invoice',
  deposit: 'Deposit invoice',
  'credit note': 'Credit note',
}

export const standingWords: Readonly<Record<InvoicePageData['standing'], string>> = {
  draft: 'draft',
  issued: 'issued',
  paid: 'paid',
  due: 'open',
  overdue: 'overdue',
  overpaid: 'too much was paid',
}

/** Units by their code of UN/ECE Recommendation 20; LS is a lump sum. */
export const unitWords: Readonly<Record<Unit, string>> = {
  C62: 'pieces',
  HUR: 'hours',
  DAY: 'days',
  LS: 'lump sum',
}

const oneWords: Readonly<Record<Unit, string>> = { C62: 'piece', HUR: 'hour', DAY: 'day', LS: 'lump sum' }

/** A quantity in thousandths with its unit: `12 pieces`, `1 hour`, `lump sum`. */
export function quantityText(quantityMilli: number, unit: Unit): string {
  if (unit === 'LS' && quantityMilli === 1000) return unitWords.LS
  const word = Math.abs(quantityMilli) === 1000 ? oneWords[unit] : unitWords[unit]
  return `${formatMilli(quantityMilli)} ${word}`
}

export const wayWords = {
  transfer: 'Transfer',
  card: 'Card',
  cash: 'Cash',
  cheque: 'Cheque',
  other: 'Another way',
} as const

/** How a document is named on screen: by its number, or as a draft of its client. */
export function titleOf(data: Pick<InvoicePageData, 'invoice' | 'clientName'>): string {
  const { kind, number } = data.invoice
  return number === null
    ? `${kindWords[kind]}, a draft for ${data.clientName}`
    : `${kindWords[kind]} ${number}`
}
