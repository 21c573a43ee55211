import { workOutQuote } from '../../main/trade/quote.ts'
import { whatGives } from '../../main/trade/whatGives.ts'
import { aBasis, anInput, aQuoteSpin, aTurnRow } from '../price/aBasis.ts'
import { timed, timesOf } from './measure.ts'

/** What pricing a job of 500 products takes, as one types; times in ms. */
export interface PricingTimes {
  readonly products: number
  /** By a price list. */
  readonly listedMs: number
  /** Where every price is worked out from the time. */
  readonly workedOutMs: number
  /** What must give for less than half of the floor. */
  readonly whatGivesMs: number
}

const products = 500
const sizes = ['small', 'medium', 'large'] as const
const finishes = ['matt', 'satin', 'gloss', 'mirror', 'clear', 'textile'] as const

const rounds = 21

async function medianMs(work: () => unknown): Promise<number> {
  const samplesMs: number[] = []
  for (let round = 0; round < rounds; round += 1) samplesMs.push(await timed(work))
  return timesOf(samplesMs).medianMs
}

/** Products of every size and finish in families of five, in two unequal rows with a third of overlap. */
export async function measurePricing(): Promise<PricingTimes> {
  const plain = aBasis()
  const basis = aBasis({
    pace: {
      ...plain.pace,
      handling: sizes.flatMap((sizeClass) =>
        finishes.map((finish) => ({ sizeClass, finish, firstMs: 600_000, followingMs: 300_000 })),
      ),
    },
    spins: Array.from({ length: products }, (_, index) =>
      aQuoteSpin({
        shootId: index + 1,
        finishClassId: 1,
        products: [
          {
            sizeClass: sizes[index % sizes.length] ?? 'small',
            isSizeKnown: true,
            finish: finishes[index % finishes.length] ?? 'matt',
            isFirstOfFamily: index % 5 === 0,
          },
        ],
      }),
    ),
  })
  const prices = sizes.flatMap((sizeClass) =>
    (['loop', 'frame set'] as const).map((kind) => ({
      sizeClass,
      finishClassId: null,
      kind,
      rows: 2,
      firstMinor: 9000,
      followingMinor: 6000,
    })),
  )
  const listed = { ...basis, priceList: { name: 'Standard', prices, breaks: [] } }
  const input = anInput({
    rows: [aTurnRow(), aTurnRow({ viewAngleMdeg: 30_000, framesPerTurn: 122, overlapFrames: 41 })],
  })
  const floorMinor = workOutQuote(basis, input).cost?.p80Minor ?? 0
  return {
    products,
    listedMs: await medianMs(() => workOutQuote(listed, input)),
    workedOutMs: await medianMs(() => workOutQuote(basis, input)),
    whatGivesMs: await medianMs(() => whatGives(basis, input, Math.round(floorMinor * 0.4))),
  }
}
