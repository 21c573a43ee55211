import { keepFile } from '../../db/attachments.ts'
import { theInvoice } from '../../db/billing.ts'
import { findClient } from '../../db/clients.ts'
import type { Writing } from '../../db/events.ts'
import type { Id } from '../../db/ids.ts'
import { deliveriesOf } from '../../db/invoiceDeliveries.ts'
import {
  adjustmentsOf,
  depositsDeductedBy,
  depositTaxesOf,
  findInvoice,
  type Invoice,
  type InvoiceLine,
  type InvoiceTax,
  invoicePaper,
  keepInvoicePaper,
  linesOf,
  type Party,
  taxesOf,
} from '../../db/invoices.ts'
import type { Db } from '../../db/open.ts'
import { buyerOf, sellerOf } from '../../db/parties.ts'
import { rightsOfInvoice } from '../../db/rightsOnPapers.ts'
import { theStudio } from '../../db/studio.ts'
import { clientFigures, type PaperFigures } from '../trade/paperFigures.ts'
import { paperTexts } from '../trade/texts/paperTexts.ts'
import type { InvoiceTexts } from '../trade/texts/shape.ts'
import { rightLines } from '../trade/usageRights.ts'
import { printOnLetterhead } from './letterhead.ts'
import { addressLines, senderOf } from './parties.ts'
import { paymentBlock } from './paymentBlock.ts'
import type { Block, Sheet } from './sheet.ts'

/**
 * The attachment that holds an invoice's paper. An issued invoice's is written once and kept; from the same
 * frozen rows it is always the same. A draft's shows the paper as it would be.
 */
export async function invoicePaperOf(
  writing: Pick<Writing, 'db' | 'now'> & { readonly folder: string },
  invoiceId: Id<'invoice'>,
): Promise<Id<'attachment'>> {
  const { db, folder } = writing
  const kept = invoicePaper(db, invoiceId)
  if (kept !== undefined) return kept
  const invoice = theInvoice(db, invoiceId)
  const bytes = printOnLetterhead({ db, folder }, invoiceSheet(db, invoice, writing.now))
  const name = `${invoice.number ?? `draft ${invoice.id}`}.pdf`
  const attachmentId = keepFile(writing, folder, bytes, name, 'application/pdf')
  if (invoice.state === 'issued') keepInvoicePaper(db, invoiceId, attachmentId)
  return attachmentId
}

/** What stands on the paper; every figure is read from the store, none is worked out again. */
export function invoiceSheet(db: Db, invoice: Invoice, now: string): Sheet {
  const studio = theStudio(db)
  const words = paperTexts[invoice.language].invoice
  const seller = invoice.seller ?? sellerOf(studio)
  const buyer = invoice.buyer ?? buyerNow(db, invoice)
  const figures = clientFigures({ language: invoice.language, country: buyer.country })
  const { locale } = figures
  return {
    paper: studio.paper,
    language: invoice.language,
    writtenAt: invoice.issueDay === null ? now : `${invoice.issueDay}T00:00:00.000Z`,
    title: `${words.title[invoice.kind]} ${invoice.number ?? `(${words.draft})`}`,
    sender: senderOf(seller, locale, invoice.language),
    recipient: [buyer.name, ...addressLines(buyer, seller.country, locale)],
    facts: facts(db, invoice, buyer, words, figures),
    blocks: blocks(db, invoice, seller, words, figures),
  }
}

function buyerNow(db: Db, invoice: Invoice): Party {
  const client = findClient(db, invoice.clientId)
  if (!client) throw new Error(`There is no client ${invoice.clientId}.`)
  return buyerOf(client)
}

function facts(
  db: Db,
  invoice: Invoice,
  buyer: Party,
  words: InvoiceTexts,
  figures: PaperFigures,
): readonly (readonly [string, string])[] {
  const day = (text: string | null) => (text === null ? null : figures.day(text))
  const corrected = invoice.correctsId === null ? null : findInvoice(db, invoice.correctsId)
  const { serviceFrom, serviceTo } = invoice
  const service =
    serviceFrom !== null && serviceTo !== null && serviceFrom !== serviceTo
      ? figures.days(serviceFrom, serviceTo)
      : day(serviceFrom ?? serviceTo)
  const all: readonly (readonly [string, string | null | undefined])[] = [
    [words.day, day(invoice.issueDay)],
    [words.dueDay, invoice.kind === 'credit note' ? null : day(invoice.dueDay)],
    [words.corrects, corrected?.number],
    [words.service, service],
    [words.orderNumber, invoice.orderNumber],
    [words.reference, invoice.buyerReference],
    [words.costCentre, invoice.costCentre],
    [words.yourTaxNumber, buyer.taxNumber],
  ]
  return all.flatMap(([label, value]) => (value ? [[label, value] as const] : []))
}

