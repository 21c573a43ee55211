import { allocate, lineNetMinor, shareMinor } from './money.ts'
import type { SizeClass } from './product.ts'
import { Refusal } from './refusal.ts'

export const deliverableKinds = ['loop', 'frame set', 'stills'] as const
export type DeliverableKind = (typeof deliverableKinds)[number]

/** One price of a price list, in minor units per spin: for the first of a family, and for those that follow. */
export interface PriceRow {
  readonly sizeClass: SizeClass
  /** The finish class the price is for; null for any. */
  readonly finishClassId: number | null
  readonly kind: DeliverableKind
  readonly rows: number
  readonly firstMinor: number
  readonly followingMinor: number
}

/** A discount on all spins of a job that has at least so many. */
export interface PriceBreak {
  readonly fromSpins: number
  readonly discountPpm: number
}

/** What of a spin decides its price: one price for each deliverable wanted of it. */
export interface PricedSpin {
  readonly sizeClass: SizeClass
  readonly finishClassId: number | null
  readonly rows: number
  readonly isFirstOfFamily: boolean
  readonly kinds: readonly DeliverableKind[]
}

export interface PriceTerms {
  readonly breaks: readonly PriceBreak[]
  /** Rush surcharge; 0 where the job is none. */
  readonly rushPpm: number
  readonly discountPpm: number
  /** Fixed fees, which neither rush nor discount touches. */
  readonly fees: readonly { readonly text: string; readonly amountMinor: number }[]
  /** The least the whole job is done for. */
  readonly minimumMinor: number
}

/** What a line of spins is for. */
export interface SpinCase {
  readonly sizeClass: SizeClass
  readonly finishClassId: number | null
  readonly kind: DeliverableKind
  readonly rows: number
  readonly isFirstOfFamily: boolean
}

/** A line of the client's paper. Prices are never below 0; what is taken off has a quantity of −1. */
export type PriceLine =
  | (PriceAmount & {
      readonly kind: 'spins'
      readonly spins: number
      readonly of: SpinCase
      /** Net with this line's share of volume break, rush, discount and minimum: what its spins really bring. */
      readonly sharedNetMinor: number
    })
  | (PriceAmount & { readonly kind: 'volume' | 'rush' | 'discount' | 'minimum' })
  | (PriceAmount & { readonly kind: 'fee'; readonly text: string })

interface PriceAmount {
  readonly quantityMilli: number
  readonly priceMinor: number
  readonly netMinor: number
}

/**
 * The price of a spin's case: that of its own finish class, else that for any. Refuses a case the list lacks;
 * a price for two rows is not twice the price for one, so none is made up.
 */
export function priceFor(list: readonly PriceRow[], wanted: Omit<SpinCase, 'isFirstOfFamily'>): PriceRow {
  const rows = list.filter(
    (row) => row.sizeClass === wanted.sizeClass && row.kind === wanted.kind && row.rows === wanted.rows,
  )
  const found =
    rows.find((row) => row.finishClassId === wanted.finishClassId) ??
    rows.find((row) => row.finishClassId === null)
  if (!found) {
    throw new Refusal(
      'no-price',
      `The price list has no price for a ${wanted.kind} of a ${wanted.sizeClass} product with ${wanted.rows === 1 ? 'one row' : `${wanted.rows} rows`}. Add one, or choose another list.`,
    )
  }
  return found
}

/**
 * The lines of a job's price and their sum, in minor units. Spins of one case stand on one line. The volume
 * break is taken off the spins, the rush surcharge is on what then remains, the discount off what then
 * remains; fees come on top, and a job under the minimum is filled up to it (common practice, no published
 * source). Every line is rounded once, and the lines always add up to the net.
 */
