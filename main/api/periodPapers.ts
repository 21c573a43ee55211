import { randomUUID } from 'node:crypto'
import fs from 'node:fs'
import { setImmediate as nextTurn } from 'node:timers/promises'
import { attachmentPath, keepWrittenFile } from '../../db/attachments.ts'
import { writeEvent } from '../../db/events.ts'
import type { Id } from '../../db/ids.ts'
import { type JournalPeriod, journalDocuments, journalPayments, papersOf } from '../../db/salesJournal.ts'
import { inOneTransaction } from '../../db/statement.ts'
import { invoicePaperOf } from '../papers/invoice.ts'
import { paymentsPart, salesJournalPart } from '../papers/salesJournalCsv.ts'
import { Refusal } from '../trade/refusal.ts'
import { runZip } from '../work/zipRun.ts'
import type { ZipEntry } from '../work/zipWorker.ts'
import type { Search } from './keptPlans.ts'
import type { InStudio } from './kit.ts'

/** Rows of one part: few enough that the studio answers others within 50 ms. */
export const partSize = 500

/** The zip of a period as it is made: first the papers that are missing, then the archive. */
export interface PeriodZip {
  readonly progress: () => { readonly step: 'papers' | 'archive'; readonly done: number; readonly of: number }
}

/** What came of it: the kept archive, or nothing where a person stopped it. */
export interface PeriodZipFound {
  readonly attachmentId: Id<'attachment'> | null
  readonly documents: number
}

// What one archive can hold without the extensions of large ones, which not every program reads: 65,535 entries.
const mostDocuments = 30_000

/**
 * Begins to make one archive of all papers of a period, the electronic invoices that were made, both journals and a
 * manifest. Others are answered meanwhile. Refuses a period without documents and one of more than 30,000.
 */
export function makePeriodZip(ctx: InStudio, period: JournalPeriod): PeriodZip & Search<PeriodZipFound> {
  const documents = papersOf(ctx.db, period)
  if (documents.length === 0) {
    throw new Refusal('period-empty', 'Nothing was issued in this period. Choose other days.')
  }
  if (documents.length > mostDocuments) {
    throw new Refusal(
      'period-too-long',
      `${documents.length} documents are too many for one archive. Choose fewer days.`,
    )
  }
  let progress: ReturnType<PeriodZip['progress']> = { step: 'papers', done: 0, of: documents.length }
  let isStopped = false
  let stopZip = () => {}
  const make = async (): Promise<PeriodZipFound> => {
    const stopped = { attachmentId: null, documents: documents.length }
    for (const [done, { id, paperSha256 }] of documents.entries()) {
      if (isStopped) return stopped
      if (paperSha256 === null) {
        await invoicePaperOf(ctx, id)
        await nextTurn()
      }
      progress = { step: 'papers', done: done + 1, of: documents.length }
    }
    const entries = await entriesOf(ctx, period)
    const target = attachmentPath(ctx.folder, `${randomUUID()}.part`)
    try {
      const run = runZip(target, entries, `${period.toDay}T12:00:00`)
      stopZip = run.stop
      if (isStopped) run.stop()
      progress = { step: 'archive', done: 0, of: entries.length }
      const timer = setInterval(() => {
        progress = { step: 'archive', done: run.done(), of: entries.length }
      }, 100)
      const written = await run.written.finally(() => clearInterval(timer))
      if (written.state === 'stopped') return stopped
      if (written.state === 'spoilt') {
        throw new Refusal(
          'paper-spoilt',
          `The file of ${written.name} is gone from the studio’s folder, or is not what was kept. Take it from a backup.`,
        )
      }
      return { attachmentId: keep(ctx, period, target, written), documents: documents.length }
    } finally {
      fs.rmSync(target, { force: true })
    }
  }
  return {
    progress: () => progress,
    stop: () => {
      isStopped = true
      stopZip()
    },
    found: make(),
  }
}

function keep(
  ctx: InStudio,
  { fromDay, toDay }: JournalPeriod,
  target: string,
  written: { readonly sha256: string; readonly bytes: number },
): Id<'attachment'> {
  return inOneTransaction(ctx.db, () => {
    const name = `papers-${fromDay}-to-${toDay}.zip`
    const attachmentId = keepWrittenFile(ctx, ctx.folder, target, {
      ...written,
      name,
      mediaType: 'application/zip',
    })
    writeEvent(ctx, {
      subject: 'studio',
      subjectId: 1,
      what: 'papers of a period handed over',
      detail: { fromDay, toDay, sha256: written.sha256 },
    })
    return attachmentId
  })
}

async function entriesOf(ctx: InStudio, period: JournalPeriod): Promise<readonly ZipEntry[]> {
  const file = (name: string, number: string, sha256: string | null): ZipEntry[] =>
    sha256 === null ? [] : [{ name, number, from: { file: attachmentPath(ctx.folder, sha256), sha256 } }]
  const papers = papersOf(ctx.db, period).flatMap(({ number, paperSha256, ublSha256 }) => {
    const name = number.replace(/[^\w.-]/gu, '_')
    return [...file(`papers/${name}.pdf`, number, paperSha256), ...file(`ubl/${name}.xml`, number, ublSha256)]
  })
  return [
    ...papers,
    { name: 'sales-journal.csv', number: '', from: { text: await wholeJournal(ctx, period) } },
    { name: 'payments.csv', number: '', from: { text: await wholePayments(ctx, period) } },
  ]
}

async function wholeJournal({ db }: InStudio, period: JournalPeriod): Promise<string> {
  const parts: string[] = []
  let after: { issueDay: string; id: number } | null = null
  do {
    const documents = journalDocuments(db, period, after, partSize)
    parts.push(salesJournalPart(documents, after === null))
    after = documents.length === partSize ? (documents.at(-1) ?? null) : null
    await nextTurn()
  } while (after)
  return parts.join('')
}

async function wholePayments({ db }: InStudio, period: JournalPeriod): Promise<string> {
  const parts: string[] = []
  let after: { day: string; id: number } | null = null
  do {
    const payments = journalPayments(db, period, after, partSize)
    parts.push(paymentsPart(payments, after === null))
    after = payments.length === partSize ? (payments.at(-1) ?? null) : null
    await nextTurn()
  } while (after)
  return parts.join('')
}