function blocks(
  db: Db,
  invoice: Invoice,
  seller: Party,
  words: InvoiceTexts,
  figures: PaperFigures,
): readonly Block[] {
  const taxes = taxesOf(db, invoice.id)
  const reasons = taxes.flatMap((tax) => (tax.exemptionReason ? [tax.exemptionReason] : []))
  const deliveries = deliveriesOf(db, invoice.id)
  const paragraphs = [deliveries.length === 0 ? null : words.deliveries(deliveries), invoice.note, ...reasons]
  return [
    {
      kind: 'table',
      columns: words.columns.map((label, index) => ({
        label,
        width: [52, 13, 17, 12, 18][index] ?? 10,
        align: index === 0 ? 'left' : 'right',
      })),
      rows: linesOf(db, invoice.id).map((line) => lineRow(line, invoice.currency, words, figures)),
    },
    { kind: 'totals', rows: totals(db, invoice, taxes, words, figures) },
    ...paragraphs.flatMap((text): Block[] => (text ? [{ kind: 'paragraph', text }] : [])),
    ...rights(db, invoice, figures),
    ...payment(invoice, seller, figures),
  ]
}

/** How to pay what is payable; a credit note and an invoice that deposits have paid ask for nothing. */
function payment(invoice: Invoice, seller: Party, figures: PaperFigures): readonly Block[] {
  const { dueDay, paymentReference, payableMinor, currency, language } = invoice
  if (invoice.kind === 'credit note' || dueDay === null || payableMinor <= 0) return []
  return [
    paymentBlock(
      { ...seller, currency, amountMinor: payableMinor, reference: paymentReference },
      paperTexts[language].invoice.pay(figures.day(dueDay)),
      language,
      figures,
    ),
  ]
}

/** The rights of use that the client has agreed to, as they were on the day of issue. */
function rights(db: Db, invoice: Invoice, { day }: PaperFigures): readonly Block[] {
  const words = paperTexts[invoice.language].rights
  const lines = rightLines(rightsOfInvoice(db, invoice), words, day)
  return lines.length === 0 ? [] : [{ kind: 'paragraph', heading: words.heading, text: lines.join('\n') }]
}

function lineRow(
  line: InvoiceLine,
  currency: string,
  words: InvoiceTexts,
  { money, quantity, percent }: PaperFigures,
): readonly string[] {
  const amount = (minor: number) => money(minor, currency)
  const per = line.baseMilli === 1000 ? '' : ` ${words.perBase(quantity(line.baseMilli))}`
  return [
    [line.text, ...favours(line, amount)].join('\n'),
    quantity(line.quantityMilli),
    `${amount(line.priceMinor)}${per}`,
    line.category === 'S' ? percent(line.ratePpm) : line.category,
    amount(line.netMinor),
  ]
}

/** What was taken off or put on the line alone, each with its reason. */
function favours(line: InvoiceLine, money: (minor: number) => string): readonly string[] {
  return [
    ...(line.allowanceMinor === 0 ? [] : [`${line.allowanceReason}: ${money(-line.allowanceMinor)}`]),
    ...(line.chargeMinor === 0 ? [] : [`${line.chargeReason}: ${money(line.chargeMinor)}`]),
  ]
}

function totals(
  db: Db,
  invoice: Invoice,
  taxes: readonly InvoiceTax[],
  words: InvoiceTexts,
  figures: PaperFigures,
): readonly { readonly label: string; readonly value: string; readonly strong?: boolean }[] {
  const money = (minor: number) => figures.money(minor, invoice.currency)
  const adjustments = adjustmentsOf(db, invoice.id)
  const deposits = depositsDeductedBy(db, invoice.id)
  const isCredit = invoice.kind === 'credit note'
  return [
    ...adjustments.map(({ kind, reason, amountMinor }) => ({
      label: reason,
      value: money(kind === 'allowance' ? -amountMinor : amountMinor),
    })),
    { label: words.net, value: money(invoice.netMinor) },
    ...taxes.map((tax) => ({
      label: words.tax(taxName(tax, words, figures), money(tax.baseMinor)),
      value: money(tax.taxMinor),
    })),
    { label: words.total, value: money(invoice.totalMinor) },
    ...deposits.flatMap(({ depositId, number, issueDay, amountMinor }) => [
      { label: words.deposit(number, figures.day(issueDay)), value: money(-amountMinor) },
      ...depositTaxesOf(db, depositId).map((tax) => ({
        label: words.depositTax(taxName(tax, words, figures), money(tax.taxMinor), money(tax.baseMinor)),
        value: '',
      })),
    ]),
    ...(invoice.roundingMinor === 0 ? [] : [{ label: words.rounding, value: money(invoice.roundingMinor) }]),
    { label: isCredit ? words.credited : words.due, value: money(invoice.payableMinor), strong: true },
  ]
}

function taxName(
  tax: Pick<InvoiceTax, 'category' | 'name' | 'ratePpm'>,
  words: InvoiceTexts,
  { percent }: PaperFigures,
): string {
  if (tax.category !== 'S') return words.categories[tax.category]
  return tax.name === '' ? percent(tax.ratePpm) : `${tax.name}, ${percent(tax.ratePpm)}`
}
