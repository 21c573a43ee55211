import * as z from 'zod'
import { briefById } from '../../db/briefs.ts'
import { dropSpinBrief, writeSpinBrief } from '../../db/jobBriefs.ts'
import { addSpins } from '../../db/newSpins.ts'
import { productByCode } from '../../db/products.ts'
import { reshootSpins } from '../../db/reshoots.ts'
import {
  cancelSpins,
  describeSpin,
  letBreakBetweenRows,
  markFirstSpins,
  orderSpins,
  restoreSpins,
} from '../../db/spinChanges.ts'
import { spinHead, spinsOfJob } from '../../db/spins.ts'
import { BriefInput } from './briefs.ts'
import { call, idOf, maybeText, router, text } from './kit.ts'

/** Spins to be added, as the page sends them: one product each, or a set of several. */
export const SpinInputs = z
  .array(
    z.object({
      productIds: z
        .array(idOf('product'))
        .min(1, 'A spin shows at least one product.')
        .max(20, 'A set has at most 20 products.'),
      name: maybeText(120),
    }),
  )
  .max(2000, 'At most 2,000 spins are added at once.')

/** Spins that one press changes: one or many. */
export const ShootIds = z.array(idOf('shoot')).min(1, 'Choose at least one spin.').max(2000)

const Spins = z.object({ shootIds: ShootIds })

/** Spins: products turned in a job. */
export const spinCalls = router({
  list: call
    .input(z.object({ jobId: idOf('job') }))
    .query(({ ctx, input }) => spinsOfJob(ctx.db, input.jobId)),

  add: call
    .input(z.object({ jobId: idOf('job'), spins: SpinInputs.min(1, 'Choose at least one product.') }))
    .mutation(({ ctx, input }) => ({ shootIds: addSpins(ctx, input.jobId, input.spins) })),

  describe: call
    .input(z.object({ shootId: idOf('shoot'), name: text('The spin’s name', 120), note: maybeText() }))
    .mutation(({ ctx, input }) => {
      describeSpin(ctx, input.shootId, input)
    }),

  /** Product codes as pasted from a client's mail: which products they are, in that order, and which are none. */
  readCodes: call
    .input(z.object({ clientId: idOf('client'), codes: z.array(z.string().max(200)).max(2000) }))
    .query(({ ctx, input }) => {
      const codes = [...new Set(input.codes.map((code) => code.trim()).filter(Boolean))]
      const read = codes.map((code) => ({ code, product: productByCode(ctx.db, input.clientId, code) }))
      return {
        products: read.flatMap(({ product }) =>
          product && product.archivedAt === null
            ? [{ id: product.id, code: product.code, name: product.name, variant: product.variant }]
            : [],
        ),
        unknown: read.flatMap(({ code, product }) => (!product || product.archivedAt !== null ? [code] : [])),
      }
    }),

  /** The brief a spin is spun to: its own, or its job's. */
  brief: call
    .input(z.object({ shootId: idOf('shoot') }))
    .query(({ ctx, input }) => briefById(ctx.db, spinHead(ctx.db, input.shootId).briefId)),

  writeBrief: call.input(Spins.extend({ brief: BriefInput })).mutation(({ ctx, input }) => {
    writeSpinBrief(ctx, input.shootIds, input.brief)
  }),

  dropBrief: call.input(Spins).mutation(({ ctx, input }) => {
    dropSpinBrief(ctx, input.shootIds)
  }),

  markFirst: call.input(Spins.extend({ isFirst: z.boolean() })).mutation(({ ctx, input }) => {
    markFirstSpins(ctx, input.shootIds, input.isFirst)
  }),

  /** Says whether the bench may close between two rows of these spins. */
  letBreak: call.input(Spins.extend({ mayBreak: z.boolean() })).mutation(({ ctx, input }) => {
    letBreakBetweenRows(ctx, input.shootIds, input.mayBreak)
  }),

  putInOrder: call.input(z.object({ jobId: idOf('job'), shootIds: ShootIds })).mutation(({ ctx, input }) => {
    orderSpins(ctx, input.jobId, input.shootIds)
  }),

  cancel: call.input(Spins.extend({ reason: text('The reason', 500) })).mutation(({ ctx, input }) => {
    cancelSpins(ctx, input.shootIds, input.reason)
  }),

  restore: call.input(Spins).mutation(({ ctx, input }) => {
    restoreSpins(ctx, input.shootIds)
  }),

  reshoot: call
    .input(
      Spins.extend({
        cause: z.enum(['ours', "client's wish", 'sample', 'carrier']),
        reason: text('The reason', 500),
      }),
    )
    .mutation(({ ctx, input }) => {
      reshootSpins(ctx, input.shootIds, input.cause, input.reason)
    }),
})
