import * as z from 'zod'
import { addTaxRate, changeTaxRate, listTaxRates } from '../../db/taxRates.ts'
import { taxCategories } from '../trade/bill.ts'
import { call, day, idOf, maybeText, router, text } from './kit.ts'

const TaxRateInput = z
  .object({
    name: text('The rate’s name', 60),
    category: z.enum(taxCategories),
    ratePpm: z
      .int('The rate is missing. Enter a percentage, such as 19.')
      .min(0, 'A rate cannot be below 0 %.')
      .max(1_000_000, 'A rate is at most 100 %.'),
    namedRates: z
      .array(
        z.object({
          name: text('The name of each part', 60),
          ratePpm: z
            .int('The rate of a part is missing. Enter a percentage, such as 4.5.')
            .min(1, 'The rate of a part is more than 0 %.')
            .max(1_000_000, 'A rate is at most 100 %.'),
        }),
      )
      .max(10, 'A rate has at most ten parts.')
      .default([]),
    exemptionReason: maybeText(300),
    isDefault: z.boolean(),
    validFrom: day.nullable(),
    validTo: day.nullable(),
  })
  .refine(({ category, ratePpm }) => (category === 'S') === ratePpm > 0, {
    message: 'The standard category bears a rate over 0 %; every other category bears 0 %.',
    path: ['ratePpm'],
  })
  .refine(
    ({ category, exemptionReason }) => category === 'S' || category === 'Z' || exemptionReason !== null,
    {
      message:
        'Say why no tax is charged; the reason stands on the papers. Ask your tax adviser for its wording.',
      path: ['exemptionReason'],
    },
  )
  .refine(({ validFrom, validTo }) => validFrom === null || validTo === null || validTo >= validFrom, {
    message: 'The last day lies before the first. Correct one of them.',
    path: ['validTo'],
  })

/** Rates of tax. Which one applies to a sale is for the studio and its tax adviser to say. */
export const taxRateCalls = router({
  list: call.query(({ ctx }) => listTaxRates(ctx.db)),

  add: call.input(TaxRateInput).mutation(({ ctx, input }) => ({ taxRateId: addTaxRate(ctx, input) })),

  change: call
    .input(z.object({ taxRateId: idOf('tax_rate'), taxRate: TaxRateInput }))
    .mutation(({ ctx, input }) => changeTaxRate(ctx, input.taxRateId, input.taxRate)),
})
