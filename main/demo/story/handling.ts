import type { Finish, SizeClass } from '../../trade/product.ts'
import type { Chance } from '../chance.ts'
import type { DemoProduct } from '../setUp.ts'

// How long this studio really handles a product, in minutes at the median. Invented, after the trade's usual order:
// what mirrors or is clear takes longest, what follows on the same set is quicker.
const bySize: Readonly<Record<SizeClass, number>> = { small: 4, medium: 5.5, large: 8 }
const byFinish: Readonly<Record<Finish, number>> = {
  matt: 1,
  satin: 1.05,
  textile: 1.2,
  gloss: 1.35,
  mirror: 1.9,
  clear: 1.8,
}
const ofFollowing = 0.7
const spread = 0.35
/** Longer than this, in medians, nobody lets it take: the next one is waiting. */
const most = 1.8

/** Unpacking, cleaning, placing and centring one product, in ms. */
export function handlingMs(chance: Chance, product: DemoProduct, isFirstOfFamily: boolean): number {
  const median = medianMs(product, isFirstOfFamily)
  return Math.min(most * median, chance.logNormal(median, spread))
}

/** The longest that any of the products is handled, in whole minutes. */
export function longestHandlingMinutes(products: readonly DemoProduct[]): number {
  return Math.ceil(Math.max(...products.map((product) => most * medianMs(product, true))) / 60_000)
}

function medianMs({ sizeClass, finish }: DemoProduct, isFirstOfFamily: boolean): number {
  return bySize[sizeClass] * byFinish[finish] * (isFirstOfFamily ? 1 : ofFollowing) * 60_000
}
