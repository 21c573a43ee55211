import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { priceBands } from '../../main/trade/priceBands.ts'

describe('won and lost by price a spin', () => {
  it('are counted in round bands, the cheapest first', () => {
    const outcomes = [
      ...Array.from({ length: 9 }, (_, index) => ({ perSpinMinor: 3100 + index * 100, isWon: index < 6 })),
      ...Array.from({ length: 4 }, (_, index) => ({ perSpinMinor: 5000 + index * 700, isWon: index === 0 })),
    ]
    const bands = priceBands(outcomes, 100)
    // Counted by hand: 31 to 39, of which 31 to 36 were won; 50 was won, 57, 64 and 71 were not.
    expect(bands.map(({ fromMinor, toMinor, won, jobs }) => [fromMinor, toMinor, won, jobs])).toEqual([
      [3000, 4000, 6, 9],
      [5000, 6000, 1, 2],
      [6000, 7000, 0, 1],
      [7000, 8000, 0, 1],
    ])
  })

  it('lose no job, whatever the prices, in at most six bands', () => {
    const outcome = fc.record({ perSpinMinor: fc.integer({ min: 0, max: 50_000_000 }), isWon: fc.boolean() })
    fc.assert(
      fc.property(fc.array(outcome, { minLength: 1 }), fc.constantFrom(1, 100, 1000), (outcomes, unit) => {
        const bands = priceBands(outcomes, unit)
        expect(bands.length).toBeLessThanOrEqual(6)
        expect(bands.reduce((sum, { jobs }) => sum + jobs, 0)).toBe(outcomes.length)
        for (const band of bands) {
          const within = outcomes.filter(
            ({ perSpinMinor }) => perSpinMinor >= band.fromMinor && perSpinMinor < band.toMinor,
          )
          expect([band.jobs, band.won]).toEqual([within.length, within.filter(({ isWon }) => isWon).length])
          expect(band.fromMinor % unit).toBe(0)
        }
      }),
    )
  })

  it('are none where nothing was decided', () => {
    expect(priceBands([], 100)).toEqual([])
  })
})
