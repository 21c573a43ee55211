import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { normalBelow } from '../../main/trade/normal.ts'
import { median, quantile } from '../../main/trade/quantile.ts'

describe('quantiles', () => {
  it('interpolate as type 7 of R does', () => {
    // Type 7, h = (n − 1)p (R manual, `quantile`); values agree with the packages simple-statistics 7.12.1 and
    // jstat 1.9.6 (quantiles(x, p, 1, 1)).
    const b = [5.2, 6.1, 5.8, 7.4, 6.0, 5.5, 9.9, 6.3]
    const expected: [number, number][] = [
      [0.1, 5.41],
      [0.25, 5.725],
      [0.5, 6.05],
      [0.75, 6.575],
      [0.8, 6.96],
      [0.9, 8.15],
      [0.95, 9.025],
    ]
    for (const [p, value] of expected) expect(quantile(b, p)).toBeCloseTo(value, 12)
    const c = [3, 6, 7, 8, 8, 10, 13, 15, 16, 20]
    expect([0.25, 0.5, 0.75].map((p) => quantile(c, p))).toEqual([7.25, 9, 14.5])
    expect(quantile(c, 0.9)).toBeCloseTo(16.4, 12)
    expect(median(b)).toBeCloseTo(6.05, 12)
  })

  it('lie within the sample, rise with p, and do not mind the order', () => {
    const sample = fc.array(fc.integer({ min: -1000, max: 1000 }), { minLength: 1, maxLength: 40 })
    fc.assert(
      fc.property(
        sample,
        fc.double({ min: 0, max: 1, noNaN: true }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (xs, p, q) => {
          const low = quantile(xs, Math.min(p, q))
          expect(low).toBeLessThanOrEqual(quantile(xs, Math.max(p, q)) + 1e-9)
          expect(quantile([...xs].reverse(), p)).toBe(quantile(xs, p))
          expect([quantile(xs, 0), quantile(xs, 1)]).toEqual([Math.min(...xs), Math.max(...xs)])
        },
      ),
    )
  })

  it('of nothing are a bug, not a number', () => {
    expect(() => median([])).toThrow()
    expect(() => median([1, Number.NaN])).toThrow()
    expect(() => quantile([1], 1.1)).toThrow()
  })
})

describe('the normal distribution', () => {
  it('has the probabilities of the tables', () => {
    // Φ(1.959963984540054) = 0.975 and Φ(0.841621233572914) = 0.8 (scipy.stats.norm.ppf); Φ(−3) = 0.0013498980316301
    // (standard table).
    expect(normalBelow(0)).toBe(0.5)
    expect(normalBelow(1.959963984540054)).toBeCloseTo(0.975, 14)
    expect(normalBelow(0.841621233572914)).toBeCloseTo(0.8, 14)
    expect(normalBelow(-3)).toBeCloseTo(0.0013498980316301, 15)
    expect([normalBelow(Number.NEGATIVE_INFINITY), normalBelow(Number.POSITIVE_INFINITY)]).toEqual([0, 1])
  })
})
