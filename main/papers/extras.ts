import { studioZone } from '../../db/calendar.ts'
import { contactsOf, findClient } from '../../db/clients.ts'
import { type Extra, extraLines, extrasOf, extraTotals } from '../../db/extras.ts'
import type { Id } from '../../db/ids.ts'
import { type Job, jobById } from '../../db/jobs.ts'
import type { Db } from '../../db/open.ts'
import { sellerOf } from '../../db/parties.ts'
import { theStudio } from '../../db/studio.ts'
import { taxRateById } from '../../db/taxRates.ts'
import { dayOf } from '../trade/calendar.ts'
import { extraName } from '../trade/extras.ts'
import { clientFigures, type PaperFigures } from '../trade/paperFigures.ts'
import { paperTexts } from '../trade/texts/paperTexts.ts'
import type { ExtraTexts } from '../trade/texts/shape.ts'
import { addressLines, senderOf } from './parties.ts'
import type { Block, Sheet } from './sheet.ts'

/**
 * The page of a job's extras for its client: each with its lines, sums, new day and answer, and a place to agree to
 * those that are proposed.
 */
export function extrasSheet(db: Db, jobId: Id<'job'>, writtenAt: string): Sheet {
  const studio = theStudio(db)
  const job = jobById(db, jobId)
  const client = findClient(db, job.clientId)
  if (!client) throw new Error(`Job ${jobId} has no client.`)
  const words = paperTexts[client.language].extras
  const figures = clientFigures(client)
  const contacts = contactsOf(db, job.clientId)
  const contact = contacts.find(({ id }) => id === job.contactId) ?? contacts.find(({ isMain }) => isMain)
  const extras = extrasOf(db, jobId)
  const facts: readonly (readonly [string, string | null])[] = [
    [words.day, figures.day(dayOf(writtenAt, studioZone(db)))],
    [words.job, job.number],
    [words.orderNumber, job.orderNumber],
  ]
  return {
    paper: studio.paper,
    language: client.language,
    writtenAt,
    title: words.title,
    sender: senderOf(sellerOf(studio), figures.locale, client.language),
    recipient: [
      client.name,
      ...(contact ? [contact.name] : []),
      ...addressLines(client, studio.country, figures.locale),
    ],
    facts: facts.flatMap(([label, value]) => (value === null ? [] : [[label, value] as const])),
    blocks: [
      ...(extras.length === 0 ? [{ kind: 'paragraph' as const, text: words.none }] : []),
      ...extras.flatMap((extra) => blocksOf(db, extra, job, words, figures)),
      ...signing(db, extras, job, words, figures),
    ],
  }
}

function blocksOf(
  db: Db,
  extra: Extra,
  job: Job,
  words: ExtraTexts,
  figures: PaperFigures,
): readonly Block[] {
  const { day } = figures
  const said =
    extra.decidedDay === null || extra.decidedHow === null
      ? []
      : [words.decided(day(extra.decidedDay), extra.contactName, extra.decidedHow)]
  const sentences = [
    ...(extra.why === null ? [] : [extra.why]),
    ...(extra.newDueDay === null ? [] : [words.newDueDay(day(extra.newDueDay))]),
    ...said,
  ]
  return [
    {
      kind: 'heading',
      text: `${extraName(job.number, extra.number)} ${extra.title}`,
      aside: words.states[extra.state],
      keepWith: 40,
    },
    ...(sentences.length === 0 ? [] : [{ kind: 'paragraph' as const, text: sentences.join('\n') }]),
    ...pricesOf(db, extra, job.currency, words, figures),
  ]
}

function pricesOf(
  db: Db,
  extra: Extra,
  currency: string,
  words: ExtraTexts,
  { money, quantity, percent }: PaperFigures,
): readonly Block[] {
  const lines = extraLines(db, extra.id)
  if (lines.length === 0) return []
  const amount = (minor: number) => money(minor, currency)
  const totals = extraTotals(db, lines)
  const taxOf = (of: { readonly category: string; readonly ratePpm: number }) =>
    of.category === 'S' ? percent(of.ratePpm) : of.category
  return [
    {
      kind: 'table',
      columns: words.columns.map((label, index) => ({
        label,
        width: [52, 13, 17, 12, 18][index] ?? 10,
        align: index === 0 ? 'left' : 'right',
      })),
      rows: lines.map((line) => [
        line.text,
        quantity(line.quantityMilli),
        `${amount(line.priceMinor)}${line.baseMilli === 1000 ? '' : ` / ${quantity(line.baseMilli)}`}`,
        taxOf(taxRateById(db, line.taxRateId)),
        amount(line.netMinor),
      ]),
    },
    {
      kind: 'totals',
      rows: [
        { label: words.net, value: amount(totals.netMinor) },
        ...totals.taxes.map((tax) => ({
          label: words.tax([tax.name, taxOf(tax)].filter(Boolean).join(' '), amount(tax.baseMinor)),
          value: amount(tax.taxMinor),
        })),
        { label: words.total, value: amount(totals.taxInclusiveMinor), strong: true },
      ],
    },
  ]
}

function signing(
  db: Db,
  extras: readonly Extra[],
  job: Job,
  words: ExtraTexts,
  { money }: PaperFigures,
): readonly Block[] {
  const open = extras.filter(({ state }) => state === 'proposed')
  if (open.length === 0) return []
  return [
    {
      kind: 'signature',
      heading: words.accept,
      text: words.howToAccept,
      boxes: open.map((extra) => {
        const total = extraTotals(db, extraLines(db, extra.id)).taxInclusiveMinor
        return `${extraName(job.number, extra.number)}: ${money(total, job.currency)}`
      }),
      lines: words.signLines,
    },
  ]
}
