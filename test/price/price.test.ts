import Decimal from 'decimal.js'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { breakEvenHourMinor, costMinor, margin } from '../../main/trade/cost.ts'
import {
  deliverableKinds,
  type PricedSpin,
  type PriceRow,
  type PriceTerms,
  priceFor,
  priceJob,
} from '../../main/trade/price.ts'

const noTerms: PriceTerms = { breaks: [], rushPpm: 0, discountPpm: 0, fees: [], minimumMinor: 0 }
const cutOut = 4

function aRow(differs: Partial<PriceRow> = {}): PriceRow {
  return {
    sizeClass: 'small',
    finishClassId: null,
    kind: 'frame set',
    rows: 1,
    firstMinor: 9000,
    followingMinor: 6000,
    ...differs,
  }
}

function aSpin(differs: Partial<PricedSpin> = {}): PricedSpin {
  return {
    sizeClass: 'small',
    finishClassId: null,
    rows: 1,
    isFirstOfFamily: false,
    kinds: ['frame set'],
    ...differs,
  }
}

describe('looking up a price', () => {
  it('takes the price of the finish class before the price for any', () => {
    const list = [aRow(), aRow({ finishClassId: cutOut, firstMinor: 15_000 })]
    const wanted = { sizeClass: 'small', kind: 'frame set', rows: 1 } as const
    expect(priceFor(list, { ...wanted, finishClassId: cutOut }).firstMinor).toBe(15_000)
    expect(priceFor(list, { ...wanted, finishClassId: 2 }).firstMinor).toBe(9000)
  })

  it('refuses a case that the list lacks, and makes up no price from other rows', () => {
    const wanted = { sizeClass: 'small', finishClassId: null, kind: 'frame set', rows: 3 } as const
    expect(() => priceFor([aRow()], wanted)).toThrow('frame set of a small product with 3 rows')
    expect(() => priceFor([aRow({ finishClassId: cutOut })], { ...wanted, rows: 1 })).toThrow('one row')
  })
})

describe('the price of a job', () => {
  it('puts spins of one case on one line, first of family and following apart', () => {
    // Added up by hand: 1 × 90.00 + 3 × 60.00 + 1 × 120.00 = 390.00.
    const list = [aRow(), aRow({ kind: 'loop', firstMinor: 12_000, followingMinor: 8000 })]
    const spins = [aSpin({ isFirstOfFamily: true, kinds: ['frame set', 'loop'] }), aSpin(), aSpin(), aSpin()]
    const { lines, netMinor } = priceJob(spins, list, noTerms)
    expect(lines.map((line) => [line.quantityMilli, line.priceMinor, line.netMinor])).toEqual([
      [1000, 9000, 9000],
      [1000, 12_000, 12_000],
      [3000, 6000, 18_000],
    ])
    expect(netMinor).toBe(39_000)
  })

  it('takes volume off, adds rush, takes the discount off, adds fees and fills up to the minimum', () => {
    // By hand: 10 × 60.00 = 600.00; −5 % = −30.00; +25 % of 570.00 = 142.50; −10 % of 712.50 = −71.25; fee 40.00;
    // 681.25 so far, minimum 700.00 adds 18.75. Order of the steps: common practice, no published source.
    const terms: PriceTerms = {
      breaks: [
        { fromSpins: 5, discountPpm: 30_000 },
        { fromSpins: 10, discountPpm: 50_000 },
        { fromSpins: 20, discountPpm: 100_000 },
      ],
      rushPpm: 250_000,
      discountPpm: 100_000,
      fees: [{ text: 'Collection of samples', amountMinor: 4000 }],
      minimumMinor: 70_000,
    }
    const { lines, netMinor } = priceJob(
      Array.from({ length: 10 }, () => aSpin()),
      [aRow()],
      terms,
    )
    expect(lines.map((line) => [line.kind, line.quantityMilli, line.priceMinor, line.netMinor])).toEqual([
      ['spins', 10_000, 6000, 60_000],
      ['volume', -1000, 3000, -3000],
      ['rush', 1000, 14_250, 14_250],
      ['discount', -1000, 7125, -7125],
      ['fee', 1000, 4000, 4000],
      ['minimum', 1000, 1875, 1875],
    ])
    expect(netMinor).toBe(70_000)
  })

  it('adds up to the minor unit, gives every adjustment to the spins, and never falls under the minimum', () => {
    const spin = fc.record({
      sizeClass: fc.constantFrom('small' as const, 'large' as const),
      finishClassId: fc.constantFrom(null, cutOut),
      rows: fc.constant(1),
      isFirstOfFamily: fc.boolean(),
      kinds: fc.uniqueArray(fc.constantFrom(...deliverableKinds), { minLength: 1 }),
    })
    const prices = fc.array(fc.nat(50_000), { minLength: 12, maxLength: 12 })
    const terms = fc.record({
      breaks: fc.array(
        fc.record({ fromSpins: fc.integer({ min: 2, max: 20 }), discountPpm: fc.nat(300_000) }),
        { maxLength: 3 },
      ),
      rushPpm: fc.nat(1_000_000),
      discountPpm: fc.nat(1_000_000),
      fees: fc.array(fc.record({ text: fc.constant('Fee'), amountMinor: fc.nat(10_000) }), { maxLength: 2 }),
      minimumMinor: fc.nat(200_000),
    })
    fc.assert(
      fc.property(fc.array(spin, { minLength: 1, maxLength: 30 }), prices, terms, (spins, ps, t) => {
        const cases = (['small', 'large'] as const).flatMap((sizeClass) =>
          deliverableKinds.map((kind) => ({ sizeClass, kind })),
        )
        const list = cases.map((each, i) =>
          aRow({ ...each, firstMinor: ps[2 * i] ?? 0, followingMinor: ps[2 * i + 1] ?? 0 }),
        )
        const { lines, netMinor } = priceJob(spins, list, t)
        expect(lines.reduce((total, line) => total + line.netMinor, 0)).toBe(netMinor)
        expect(netMinor).toBeGreaterThanOrEqual(t.minimumMinor)
        const fees = t.fees.reduce((total, fee) => total + fee.amountMinor, 0)
        const shared = lines.reduce(
          (total, line) => total + (line.kind === 'spins' ? line.sharedNetMinor : 0),
          0,
        )
        expect(shared).toBe(netMinor - fees)
        for (const line of lines) {
          expect(line.priceMinor).toBeGreaterThanOrEqual(0)
          expect(line.netMinor).toBe(
            new Decimal(line.quantityMilli).mul(line.priceMinor).div(1000).toNumber(),
          )
        }
      }),
    )
  })

  it('of nothing is the minimum', () => {
    expect(priceJob([], [], noTerms)).toEqual({ lines: [], netMinor: 0 })
    expect(priceJob([], [], { ...noTerms, minimumMinor: 5000 }).netMinor).toBe(5000)
  })
})

