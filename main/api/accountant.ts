import * as z from 'zod'
import { journalDocuments, journalPayments, journalSums } from '../../db/salesJournal.ts'
import { paymentsPart, salesJournalPart } from '../papers/salesJournalCsv.ts'
import { KeptPlans } from './keptPlans.ts'
import { call, day, router } from './kit.ts'
import { makePeriodZip, type PeriodZip, type PeriodZipFound, partSize } from './periodPapers.ts'

const days = z.object({ fromDay: day, toDay: day })
const isInOrder = ({ fromDay, toDay }: z.output<typeof days>) => toDay >= fromDay
const outOfOrder = {
  message: 'The last day is before the first. Enter that day or a later one.',
  path: ['toDay'],
}
const Period = days.refine(isInOrder, outOfOrder)

const OneZip = z.object({ zipId: z.int().positive() })

const zips = new KeptPlans<PeriodZip, PeriodZipFound>('This archive is gone. Make it again.')

/** What an accountant needs of a period: the sales journal, the payments, and all papers in one archive. */
export const accountantCalls = router({
  period: call.input(Period).query(({ ctx, input }) => journalSums(ctx.db, input)),

  /** The next part of the sales journal as CSV, and where the one after begins; null after the last. */
  journalPart: call
    .input(
      days
        .extend({ after: z.object({ issueDay: day, id: z.int() }).nullable().default(null) })
        .refine(isInOrder, outOfOrder),
    )
    .query(({ ctx, input }) => {
      const documents = journalDocuments(ctx.db, input, input.after, partSize)
      const last = documents.at(-1)
      return {
        csv: salesJournalPart(documents, input.after === null),
        next: last && documents.length === partSize ? { issueDay: last.issueDay, id: last.id } : null,
        fileName: `sales-journal-${input.fromDay}-to-${input.toDay}.csv`,
      }
    }),

  /** The next part of the payments of a period as CSV, as `journalPart`. */
  paymentsPart: call
    .input(
      days
        .extend({ after: z.object({ day, id: z.int() }).nullable().default(null) })
        .refine(isInOrder, outOfOrder),
    )
    .query(({ ctx, input }) => {
      const payments = journalPayments(ctx.db, input, input.after, partSize)
      const last = payments.at(-1)
      return {
        csv: paymentsPart(payments, input.after === null),
        next: last && payments.length === partSize ? { day: last.day, id: last.id } : null,
        fileName: `payments-${input.fromDay}-to-${input.toDay}.csv`,
      }
    }),

  /** Begins to make the archive of a period. */
  startZip: call.input(Period).mutation(({ ctx, input }) => {
    const zip = makePeriodZip(ctx, input)
    return { zipId: zips.keep(ctx.db, zip, zip) }
  }),

  /** How far it is, or the archive; null where it was stopped. */
  zipState: call.input(OneZip).query(({ ctx, input }) => {
    const { question, found } = zips.one(ctx.db, input.zipId)
    return found
      ? { state: 'done' as const, ...found }
      : { state: 'working' as const, ...question.progress() }
  }),

  stopZip: call.input(OneZip).mutation(({ ctx, input }) => zips.one(ctx.db, input.zipId).search.stop()),
})
