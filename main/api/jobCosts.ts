import * as z from 'zod'
import { studioZone } from '../../db/calendar.ts'
import { addCost, changeCost, costKinds, costsOfJob, keepReceipt, removeCost } from '../../db/jobCosts.ts'
import { jobMargin } from '../../db/jobMargin.ts'
import { jobById } from '../../db/jobs.ts'
import { listPurchases, purchasesOf, salesOf } from '../../db/purchases.ts'
import { theStudio } from '../../db/studio.ts'
import { dayOf } from '../trade/calendar.ts'
import { daysOfQuarter, quarterOf } from '../trade/quarter.ts'
import { Refusal } from '../trade/refusal.ts'
import { call, day, idOf, maybeText, page, router, text } from './kit.ts'

const costId = idOf('job_cost')
const jobId = idOf('job')
const quarter = z
  .string()
  .regex(/^20[0-9]{2}-Q[1-4]$/, 'A quarter is a year and its number, such as 2026-Q1.')
const amount = (what: string) =>
  z
    .int(`${what} is not an amount. Type it in.`)
    .min(0, `${what} is 0 or more.`)
    .max(1_000_000_000_000, `${what} is too large. Check it.`)

const CostInput = z.object({
  kind: z.enum(costKinds, 'Choose what kind of cost it is.'),
  text: text('What was bought', 300),
  day,
  plannedMinor: amount('What is planned').nullable().default(null),
  actualMinor: amount('What was paid').nullable().default(null),
  taxMinor: amount('The tax').nullable().default(0),
  supplier: maybeText(200).default(null),
  isPassedOn: z.boolean().default(false),
})

/** A photograph or scan of a receipt fits. */
const mostBytes = 20_000_000

/** Costs of jobs, planned and actual, and what is left of the price after all. */
export const jobCostCalls = router({
  ofJob: call.input(z.object({ jobId })).query(({ ctx, input }) => {
    const job = jobById(ctx.db, input.jobId)
    return {
      currency: job.currency,
      studioCurrency: theStudio(ctx.db).currency,
      costs: costsOfJob(ctx.db, input.jobId),
      margin: jobMargin(ctx.db, input.jobId),
    }
  }),

  add: call
    .input(z.object({ jobId, cost: CostInput }))
    .mutation(({ ctx, input }) => ({ costId: addCost(ctx, input.jobId, kept(input.cost)) })),

  change: call.input(z.object({ costId, cost: CostInput })).mutation(({ ctx, input }) => {
    changeCost(ctx, input.costId, kept(input.cost))
  }),

  remove: call.input(z.object({ costId })).mutation(({ ctx, input }) => {
    removeCost(ctx, input.costId)
  }),

  /** The purchases beside the sales of a quarter of the calendar year; of this one where none is named. */
  quarter: call
    .input(z.object({ quarter: quarter.nullable().default(null), page }))
    .query(({ ctx, input }) => {
      const chosen = input.quarter ?? quarterOf(dayOf(ctx.now, studioZone(ctx.db)))
      const days = daysOfQuarter(chosen)
      const purchases = purchasesOf(ctx.db, days)
      return {
        quarter: chosen,
        ...days,
        sales: salesOf(ctx.db, days),
        purchases,
        total: purchases.reduce((sum, { documents }) => sum + documents, 0),
        lines: listPurchases(ctx.db, days, input.page),
      }
    }),

  /** Keeps a receipt of up to 20 MB: a PDF, JPEG, PNG or WebP; the bytes say what it is. */
  receipt: call
    .input(
      z.object({
        costId,
        name: text('The file’s name'),
        base64: z
          .base64('The file could not be read. Pick it again.')
          .max(Math.ceil(mostBytes / 3) * 4, 'The receipt is over 20 MB. Save it smaller.'),
      }),
    )
    .mutation(({ ctx, input }) => {
      const bytes = Buffer.from(input.base64, 'base64')
      keepReceipt(ctx, input.costId, { bytes, name: input.name, mediaType: receiptType(bytes, input.name) })
    }),
})

function kept(cost: z.infer<typeof CostInput>) {
  return { ...cost, taxMinor: cost.taxMinor ?? 0 }
}

/** Told by the first bytes of the file: ISO 32000-1, 7.5.2; ITU-T T.81; ISO/IEC 15948, 5.2; RFC 9649. */
function receiptType(bytes: Buffer, name: string): string {
  const begins = (hex: string, at = 0) => bytes.subarray(at, at + hex.length / 2).toString('hex') === hex
  if (begins('255044462d')) return 'application/pdf'
  if (begins('ffd8ff')) return 'image/jpeg'
  if (begins('89504e470d0a1a0a')) return 'image/png'
  if (begins('52494646') && begins('57454250', 8)) return 'image/webp'
  throw new Refusal(
    'receipt-type',
    `${name} is neither a PDF nor a JPEG, PNG or WebP picture. Save the receipt as one of these.`,
    { field: 'base64' },
  )
}