describe('cost and margin', () => {
  it('turns hours into money once, exactly', () => {
    // Mathematics: 24 min 24 s at 60.00 an hour = 24.40; 10 min at 45.00 = 7.50; and 12.00 bought in.
    const rates = { benchHourMinor: 6000, deskHourMinor: 4500, secondHourMinor: 2400 }
    expect(costMinor(1_464_000, 600_000, rates, 1200)).toBe(2440 + 750 + 1200)
    // Half a minor unit in each of two parts is one whole, where rounding each would give two.
    expect(costMinor(1800, 1800, { benchHourMinor: 1000, deskHourMinor: 1000, secondHourMinor: 0 }, 0)).toBe(
      1,
    )
  })

  it('states the margin as a part of the price', () => {
    // Mathematics: (100.00 − 75.00) / 100.00 = 25 %; a price of 80.00 at a cost of 100.00 loses 25 % of itself.
    expect(margin(10_000, 7500)).toEqual({ marginMinor: 2500, marginPpm: 250_000 })
    expect(margin(8000, 10_000)).toEqual({ marginMinor: -2000, marginPpm: -250_000 })
    expect(margin(0, 10_000)).toEqual({ marginMinor: -10_000, marginPpm: null })
  })
})

describe('the break-even rate', () => {
  it('is what is left after what is bought in, over all hours', () => {
    // By hand: (1000.00 − 100.00) ÷ 7.5 h = 120.00 an hour; 100.00 ÷ 3 h = 33.33.
    expect(breakEvenHourMinor(100_000, 10_000, 7.5 * 3_600_000)).toBe(12_000)
    expect(breakEvenHourMinor(10_000, 0, 3 * 3_600_000)).toBe(3333)
  })

  it('is the studio’s own rate where the price is just the cost, and below 0 where bought-in things eat it', () => {
    const rates = { benchHourMinor: 5500, deskHourMinor: 5500, secondHourMinor: 0 }
    const price = costMinor(7_200_000, 3_600_000, rates, 2500)
    expect(breakEvenHourMinor(price, 2500, 10_800_000)).toBe(5500)
    expect(breakEvenHourMinor(1000, 5000, 3_600_000)).toBe(-4000)
    expect(breakEvenHourMinor(1000, 0, 0)).toBeNull()
  })
})
