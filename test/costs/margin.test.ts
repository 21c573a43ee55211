import Decimal from 'decimal.js'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { marginAfter } from '../../main/trade/margin.ts'

const hour = 3_600_000
const rates = { benchHourMinor: 6500, deskHourMinor: 4500, secondHourMinor: 3000 }

describe('the margin after all', () => {
  it('is the price less every cost and the hours at the studio’s rates', () => {
    const costs = [
      { plannedMinor: 12_000, actualMinor: 13_550 },
      { plannedMinor: 4000, actualMinor: null },
      { plannedMinor: null, actualMinor: 990 },
    ]
    const hours = { benchMs: 6 * hour, deskMs: 2.5 * hour, secondMs: hour }
    // By hand: 6 × 65.00 + 2.5 × 45.00 + 30.00 = 532.50; 135.50 + 40.00 + 9.90 = 185.40; 1,000.00 − 717.90.
    expect(marginAfter(100_000, costs, hours, rates)).toEqual({
      priceMinor: 100_000,
      hoursMinor: 53_250,
      costsMinor: 18_540,
      stillPlannedMinor: 4000,
      marginMinor: 28_210,
      marginPpm: 282_100,
    })
  })

  it('adds up to the price, and a receipt takes the place of its plan', () => {
    const amount = fc.integer({ min: 0, max: 10_000_000 })
    const aCost = fc.record({
      plannedMinor: fc.option(amount, { nil: null }),
      actualMinor: fc.option(amount, { nil: null }),
    })
    const ms = fc.integer({ min: 0, max: 400 * hour })
    fc.assert(
      fc.property(fc.array(aCost), amount, ms, ms, ms, (costs, price, benchMs, deskMs, secondMs) => {
        const after = marginAfter(price, costs, { benchMs, deskMs, secondMs }, rates)
        expect(after.marginMinor + after.hoursMinor + after.costsMinor).toBe(price)
        const paid = costs.map((cost) => ({ ...cost, plannedMinor: null }))
        expect(after.costsMinor - after.stillPlannedMinor).toBe(
          marginAfter(price, paid, { benchMs, deskMs, secondMs }, rates).costsMinor,
        )
        const hours = new Decimal(benchMs)
          .times(rates.benchHourMinor)
          .plus(new Decimal(deskMs).times(rates.deskHourMinor))
          .plus(new Decimal(secondMs).times(rates.secondHourMinor))
          .div(hour)
        expect(after.hoursMinor).toBe(hours.toDecimalPlaces(0, Decimal.ROUND_HALF_UP).toNumber())
      }),
    )
  })
})
