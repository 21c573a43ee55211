import * as z from 'zod'
import { addPriceList, changePriceList, findPriceList, listPriceLists } from '../../db/prices.ts'
import { currencyCodes } from '../trade/currency.ts'
import { deliverableKinds } from '../trade/price.ts'
import { sizeClasses } from '../trade/product.ts'
import { Refusal } from '../trade/refusal.ts'
import { call, day, idOf, router, text } from './kit.ts'
import { namingTwin } from './twins.ts'

const priceMinor = z
  .int('A price is missing. Enter an amount.')
  .min(0, 'A price cannot be below 0.')
  .max(1_000_000_000, 'This price is too large. Check it.')

const PriceListInput = z
  .object({
    name: text('The price list’s name', 60),
    currency: z
      .string()
      .refine((code) => currencyCodes.includes(code), 'This is no currency of ISO 4217, such as EUR.'),
    validFrom: day,
    validTo: day.nullable(),
    isStandard: z.boolean(),
    prices: z
      .array(
        z.object({
          sizeClass: z.enum(sizeClasses),
          finishClassId: idOf('finish_class').nullable(),
          kind: z.enum(deliverableKinds),
          rows: z.int('Rows are a whole number.').min(1, 'At least one row.').max(20, 'At most 20 rows.'),
          firstMinor: priceMinor,
          followingMinor: priceMinor,
        }),
      )
      .max(500),
    breaks: z
      .array(
        z.object({
          fromSpins: z
            .int('A break begins at a whole number of spins.')
            .min(2, 'A break begins at 2 spins or more.'),
          discountPpm: z
            .int('A break’s discount is missing.')
            .min(1, 'A break’s discount is over 0 %.')
            .max(1_000_000, 'A discount is at most 100 %.'),
        }),
      )
      .max(20),
  })
  .refine(({ validFrom, validTo }) => validTo === null || validTo >= validFrom, {
    message: 'The last day lies before the first. Correct one of them.',
    path: ['validTo'],
  })
  .refine(({ breaks }) => new Set(breaks.map(({ fromSpins }) => fromSpins)).size === breaks.length, {
    message: 'Two volume breaks begin at the same number of spins. Remove one.',
    path: ['breaks'],
  })
  .refine(({ prices }) => new Set(prices.map(caseOf)).size === prices.length, {
    message: 'Two prices are for the same case. Remove one.',
    path: ['prices'],
  })

interface PriceCase {
  readonly sizeClass: string
  readonly finishClassId: number | null
  readonly kind: string
  readonly rows: number
}

function caseOf({ sizeClass, finishClassId, kind, rows }: PriceCase): string {
  return JSON.stringify([sizeClass, finishClassId, kind, rows])
}

const priceListId = idOf('price_list')

/** Price lists: what a spin costs the client, by size class, finish class, deliverable and rows. */
export const priceCalls = router({
  list: call.query(({ ctx }) => listPriceLists(ctx.db)),

  one: call.input(z.object({ priceListId })).query(({ ctx, input }) => {
    const list = findPriceList(ctx.db, input.priceListId)
    if (!list) throw new Refusal('no-price-list', 'This price list is not in the studio.')
    return list
  }),

  add: call.input(PriceListInput).mutation(({ ctx, input }) => ({
    priceListId: namingTwin('price_list', () => oneStandard(() => addPriceList(ctx, input))),
  })),

  change: call
    .input(z.object({ priceListId, priceList: PriceListInput }))
    .mutation(({ ctx, input }) =>
      namingTwin('price_list', () =>
        oneStandard(() => changePriceList(ctx, input.priceListId, input.priceList)),
      ),
    ),
})

/** Which of two standard lists of one day counts could not be told. */
function oneStandard<T>(write: () => T): T {
  try {
    return write()
  } catch (error) {
    if (error instanceof Error && error.message.includes('price_list.currency, price_list.valid_from')) {
      throw new Refusal(
        'two-standard-lists',
        'Another standard list of this currency begins on the same day. Choose another first day, or make this one no standard list.',
        { field: 'validFrom' },
      )
    }
    throw error
  }
}
