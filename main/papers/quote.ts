import { studioZone } from '../../db/calendar.ts'
import { contactsOf, findClient } from '../../db/clients.ts'
import { type Job, jobById } from '../../db/jobs.ts'
import type { Db } from '../../db/open.ts'
import { type Quote, quoteName } from '../../db/quotes.ts'
import { rightsOfQuote } from '../../db/rightsOnPapers.ts'
import { theStudio } from '../../db/studio.ts'
import { dayOf } from '../trade/calendar.ts'
import { clientFigures } from '../trade/paperFigures.ts'
import { paperTexts } from '../trade/texts/paperTexts.ts'
import { addressLines, senderOf } from './parties.ts'
import { choices, closing, glance, pricesOf, type QuoteWriter, signature, whatTheyGet } from './quoteParts.ts'
import type { Sheet } from './sheet.ts'

/**
 * What stands on a quote's paper: what the client gets, the choices where there are several ways, lines, tax by
 * rate and total of each, validity, rights, assumptions, terms, and a place to accept. Nothing of the studio's own
 * figures: no frames × seconds, no hours, no cost.
 * @param ways       all ways of one version, the one as asked first
 * @param writtenAt  the instant of sending, or of looking at a draft
 */
export function quoteSheet(db: Db, ways: readonly Quote[], writtenAt: string): Sheet {
  const [quote] = ways
  if (!quote) throw new Error('A quote has at least one way.')
  const studio = theStudio(db)
  const job = jobById(db, quote.jobId)
  const client = findClient(db, job.clientId)
  if (!client) throw new Error(`Job ${job.id} has no client.`)
  const { quote: words, rights } = paperTexts[client.language]
  const figures = clientFigures(client)
  const { locale } = figures
  const writer: QuoteWriter = {
    ...figures,
    words,
    rights,
    money: (minor) => figures.money(minor, quote.currency),
  }
  const contacts = contactsOf(db, job.clientId)
  const contact = contacts.find(({ id }) => id === job.contactId) ?? contacts.find(({ isMain }) => isMain)
  const name = quoteName(quote)
  return {
    paper: studio.paper,
    language: client.language,
    writtenAt,
    title: words.title(quote.state === 'draft' ? `${name} (${words.draft})` : name),
    sender: senderOf(studio, locale, client.language),
    recipient: [
      client.name,
      ...(contact ? [contact.name] : []),
      ...addressLines(client, studio.country, locale),
    ],
    facts: facts(quote, job, dayOf(writtenAt, studioZone(db)), writer),
    blocks: [
      glance(db, ways, job, writer),
      ...whatTheyGet(db, ways, job, writer),
      ...choices(db, ways, job, writer),
      ...ways.flatMap((way) => pricesOf(db, way, ways.length > 1, writer)),
      ...closing(db, quote, rightsOfQuote(db, quote), job, studio, writer),
      signature(ways, studio, writer),
    ],
  }
}

function facts(quote: Quote, job: Job, today: string, { words, day }: QuoteWriter) {
  const all: readonly (readonly [string, string | null])[] = [
    [words.day, day(today)],
    [words.validUntil, quote.validUntil && day(quote.validUntil)],
    [words.job, job.number],
    [words.order, job.orderNumber],
  ]
  return all.flatMap(([label, value]) => (value ? [[label, value] as const] : []))
}
