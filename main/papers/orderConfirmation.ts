import { studioZone } from '../../db/calendar.ts'
import { contactsOf, findClient } from '../../db/clients.ts'
import type { Id } from '../../db/ids.ts'
import { jobById } from '../../db/jobs.ts'
import type { Db } from '../../db/open.ts'
import { acceptedQuote, agreedExtras } from '../../db/orderPapers.ts'
import { sellerOf } from '../../db/parties.ts'
import { quoteLinesOf, quoteName } from '../../db/quotes.ts'
import { theStudio } from '../../db/studio.ts'
import { listTaxRates } from '../../db/taxRates.ts'
import { agreedRights } from '../../db/usageRights.ts'
import { dayOf } from '../trade/calendar.ts'
import { shareMinor } from '../trade/money.ts'
import { clientFigures } from '../trade/paperFigures.ts'
import { quoteTotals } from '../trade/quote.ts'
import { paperTexts } from '../trade/texts/paperTexts.ts'
import { addressLines, senderOf } from './parties.ts'
import { closing, lineTable, type QuoteWriter, spinCount, sumsOf } from './quoteParts.ts'
import type { Block, Sheet } from './sheet.ts'

/**
 * What stands on an order confirmation: the accepted quote and every extra agreed so far, what they come to together,
 * the day it is due, the rights agreed, assumptions and the quote's terms. Refuses a job without an accepted quote.
 */
export function orderConfirmationSheet(db: Db, jobId: Id<'job'>, writtenAt: string): Sheet {
  const studio = theStudio(db)
  const job = jobById(db, jobId)
  const client = findClient(db, job.clientId)
  if (!client) throw new Error(`Job ${jobId} has no client.`)
  const quote = acceptedQuote(db, jobId)
  const extras = agreedExtras(db, jobId)
  const texts = paperTexts[client.language]
  const figures = clientFigures(client)
  const writer: QuoteWriter = {
    ...figures,
    words: texts.quote,
    rights: texts.rights,
    money: (minor) => figures.money(minor, quote.currency),
  }
  const dayOn = (at: string | null) => figures.day(dayOf(at ?? writtenAt, studioZone(db)))
  const lines = [...quoteLinesOf(db, quote.id), ...extras.flatMap((extra) => extra.lines)]
  const sums = quoteTotals(lines, listTaxRates(db))
  const dueDay =
    extras.findLast(({ newDueDay }) => newDueDay !== null)?.newDueDay ?? job.dueDay ?? quote.dueDay
  const contact = contactsOf(db, client.id).find(({ id }) => id === job.contactId)
  const facts: readonly (readonly [string, string | null])[] = [
    [texts.quote.day, dayOn(writtenAt)],
    [texts.quote.job, job.number],
    [texts.quote.order, job.orderNumber],
    [texts.invoice.reference, job.buyerReference],
  ]
  return {
    paper: studio.paper,
    language: client.language,
    writtenAt,
    title: `${texts.order.title} ${job.number}`,
    sender: senderOf(sellerOf(studio), figures.locale, client.language),
    recipient: [
      client.name,
      ...(contact ? [contact.name] : []),
      ...addressLines(client, studio.country, figures.locale),
    ],
    facts: facts.flatMap(([label, value]) => (value ? [[label, value] as const] : [])),
    blocks: [
      {
        kind: 'glance',
        figures: [
          { label: job.title, value: texts.quote.spinCount(spinCount(db, jobId)) },
          { label: texts.quote.totalWithTax, value: writer.money(sums.totalMinor) },
          ...(dueDay === null ? [] : [{ label: texts.quote.dueDay, value: figures.day(dueDay) }]),
        ],
      },
      { kind: 'paragraph', text: texts.order.accepted(quoteName(quote), dayOn(quote.decidedAt)) },
      { kind: 'heading', text: texts.order.agreed, keepWith: 60 },
      lineTable(quoteLinesOf(db, quote.id), writer),
      ...extras.flatMap((extra): readonly Block[] => [
        {
          kind: 'heading',
          text: texts.order.extra(extra.number, extra.title),
          aside: texts.order.extraAgreed(figures.day(extra.decidedDay)),
          keepWith: 60,
        },
        lineTable(extra.lines, writer),
      ]),
      { kind: 'totals', rows: [...sumsOf(sums, writer).rows, ...depositRow(quote, writer)] },
      ...closing(db, quote, agreedRights(db, jobId), job, studio, writer),
      { kind: 'paragraph', text: texts.order.check },
    ],
  }
}

/** The deposit is of what was quoted; extras do not raise it. */
function depositRow(
  quote: { readonly depositPpm: number; readonly totalMinor: number },
  { words, money, percent }: QuoteWriter,
) {
  if (quote.depositPpm === 0) return []
  const label = words.deposit(percent(quote.depositPpm))
  return [{ label, value: money(shareMinor(quote.totalMinor, quote.depositPpm)) }]
}
