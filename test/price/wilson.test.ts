import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { wilson } from '../../main/trade/wilson.ts'

describe('the Wilson interval', () => {
  it.each([
    // Fagerland, Lydersen & Laake, Statistical Analysis of Contingency Tables, ch. 2 (0.5699 to 0.9341).
    [13, 16, 0.5699111904, 0.9340840093],
    // Newcombe, Two-sided confidence intervals for the single proportion, Stat. Med. 17, 1998, table I.
    [81, 263, 0.2552885199, 0.366209577],
    [15, 148, 0.0623863995, 0.1604872417],
    [0, 20, 0, 0.1611251581],
    [1, 29, 0.0061132143, 0.1717552188],
    // scipy 1.x, binomtest(...).proportion_ci(method='wilson').
    [9, 10, 0.5958499732, 0.9821237869],
    [10, 10, 0.7224672001, 1],
    [18, 24, 0.5510055599, 0.8800063377],
    [0, 1, 0, 0.7934506856],
    [1, 1, 0.2065493144, 1],
  ])('of %i in %i is the published one', (hits, trials, low, high) => {
    const interval = wilson(hits, trials)
    expect(interval.low).toBeCloseTo(low, 9)
    expect(interval.high).toBeCloseTo(high, 9)
  })

  it('of nothing knows nothing, and divides by nothing', () => {
    expect(wilson(0, 0)).toEqual({ low: 0, high: 1 })
  })

  it('holds the share, lies within 0 and 1, and is mirrored when hits and misses change places', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 10_000 }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (trials, part) => {
          const hits = Math.round(trials * part)
          const { low, high } = wilson(hits, trials)
          expect(low).toBeGreaterThanOrEqual(0)
          expect(high).toBeLessThanOrEqual(1)
          expect(low).toBeLessThanOrEqual(hits / trials)
          expect(high).toBeGreaterThanOrEqual(hits / trials)
          expect(wilson(trials - hits, trials).low).toBeCloseTo(1 - high, 12)
        },
      ),
    )
  })

  it('refuses what is no count', () => {
    for (const [hits, trials] of [
      [3, 2],
      [-1, 2],
      [0.5, 2],
      [Number.NaN, 2],
    ] as const) {
      expect(() => wilson(hits, trials)).toThrow('is no share')
    }
  })
})
