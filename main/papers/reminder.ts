import { findClient } from '../../db/clients.ts'
import type { Id } from '../../db/ids.ts'
import type { Db } from '../../db/open.ts'
import { sellerOf } from '../../db/parties.ts'
import { theStudio } from '../../db/studio.ts'
import { daysBetween } from '../trade/calendar.ts'
import { clientFigures, type PaperFigures } from '../trade/paperFigures.ts'
import type { ReminderContent } from '../trade/reminder.ts'
import { paperTexts } from '../trade/texts/paperTexts.ts'
import type { ReminderTexts } from '../trade/texts/shape.ts'
import { addressLines, senderOf } from './parties.ts'
import { paymentBlock } from './paymentBlock.ts'
import type { Block, Sheet } from './sheet.ts'

/**
 * What stands on a reminder: the open invoices, what is asked for them besides, and how to pay. The words follow its
 * level, and a draft says that it is one. Whether interest and a lump sum may be asked differs by country; the studio's settings say whether they are.
 */
export function reminderSheet(db: Db, reminder: ReminderContent, isDraft: boolean): Sheet {
  const studio = theStudio(db)
  const client = findClient(db, reminder.clientId as Id<'client'>)
  if (!client) throw new Error(`There is no client ${reminder.clientId}.`)
  const seller = sellerOf(studio)
  const texts = paperTexts[client.language]
  const words = texts.reminder
  const figures = clientFigures(client)
  const said = words.levels[Math.min(reminder.level, words.levels.length) - 1]
  if (!said) throw new Error(`There is no reminder of level ${reminder.level}.`)
  const [only, another] = reminder.invoices
  const pay = {
    ...seller,
    currency: reminder.currency,
    amountMinor: reminder.totalMinor,
    // With a reference a bank's line is known by; over several invoices there is no one reference.
    reference: another === undefined ? (only?.paymentReference ?? null) : null,
  }
  return {
    paper: studio.paper,
    language: client.language,
    writtenAt: `${reminder.day}T00:00:00.000Z`,
    title: isDraft ? `${said.title} (${texts.invoice.draft})` : said.title,
    sender: senderOf(seller, figures.locale, client.language),
    recipient: [client.name, ...addressLines(client, studio.country, figures.locale)],
    facts: [[words.day, figures.day(reminder.day)]],
    blocks: [
      { kind: 'paragraph', text: said.text },
      ...owed(reminder, words, figures),
      ...(reminder.interestMinor + reminder.lumpSumMinor > 0
        ? [{ kind: 'paragraph' as const, text: words.lateNote }]
        : []),
      { kind: 'paragraph', text: words.crossed },
      paymentBlock(pay, words.pay, client.language, figures),
    ],
  }
}

function owed(
  { currency, day, ...reminder }: ReminderContent,
  words: ReminderTexts,
  figures: PaperFigures,
): readonly Block[] {
  const money = (minor: number) => figures.money(minor, currency)
  const widths = [22, 20, 20, 14, 18]
  return [
    {
      kind: 'table',
      columns: words.columns.map((label, index) => ({
        label,
        width: widths[index] ?? 10,
        align: index < 3 ? 'left' : 'right',
      })),
      rows: reminder.invoices.map((invoice) => [
        invoice.number,
        figures.day(invoice.issueDay),
        figures.day(invoice.dueDay),
        figures.number(Math.max(0, daysBetween(invoice.dueDay, day)), 0),
        money(invoice.openMinor),
      ]),
    },
    {
      kind: 'totals',
      rows: [
        { label: words.open, value: money(reminder.openMinor) },
        ...reminder.invoices.flatMap(({ number, interestMinor }) =>
          interestMinor === 0 ? [] : [{ label: words.interest(number), value: money(interestMinor) }],
        ),
        ...(reminder.lumpSumMinor === 0
          ? []
          : [{ label: words.lumpSum, value: money(reminder.lumpSumMinor) }]),
        { label: words.total, value: money(reminder.totalMinor), strong: true },
      ],
    },
  ]
}
