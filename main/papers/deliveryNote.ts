import { studioZone } from '../../db/calendar.ts'
import { type Delivery, type DeliveryItem, deliveryItems, deliveryParties } from '../../db/deliveryList.ts'
import type { Id } from '../../db/ids.ts'
import type { Db } from '../../db/open.ts'
import { sellerOf } from '../../db/parties.ts'
import { theStudio } from '../../db/studio.ts'
import { agreedRights } from '../../db/usageRights.ts'
import { dayOf } from '../trade/calendar.ts'
import { clientFigures, type PaperFigures } from '../trade/paperFigures.ts'
import { type PaperLanguage, paperTexts } from '../trade/texts/paperTexts.ts'
import type { DeliveryTexts } from '../trade/texts/shape.ts'
import { rightLines } from '../trade/usageRights.ts'
import { type PaperPlace, printOnLetterhead } from './letterhead.ts'
import { addressLines, senderOf } from './parties.ts'
import type { Block, Sheet } from './sheet.ts'

/** The delivery note of a delivery that was sent, as a PDF: what went, how, and what to check it against. */
export function deliveryNote(place: PaperPlace, delivery: Delivery): Buffer {
  return printOnLetterhead(place, deliveryNoteSheet(place.db, delivery))
}

/** What stands on the note. */
export function deliveryNoteSheet(db: Db, delivery: Delivery): Sheet {
  if (delivery.number === null || delivery.sentAt === null) {
    throw new Error(`Delivery ${delivery.id} was not sent, so it has no note.`)
  }
  const studio = theStudio(db)
  const { client, job } = deliveryParties(db, delivery.jobId)
  const words = paperTexts[client.language].delivery
  const figures = clientFigures(client)
  const { locale } = figures
  const sentDay = figures.day(dayOf(delivery.sentAt, studioZone(db)))
  const facts: readonly (readonly [string, string | null])[] = [
    [words.day, sentDay],
    [words.job, `${job.number}, ${job.title}`],
    [words.orderNumber, job.orderNumber],
    [words.way, delivery.way],
  ]
  return {
    paper: studio.paper,
    language: client.language,
    writtenAt: delivery.sentAt,
    title: `${words.title} ${delivery.number}`,
    sender: senderOf(sellerOf(studio), locale, client.language),
    recipient: [
      client.name,
      ...(delivery.contactName === null ? [] : [delivery.contactName]),
      ...addressLines(client, studio.country, locale),
    ],
    facts: facts.flatMap(([label, value]) => (value === null ? [] : [[label, value] as const])),
    blocks: [
      ...blocks(delivery, deliveryItems(db, delivery.id), words, figures),
      ...rights(db, delivery, client.language, figures),
    ],
  }
}

/** The rights of use that go with the files. */
function rights(
  db: Db,
  delivery: Delivery,
  language: PaperLanguage,
  { day }: PaperFigures,
): readonly Block[] {
  const lines = deliveredRights(db, delivery.jobId, language, day)
  if (lines.length === 0) return []
  return [{ kind: 'paragraph', heading: paperTexts[language].rights.heading, text: lines.join('\n') }]
}

/** What the client may do with the files of a job, line by line: the rights that are agreed now. */
export function deliveredRights(
  db: Db,
  jobId: Id<'job'>,
  language: PaperLanguage,
  day: (day: string) => string = (text) => text,
): readonly string[] {
  return rightLines(agreedRights(db, jobId), paperTexts[language].rights, day)
}

function blocks(
  delivery: Delivery,
  items: readonly DeliveryItem[],
  words: DeliveryTexts,
  { number }: PaperFigures,
): readonly Block[] {
  const count = (files: number) => number(files, 0)
  const size = (bytes: number | null) => (bytes === null ? '' : `${number(bytes / 1e6, 1)}\u00a0MB`)
  const files = items.reduce((sum, item) => sum + item.files, 0)
  const isRead = delivery.filesRead > 0
  return [
    {
      kind: 'table',
      columns: [
        { label: words.spin, width: 46, align: 'left' },
        { label: words.deliverable, width: 24, align: 'left' },
        { label: words.pixels, width: 18, align: 'right' },
        { label: words.files, width: 10, align: 'right' },
        { label: words.size, width: 14, align: 'right' },
      ],
      rows: items.map((item) => [
        `${item.spin} (${item.codes})`,
        item.deliverable,
        `${item.widthPx} × ${item.heightPx}`,
        count(item.files),
        size(item.bytes),
      ]),
    },
    {
      kind: 'totals',
      rows: [
        { label: words.allFiles, value: count(files), strong: true },
        ...(isRead ? [{ label: words.allSize, value: size(delivery.bytes) }] : []),
      ],
    },
    { kind: 'paragraph', text: isRead ? words.checkSums : words.checkNames },
    ...(delivery.note === null ? [] : [{ kind: 'paragraph' as const, text: delivery.note }]),
  ]
}
