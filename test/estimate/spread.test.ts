import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { cellsOf, lognormal, scaled, shapeBelow, shapeOf, sumOf, timeAt } from '../../main/trade/spread.ts'

describe('the spread of a time', () => {
  it('is that of the lognormal by its mean and sigma', () => {
    // LN(ln 6, 0.25): mean 6.190460445, standard deviation 1.572114433 (scipy, @stdlib, jStat agree).
    const time = lognormal(6.190460445, 0.25)
    expect(Math.sqrt(time.variance)).toBeCloseTo(1.572114433, 8)
    // Skewness (w + 2)√(w − 1) with w = e^σ², the formula of every table of distributions (from memory).
    const w = Math.exp(0.0625)
    expect(time.third / time.variance ** 1.5).toBeCloseTo((w + 2) * Math.sqrt(w - 1), 12)
  })

  it('gives one lognormal back, moved along by what is certain', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1, max: 1e7, noNaN: true }),
        fc.integer({ min: 10_000, max: 900_000 }),
        fc.double({ min: 0, max: 1e7, noNaN: true }),
        (mean, ppm, certainMs) => {
          const sigma = ppm / 1e6
          const time = lognormal(mean, sigma)
          const shape = shapeOf({ ...time, meanMs: mean + certainMs })
          expect(shape.sigma / sigma).toBeCloseTo(1, 6)
          const q80 = certainMs + mean * Math.exp(-(sigma ** 2) / 2 + sigma * 0.8416212335729143)
          expect(timeAt(shape, 0.8416212335729143) / q80).toBeCloseTo(1, 6)
          expect(shapeBelow(shape, q80)).toBeCloseTo(0.8, 4)
        },
      ),
    )
  })

  it('keeps mean, variance and third moment of any sum', () => {
    const time = fc.record({
      meanMs: fc.double({ min: 1, max: 100, noNaN: true }),
      sigma: fc.double({ min: 0.05, max: 0.8, noNaN: true }),
    })
    fc.assert(
      fc.property(fc.array(time, { minLength: 1, maxLength: 20 }), (times) => {
        const sum = sumOf(times.map(({ meanMs, sigma }) => lognormal(meanMs, sigma)))
        const { shiftMs, medianMs, sigma } = shapeOf(sum)
        const own = lognormal(medianMs * Math.exp(sigma ** 2 / 2), sigma)
        expect((own.meanMs + shiftMs) / sum.meanMs).toBeCloseTo(1, 8)
        expect(own.variance / sum.variance).toBeCloseTo(1, 8)
        expect(own.third / sum.third).toBeCloseTo(1, 6)
      }),
    )
  })

  it('is cut into cells that hold all of it', () => {
    const shape = shapeOf(scaled(lognormal(5, 0.4), 3))
    const cells = cellsOf(shape, 4)
    expect(cells.reduce((sum, { weight }) => sum + weight, 0)).toBeCloseTo(1, 12)
    expect(cells.every(({ from, to }, i) => from < to && from === (cells[i - 1]?.to ?? from))).toBe(true)
    expect(cellsOf(shapeOf(lognormal(5, 0)), 4)).toEqual([{ from: 5, to: 5, weight: 1 }])
  })
})
