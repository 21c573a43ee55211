import * as z from 'zod'
import { idOf, text } from './kit.ts'

/** What a line of an order is sent as, of a quote and of an extra alike. Money in minor units, quantities in thousandths. */
export const pricedLine = {
  text: text('The line’s text', 400),
  quantityMilli: z
    .int('The quantity is missing. Enter a number.')
    .min(-1_000_000_000, 'This quantity is too large. Check it.')
    .max(1_000_000_000, 'This quantity is too large. Check it.'),
  unit: z.enum(['C62', 'HUR', 'DAY', 'LS']),
  priceMinor: z
    .int('The price is missing. Enter an amount.')
    .min(0, 'A price cannot be below 0. Use a negative quantity for a reduction.')
    .max(1_000_000_000, 'This price is too large. Check it.'),
  baseMilli: z.int().min(1, 'A price is for a quantity of more than 0.').max(1_000_000_000).default(1000),
  taxRateId: idOf('tax_rate'),
}
