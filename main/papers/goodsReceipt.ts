import { studioZone } from '../../db/calendar.ts'
import { findClient } from '../../db/clients.ts'
import type { Id } from '../../db/ids.ts'
import { jobById } from '../../db/jobs.ts'
import type { Db } from '../../db/open.ts'
import { sellerOf } from '../../db/parties.ts'
import { type Sample, samplesOfJob } from '../../db/samples.ts'
import { theStudio } from '../../db/studio.ts'
import { dayOf } from '../trade/calendar.ts'
import { clientFigures, type PaperFigures } from '../trade/paperFigures.ts'
import { nameWithVariant } from '../trade/productName.ts'
import { Refusal } from '../trade/refusal.ts'
import { paperTexts } from '../trade/texts/paperTexts.ts'
import type { ReceiptTexts } from '../trade/texts/shape.ts'
import { addressLines, senderOf } from './parties.ts'
import type { Block, Column, Sheet } from './sheet.ts'

type Held = Sample & { readonly state: 'in' | 'wrong' | 'broken' }

/**
 * What stands on a goods receipt: every product of a job that is in the studio, with when it came, its state, place,
 * what happens to it afterwards and its value where one is known; what is still expected; and lines to sign. Refuses a
 * job of which nothing is here.
 */
export function goodsReceiptSheet(db: Db, jobId: Id<'job'>, writtenAt: string): Sheet {
  const studio = theStudio(db)
  const job = jobById(db, jobId)
  const client = findClient(db, job.clientId)
  if (!client) throw new Error(`Job ${jobId} has no client.`)
  const samples = samplesOfJob(db, jobId)
  const held = samples.filter(isHeld)
  if (held.length === 0) {
    throw new Refusal(
      'nothing-here',
      'No product of this job is in the studio, so there is nothing to give a receipt for.',
    )
  }
  const words = paperTexts[client.language].receipt
  const figures = clientFigures(client)
  const dayOn = (at: string) => figures.day(dayOf(at, studioZone(db)))
  const facts: readonly (readonly [string, string | null])[] = [
    [words.day, dayOn(writtenAt)],
    [words.job, `${job.number}, ${job.title}`],
    [words.orderNumber, job.orderNumber],
  ]
  const missing = samples.filter(
    ({ state, isNeeded }) => isNeeded && (state === 'expected' || state === 'missing'),
  )
  return {
    paper: studio.paper,
    language: client.language,
    writtenAt,
    title: `${words.title} ${job.number}`,
    sender: senderOf(sellerOf(studio), figures.locale, client.language),
    recipient: [client.name, ...addressLines(client, studio.country, figures.locale)],
    facts: facts.flatMap(([label, value]) => (value === null ? [] : [[label, value] as const])),
    blocks: [
      ...heldBlocks(held, job.currency, words, figures, dayOn),
      ...(missing.length === 0
        ? []
        : [
            {
              kind: 'paragraph' as const,
              heading: words.notHere,
              text: missing.map(({ code }) => code).join(', '),
            },
          ]),
      { kind: 'signature', heading: words.sign, text: words.signText, boxes: [], lines: words.signLines },
    ],
  }
}

function isHeld(sample: Sample): sample is Held {
  return sample.state === 'in' || sample.state === 'wrong' || sample.state === 'broken'
}

function heldBlocks(
  held: readonly Held[],
  currency: string,
  words: ReceiptTexts,
  { money, quantity }: PaperFigures,
  dayOn: (at: string) => string,
): readonly Block[] {
  const isValued = held.some(({ valueMinor }) => valueMinor !== null)
  const widths = [34, 17, 22, 12, 15]
  const columns: readonly Column[] = [
    ...words.columns.map((label, index) => ({ label, width: widths[index] ?? 10, align: 'left' as const })),
    ...(isValued ? [{ label: words.value, width: 15, align: 'right' as const }] : []),
  ]
  const value = held.reduce((sum, { valueMinor }) => sum + (valueMinor ?? 0), 0)
  return [
    {
      kind: 'table',
      columns,
      rows: held.map((sample) => [
        `${sample.code}\n${nameWithVariant(sample.name, sample.variant)}`,
        sample.arrivedAt === null ? '' : dayOn(sample.arrivedAt),
        [words.states[sample.state], sample.condition].filter(Boolean).join(': '),
        sample.place ?? '',
        words.fates[sample.fate],
        ...(isValued ? [sample.valueMinor === null ? '' : money(sample.valueMinor, currency)] : []),
      ]),
    },
    {
      kind: 'totals',
      rows: [
        { label: words.allPieces, value: quantity(held.length * 1000), strong: true },
        ...(isValued ? [{ label: words.allValue, value: money(value, currency) }] : []),
      ],
    },
  ]
}
