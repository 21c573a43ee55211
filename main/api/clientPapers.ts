import * as z from 'zod'
import { studioZone } from '../../db/calendar.ts'
import { statementOfAccount } from '../../db/clientAccounts.ts'
import { type ClientPaperKind, keepClientPaper, papersOfJob } from '../../db/clientPapers.ts'
import type { Id } from '../../db/ids.ts'
import { jobById } from '../../db/jobs.ts'
import { statementSheet } from '../papers/accountStatement.ts'
import { goodsReceiptSheet } from '../papers/goodsReceipt.ts'
import { keepPaper } from '../papers/letterhead.ts'
import { orderConfirmationSheet } from '../papers/orderConfirmation.ts'
import type { Sheet } from '../papers/sheet.ts'
import { dayOf, instantAt } from '../trade/calendar.ts'
import { Period } from './accounts.ts'
import { call, type InStudio, idOf, router } from './kit.ts'

const OneJob = z.object({ jobId: idOf('job') })

/** Papers to a client beside quotes and invoices. Each is kept as it was written; the page opens it by its id. */
export const clientPaperCalls = router({
  ofJob: call.input(OneJob).query(({ ctx, input }) => papersOfJob(ctx.db, input.jobId)),

  /** The order as it stands today: the accepted quote and the extras agreed so far. */
  orderConfirmation: call.input(OneJob).mutation(({ ctx, input }) => {
    return write(
      ctx,
      input.jobId,
      'order confirmation',
      orderConfirmationSheet(ctx.db, input.jobId, noon(ctx)),
    )
  }),

  /** What of a job's products is in the studio today, to be signed. */
  goodsReceipt: call.input(OneJob).mutation(({ ctx, input }) => {
    return write(ctx, input.jobId, 'goods receipt', goodsReceiptSheet(ctx.db, input.jobId, noon(ctx)))
  }),

  /** A client's statement of account over a period, as it is today. */
  statement: call.input(Period).mutation(({ ctx, input }) => {
    const today = dayOf(ctx.now, studioZone(ctx.db))
    const paperId = keepPaper(ctx, statementSheet(ctx.db, statementOfAccount(ctx.db, input, today)))
    const of = { kind: 'statement of account', clientId: input.clientId, jobId: null } as const
    keepClientPaper(ctx, { ...of, attachmentId: paperId })
    return { paperId }
  }),
})

function write(ctx: InStudio, jobId: Id<'job'>, kind: ClientPaperKind, sheet: Sheet) {
  const paperId = keepPaper(ctx, sheet)
  keepClientPaper(ctx, { kind, clientId: jobById(ctx.db, jobId).clientId, jobId, attachmentId: paperId })
  return { paperId }
}

/** Papers are dated by the day, so that the same paper written twice on a day is the same file. */
function noon(ctx: InStudio): string {
  const zone = studioZone(ctx.db)
  return instantAt(dayOf(ctx.now, zone), 12 * 60, zone).toISOString()
}
