import type { Asks } from '../../api/types.ts'

type Price = Asks['prices']['add']['prices'][number]

const sizes = { small: 1, medium: 1.25, large: 1.9 } as const
const kinds = { loop: [58_00, 42_00], 'frame set': [46_00, 34_00], stills: [19_00, 15_00] } as const
const rowFactor = [1, 1.7, 2.3] as const

/**
 * The demo's price list: one price for each size, kind and up to three rows, rounded to whole euros. Invented.
 * @param factor what the prices of this list are multiplied by
 */
export function castPrices(factor: number): Price[] {
  return (Object.keys(sizes) as (keyof typeof sizes)[]).flatMap((sizeClass) =>
    (Object.keys(kinds) as (keyof typeof kinds)[]).flatMap((kind) =>
      rowFactor.map((more, index) => {
        const whole = (minor: number) => Math.round((minor * sizes[sizeClass] * more * factor) / 100) * 100
        const [first, following] = kinds[kind]
        return {
          sizeClass,
          finishClassId: null,
          kind,
          rows: index + 1,
          firstMinor: whole(first),
          followingMinor: whole(following),
        }
      }),
    ),
  )
}

export const castBreaks: Asks['prices']['add']['breaks'] = [
  { fromSpins: 10, discountPpm: 50_000 },
  { fromSpins: 25, discountPpm: 100_000 },
]
