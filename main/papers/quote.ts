import { deliverablesOf } from '../../db/briefs.ts'
import { studioZone } from '../../db/calendar.ts'
import { contactsOf, findClient } from '../../db/clients.ts'
import type { Id } from '../../db/ids.ts'
import { type Job, jobById } from '../../db/jobs.ts'
import type { Db } from '../../db/open.ts'
import { type Quote, quoteLinesOf, quoteName } from '../../db/quotes.ts'
import { prepared } from '../../db/statement.ts'
import { type Studio, theStudio } from '../../db/studio.ts'
import { listTaxRates } from '../../db/taxRates.ts'
import { dayOf } from '../trade/calendar.ts'
import { formatMilli, formatMoney, formatPercent, shareMinor } from '../trade/money.ts'
import { quoteTotals } from '../trade/quote.ts'
import { addressLines, senderOf } from './parties.ts'
import { type QuotePaperWords, quotePaperWords } from './quoteWords.ts'
import type { Block, Sheet } from './sheet.ts'

interface Writer {
  readonly words: QuotePaperWords
  readonly money: (minor: number) => string
  readonly day: (day: string) => string
}

/**
 * What stands on a quote's paper: what the client gets, lines, tax by rate, total, validity and terms. Nothing of
 * the studio's own figures: no frames × seconds, no hours, no cost.
 * @param writtenAt  the instant of sending, or of looking at a draft
 */
export function quoteSheet(db: Db, quote: Quote, writtenAt: string): Sheet {
  const studio = theStudio(db)
  const job = jobById(db, quote.jobId)
  const client = findClient(db, job.clientId)
  if (!client) throw new Error(`Job ${job.id} has no client.`)
  const words = quotePaperWords[client.language]
  const locale = client.language === 'de' ? 'de-DE' : studio.locale.startsWith('en') ? studio.locale : 'en-GB'
  const writer: Writer = {
    words,
    money: (minor) => formatMoney(minor, quote.currency, locale),
    day: (text) =>
      new Intl.DateTimeFormat(locale, { dateStyle: 'long', timeZone: 'UTC' }).format(
        new Date(`${text}T00:00:00Z`),
      ),
  }
  const contacts = contactsOf(db, job.clientId)
  const contact = contacts.find(({ id }) => id === job.contactId) ?? contacts.find(({ isMain }) => isMain)
  const name = quoteName(quote)
  return {
    paper: studio.paper,
    language: client.language,
    writtenAt,
    title: words.title(quote.state === 'draft' ? `${name} (${words.draft})` : name),
    sender: senderOf(studio, locale),
    recipient: [
      client.name,
      ...(contact ? [contact.name] : []),
      ...addressLines(client, studio.country, locale),
    ],
    facts: facts(quote, job, dayOf(writtenAt, studioZone(db)), writer),
    blocks: [
      whatTheyGet(db, quote, job, writer),
      lineTable(db, quote, writer),
      totals(db, quote, writer),
      ...closing(db, quote, job, studio, writer),
    ],
  }
}

function facts(quote: Quote, job: Job, today: string, { words, day }: Writer) {
  const all: readonly (readonly [string, string | null])[] = [
    [words.day, day(today)],
    [words.validUntil, quote.validUntil && day(quote.validUntil)],
    [words.dueDay, quote.dueDay && day(quote.dueDay)],
    [words.job, job.number],
    [words.order, job.orderNumber],
  ]
  return all.flatMap(([label, value]) => (value ? [[label, value] as const] : []))
}

function whatTheyGet(db: Db, quote: Quote, job: Job, { words }: Writer): Block {
  const spins = prepared<[number], { n: number }>(
    db,
    'SELECT count(*) AS n FROM shoot WHERE job_id = ? AND cancelled_at IS NULL',
  ).get(job.id)
  const wanted = deliverablesOf(db, job.briefId).map(
    (deliverable) => `– ${words.deliverable(deliverable, quote.framesPerTurn)}`,
  )
  const text = [job.title, ...(spins?.n ? [words.spins(spins.n)] : []), ...wanted].join('\n')
  return { kind: 'paragraph', heading: words.what, text }
}

function lineTable(db: Db, quote: Quote, { words, money }: Writer): Block {
  return {
    kind: 'table',
    columns: words.columns.map((label, index) => ({
      label,
      width: [58, 12, 16, 18][index] ?? 10,
      align: index === 0 ? 'left' : 'right',
    })),
    rows: quoteLinesOf(db, quote.id).map((line) => [
      line.text,
      formatMilli(line.quantityMilli),
      line.baseMilli === 1000
        ? money(line.priceMinor)
        : `${money(line.priceMinor)} / ${formatMilli(line.baseMilli)}`,
      money(line.netMinor),
    ]),
  }
}

function totals(db: Db, quote: Quote, { words, money }: Writer): Block {
  const { taxes } = quoteTotals(quoteLinesOf(db, quote.id), listTaxRates(db))
  const deposit =
    quote.depositPpm === 0
      ? []
      : [
          {
            label: words.deposit(formatPercent(quote.depositPpm)),
            value: money(shareMinor(quote.totalMinor, quote.depositPpm)),
          },
        ]
  return {
    kind: 'totals',
    rows: [
      { label: words.net, value: money(quote.netMinor) },
      ...taxes.map((tax) => ({
        label: words.tax(tax.name, money(tax.baseMinor)),
        value: money(tax.taxMinor),
      })),
      { label: words.total, value: money(quote.totalMinor), strong: true },
      ...deposit,
    ],
  }
}

function closing(db: Db, quote: Quote, job: Job, studio: Studio, { words, day }: Writer): readonly Block[] {
  const lines = quoteLinesOf(db, quote.id)
  const reasons = listTaxRates(db)
    .filter(({ id }) => lines.some(({ taxRateId }) => taxRateId === id))
    .flatMap(({ exemptionReason }) => (exemptionReason === null ? [] : [exemptionReason]))
  const validity = [
    ...(quote.validUntil === null ? [] : [words.validity(day(quote.validUntil))]),
    words.rounds(job.roundsIncluded),
    ...reasons,
  ]
  const rights = usageRights(db, job.id).map(({ media, territory, fromDay, toDay }) =>
    words.right(media, territory, fromDay && day(fromDay), toDay && day(toDay)),
  )
  return [
    { kind: 'paragraph', text: validity.join('\n') },
    ...(rights.length > 0
      ? [{ kind: 'paragraph' as const, heading: words.rights, text: rights.join('\n') }]
      : []),
    ...worded(words.assumptions, quote.assumptions),
    ...worded(words.terms, quote.terms ?? studio.terms),
  ]
}

function worded(heading: string, text: string | null): readonly Block[] {
  return text ? [{ kind: 'paragraph', heading, text }] : []
}

interface UsageRight {
  readonly media: string
  readonly territory: string
  readonly fromDay: string | null
  readonly toDay: string | null
}

function usageRights(db: Db, jobId: Id<'job'>): readonly UsageRight[] {
  return prepared<[number], UsageRight>(
    db,
    `SELECT media, territory, from_day AS fromDay, to_day AS toDay FROM usage_right WHERE job_id = ? ORDER BY id`,
  ).all(jobId)
}
