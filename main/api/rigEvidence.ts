import * as z from 'zod'
import type { Db } from '../../db/open.ts'
import { sizeLimitsMm } from '../../db/pace.ts'
import {
  approvedOnRig,
  productToSpin,
  rigRecord,
  spinsToTurn,
  standingRigs,
  type ToBeSpun,
} from '../../db/rigEvidence.ts'
import { shown } from '../trade/measures.ts'
import { sizeClassOf } from '../trade/product.ts'
import { Refusal } from '../trade/refusal.ts'
import { rankRigs } from '../trade/rigRanking.ts'
import { call, idOf, page, router } from './kit.ts'

const rigId = idOf('rig')

/** What worked on which rig, told by the clients' answers, and which rig that speaks for. Lengths in mm. */
export const rigEvidenceCalls = router({
  ofRig: call.input(z.object({ rigId })).query(({ ctx, input }) => {
    const record = rigRecord(ctx.db, input.rigId)
    if (!record) throw new Refusal('no-rig', 'This rig is not in the studio.')
    return record
  }),

  /** Spins with the client's yes and their pictures, the newest first. */
  approved: call
    .input(z.object({ rigId, page }))
    .query(({ ctx, input }) => shown(approvedOnRig(ctx.db, input.rigId, input.page))),

  forProduct: call.input(z.object({ productId: idOf('product') })).query(({ ctx, input }) => {
    const wanted = productToSpin(ctx.db, input.productId)
    if (!wanted) throw new Refusal('no-product', 'This product is not in the studio.')
    return ranked(ctx.db, wanted)
  }),

  /** Spins that are to share one rig. */
  forSpins: call
    .input(z.object({ shootIds: z.array(idOf('shoot')).min(1).max(5000) }))
    .query(({ ctx, input }) => {
      const wanted = spinsToTurn(ctx.db, input.shootIds)
      if (!wanted) throw new Refusal('no-spin', 'None of these spins is in the studio.')
      return ranked(ctx.db, wanted)
    }),
})

function ranked(db: Db, wanted: ToBeSpun) {
  const { finish, sizeStep, loadG, alike, of } = wanted
  const { smallMaxMm, mediumMaxMm } = sizeLimitsMm(db)
  const sizeClass = sizeClassOf(shown(wanted), smallMaxMm, mediumMaxMm)
  const { offered, tooWeak } = rankRigs({ finish, sizeStep, sizeClass, loadG }, standingRigs(db))
  return {
    wanted: { finish, sizeStep, sizeClass, loadG, alike, of },
    offered: offered.map(({ rig: { kinds: _, rimUm10: _rim, ...rig }, reason }) => ({ ...rig, reason })),
    tooWeak: tooWeak.map(({ kinds: _, rimUm10: _rim, ...rig }) => rig),
  }
}