export function priceJob(
  spins: readonly PricedSpin[],
  list: readonly PriceRow[],
  terms: PriceTerms,
): { readonly lines: readonly PriceLine[]; readonly netMinor: number } {
  const spinLines = linesOfSpins(spins, list)
  const spinsMinor = sum(spinLines)
  const volume = amount('volume', -shareMinor(spinsMinor, breakPpm(spins.length, terms.breaks)))
  const fees = terms.fees.map((fee) => ({
    ...amount('fee', fee.amountMinor),
    kind: 'fee' as const,
    text: fee.text,
  }))
  const { beforeFees, minimum } = adjustedSum(spinsMinor + volume.netMinor, sum(fees), terms)
  const reductions = [...(volume.netMinor === 0 ? [] : [volume]), ...beforeFees]
  const lines = [...withShares(spinLines, sum(reductions) + sum(minimum)), ...reductions, ...fees, ...minimum]
  return { lines, netMinor: sum(lines) }
}

/**
 * What raises and lowers a sum that is sold: the rush surcharge on it, the discount off what then is, and what fills
 * it up to the minimum once the fees are on top; each rounded once, and those that come to nothing left out.
 */
export function adjustedSum(
  soldMinor: number,
  feesMinor: number,
  terms: Pick<PriceTerms, 'rushPpm' | 'discountPpm' | 'minimumMinor'>,
) {
  const rush = amount('rush', shareMinor(soldMinor, terms.rushPpm))
  const beforeDiscount = soldMinor + rush.netMinor
  const discount = amount('discount', -shareMinor(beforeDiscount, terms.discountPpm))
  const soFar = beforeDiscount + discount.netMinor + feesMinor
  const minimum = amount('minimum', Math.max(0, terms.minimumMinor - soFar))
  return {
    beforeFees: [rush, discount].filter(({ netMinor }) => netMinor !== 0),
    minimum: [minimum].filter(({ netMinor }) => netMinor !== 0),
  }
}

type SpinLine = Omit<Extract<PriceLine, { kind: 'spins' }>, 'sharedNetMinor'>

function linesOfSpins(spins: readonly PricedSpin[], list: readonly PriceRow[]): SpinLine[] {
  const counted = new Map<string, { of: SpinCase; count: number }>()
  for (const { kinds, ...spin } of spins) {
    for (const kind of kinds) {
      const of: SpinCase = { ...spin, kind }
      const key = JSON.stringify([of.sizeClass, of.finishClassId, of.kind, of.rows, of.isFirstOfFamily])
      const known = counted.get(key) ?? { of, count: 0 }
      known.count += 1
      counted.set(key, known)
    }
  }
  return [...counted.values()].map(({ of, count }) => {
    const row = priceFor(list, of)
    const priceMinor = of.isFirstOfFamily ? row.firstMinor : row.followingMinor
    const quantityMilli = count * 1000
    return {
      kind: 'spins',
      of,
      spins: count,
      quantityMilli,
      priceMinor,
      netMinor: lineNetMinor(quantityMilli, priceMinor),
    }
  })
}

function withShares(lines: readonly SpinLine[], adjustmentMinor: number): PriceLine[] {
  if (lines.length === 0) return []
  const nets = lines.map((line) => line.netMinor)
  // Spins given away still carry the minimum charge, by their number.
  const weights = nets.some((net) => net > 0) ? nets : lines.map((line) => line.spins)
  const shares = allocate(adjustmentMinor, weights)
  return lines.map((line, index) => ({ ...line, sharedNetMinor: line.netMinor + (shares[index] ?? 0) }))
}

function amount<K extends Exclude<PriceLine['kind'], 'spins'>>(kind: K, netMinor: number) {
  return {
    kind,
    quantityMilli: netMinor < 0 ? -1000 : 1000,
    priceMinor: Math.abs(netMinor),
    netMinor: netMinor + 0,
  }
}

/** The discount of the largest break that so many spins reach. */
function breakPpm(spins: number, breaks: readonly PriceBreak[]): number {
  const reached = breaks.filter((each) => spins >= each.fromSpins).sort((a, b) => b.fromSpins - a.fromSpins)
  return reached[0]?.discountPpm ?? 0
}

function sum(lines: readonly { readonly netMinor: number }[]): number {
  return lines.reduce((total, line) => total + line.netMinor, 0)
}
