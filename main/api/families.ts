import * as z from 'zod'
import { findClient } from '../../db/clients.ts'
import {
  addFamily,
  breakUpFamily,
  changeFamily,
  type FamilyLine,
  familyNames,
  findFamily,
  listFamilies,
  placeInFamily,
} from '../../db/families.ts'
import type { Id } from '../../db/ids.ts'
import type { Db } from '../../db/open.ts'
import { findProduct } from '../../db/products.ts'
import { Refusal } from '../trade/refusal.ts'
import { call, idOf, maybeText, page, router, text } from './kit.ts'

const FamilyInput = z.object({
  name: text('The family’s name', 120),
  rigRevisionId: idOf('rig_revision').nullable().default(null),
  settingsId: idOf('settings').nullable().default(null),
  note: maybeText(),
})

/** Families: variants of one shape that share rig, settings, crop and start pose. */
export const familyCalls = router({
  list: call
    .input(z.object({ clientId: idOf('client'), page }))
    .query(({ ctx, input }) => listFamilies(ctx.db, input.clientId, input.page)),

  names: call
    .input(z.object({ clientId: idOf('client') }))
    .query(({ ctx, input }) => familyNames(ctx.db, input.clientId)),

  one: call
    .input(z.object({ familyId: idOf('family') }))
    .query(({ ctx, input }) => knownFamily(ctx.db, input.familyId)),

  add: call.input(z.object({ clientId: idOf('client'), family: FamilyInput })).mutation(({ ctx, input }) => {
    if (!findClient(ctx.db, input.clientId)) {
      throw new Refusal('no-client', 'This client is not in the studio. Choose one of the list.')
    }
    return { familyId: namingTwins(() => addFamily(ctx, input.clientId, input.family)) }
  }),

  change: call
    .input(z.object({ familyId: idOf('family'), family: FamilyInput }))
    .mutation(({ ctx, input }) => {
      const before = knownFamily(ctx.db, input.familyId)
      namingTwins(() => {
        changeFamily(ctx, before, input.family)
      })
    }),

  /** Puts products into a family at once, or takes them out with `familyId: null`. */
  place: call
    .input(
      z.object({ familyId: idOf('family').nullable(), productIds: z.array(idOf('product')).min(1).max(500) }),
    )
    .mutation(({ ctx, input }) => {
      const family = input.familyId === null ? null : knownFamily(ctx.db, input.familyId)
      for (const productId of input.productIds) {
        const product = findProduct(ctx.db, productId)
        if (!product) throw new Refusal('no-product', 'One of these products is not in the studio.')
        if (family && product.clientId !== family.clientId) {
          throw new Refusal(
            'family-of-another-client',
            `${product.code} is not a product of ${family.clientName}. Leave it out, or choose a family of its own client.`,
          )
        }
      }
      placeInFamily(ctx, input.productIds, family)
    }),

  breakUp: call.input(z.object({ familyId: idOf('family') })).mutation(({ ctx, input }) => {
    breakUpFamily(ctx, knownFamily(ctx.db, input.familyId))
  }),
})

function knownFamily(db: Db, familyId: Id<'family'>): FamilyLine {
  const family = findFamily(db, familyId)
  if (!family) throw new Refusal('no-family', 'This family is not in the studio.')
  return family
}

function namingTwins<T>(write: () => T): T {
  try {
    return write()
  } catch (error) {
    if (error instanceof Error && error.message.includes('UNIQUE constraint failed: family.client_id')) {
      throw new Refusal(
        'family-name-taken',
        'This client already has a family of this name. Add what tells the two apart.',
        { field: 'family.name' },
      )
    }
    throw error
  }
}
