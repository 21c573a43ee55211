import * as z from 'zod'
import { keepFile } from '../../db/attachments.ts'
import { contactsOf } from '../../db/clients.ts'
import {
  chargeableFacts,
  letChargeGo,
  proposeCharge,
  proposeReshoot,
  usualTaxRate,
} from '../../db/extraProposals.ts'
import {
  changeExtra,
  decideExtra,
  discardExtra,
  extraLines,
  extrasOf,
  extraTotals,
  hasOrder,
  proposeExtra,
} from '../../db/extras.ts'
import { jobById } from '../../db/jobs.ts'
import { letReshootGo, reshootsOf, unpaidReshoots } from '../../db/reshootBilling.ts'
import { listTerms } from '../../db/terms.ts'
import { extrasSheet } from '../papers/extras.ts'
import { printOnLetterhead } from '../papers/letterhead.ts'
import { extraName } from '../trade/extras.ts'
import { reshootStanding, reshootWhy } from '../trade/reshootBilling.ts'
import { termKinds } from '../trade/terms.ts'
import { call, day, idOf, maybeText, router, text } from './kit.ts'
import { pricedLine } from './pricedLine.ts'

const jobId = idOf('job')
const extraId = idOf('extra')
const reshootId = idOf('reshoot')

const DraftInput = z.object({
  title: text('What the extra is called', 200),
  why: maybeText(1000),
  newDueDay: day.nullable(),
  lines: z.array(z.object(pricedLine)).max(200),
})

const FactInput = z.object({
  jobId,
  kind: z.enum(termKinds),
  bookingId: idOf('booking'),
  at: z.iso.datetime(),
})

/** Agreed changes to a job's order: extras, reshoots that are billed, and what the terms charge. */
export const extraCalls = router({
  /** The page of a job's extras. */
  ofJob: call.input(z.object({ jobId })).query(({ ctx, input }) => {
    const job = jobById(ctx.db, input.jobId)
    return {
      currency: job.currency,
      contactId: job.contactId,
      contacts: contactsOf(ctx.db, job.clientId),
      hasOrder: hasOrder(ctx.db, job.id),
      taxRateId: usualTaxRate(ctx.db, job.id),
      extras: extrasOf(ctx.db, job.id).map((extra) => {
        const lines = extraLines(ctx.db, extra.id)
        const { netMinor, taxInclusiveMinor } = extraTotals(ctx.db, lines)
        return { ...extra, name: extraName(job.number, extra.number), lines, netMinor, taxInclusiveMinor }
      }),
      reshoots: reshootsOf(ctx.db, job.id).map((reshoot) => ({
        ...reshoot,
        standing: reshootStanding(reshoot),
        why: reshootWhy(reshoot),
      })),
      hasTerms: listTerms(ctx.db).length > 0,
      charges: chargeableFacts(ctx.db, job.id, ctx.now),
    }
  }),

  propose: call
    .input(z.object({ jobId, extra: DraftInput }))
    .mutation(({ ctx, input }) => ({ extraId: proposeExtra(ctx, input.jobId, input.extra) })),

  change: call.input(z.object({ extraId, extra: DraftInput })).mutation(({ ctx, input }) => {
    changeExtra(ctx, input.extraId, input.extra)
  }),

  discard: call.input(z.object({ extraId })).mutation(({ ctx, input }) => {
    discardExtra(ctx, input.extraId)
  }),

  /** The client's yes or no. */
  decide: call
    .input(
      z.object({
        extraId,
        state: z.enum(['agreed', 'declined']),
        day,
        contactId: idOf('contact').nullable(),
        how: text('How the client answered', 200),
      }),
    )
    .mutation(({ ctx, input: { extraId: id, ...answer } }) => {
      decideExtra(ctx, id, answer)
    }),

  /** The page as it stands now, to be sent to the client. */
  paper: call.input(z.object({ jobId })).mutation(({ ctx, input }) => {
    const { number } = jobById(ctx.db, input.jobId)
    const bytes = printOnLetterhead(ctx, extrasSheet(ctx.db, input.jobId, ctx.now))
    return { paperId: keepFile(ctx, ctx.folder, bytes, `extras ${number}.pdf`, 'application/pdf') }
  }),

  proposeReshoot: call
    .input(z.object({ reshootId, price: z.enum(['own', 'following']) }))
    .mutation(({ ctx, input }) => ({ extraId: proposeReshoot(ctx, input.reshootId, input.price) })),

  letReshootGo: call
    .input(z.object({ reshootId, reason: text('The reason', 400) }))
    .mutation(({ ctx, input }) => {
      letReshootGo(ctx, input.reshootId, input.reason)
    }),

  proposeCharge: call.input(FactInput).mutation(({ ctx, input }) => ({ extraId: proposeCharge(ctx, input) })),

  letChargeGo: call
    .input(FactInput.extend({ reason: text('The reason', 400) }))
    .mutation(({ ctx, input: { reason, ...key } }) => {
      letChargeGo(ctx, key, reason)
    }),

  /** Reshoots nobody pays for, by year and cause, with their time at the bench. */
  unpaidReshoots: call.query(({ ctx }) => unpaidReshoots(ctx.db)),
})
