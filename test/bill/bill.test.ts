import Decimal from 'decimal.js'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { BillAdjustment, BillLine, TaxCategory } from '../../main/trade/bill.ts'
import { billTotals, taxCategories } from '../../main/trade/bill.ts'
import { shareMinor } from '../../main/trade/money.ts'

const percent = 10_000

function line(quantityMilli: number, priceMinor: number, ratePercent: number, baseMilli = 1000): BillLine {
  return { quantityMilli, priceMinor, baseMilli, category: 'S', ratePpm: ratePercent * percent }
}

// Four invoices worked by decimal arithmetic; written as UBL they were valid by the OASIS UBL 2.1 schema and
// broke no rule of the EN 16931 validation artefacts v1.3.16 (ConnectingEurope/eInvoicing-EN16931).
describe('invoices that pass the EN 16931 validation', () => {
  it('adds up two rates, an allowance, a charge and a prepayment', () => {
    const totals = billTotals({
      lines: [line(3000, 18_000, 25), line(2500, 6550, 25), line(7000, 1999, 12)],
      allowances: [{ amountMinor: shareMinor(70_375, 5 * percent), category: 'S', ratePpm: 25 * percent }],
      charges: [{ amountMinor: 1200, category: 'S', ratePpm: 25 * percent }],
      prepaidMinor: 20_000,
    })
    expect(totals).toEqual({
      lineNets: [54_000, 16_375, 13_993],
      netMinor: 84_368,
      allowanceMinor: 3519,
      chargeMinor: 1200,
      taxExclusiveMinor: 82_049,
      taxes: [
        { category: 'S', ratePpm: 250_000, name: '', baseMinor: 68_056, taxMinor: 17_014 },
        { category: 'S', ratePpm: 120_000, name: '', baseMinor: 13_993, taxMinor: 1679 },
      ],
      taxTotalMinor: 18_693,
      taxInclusiveMinor: 100_742,
      prepaidMinor: 20_000,
      roundingMinor: 0,
      payableMinor: 80_742,
    })
  })

  it('works out tax on the sum of the lines, not line by line', () => {
    // 7 × 9.99 at 21 %: 14.69; adding up per line would give 14.70.
    const totals = billTotals({ lines: Array.from({ length: 7 }, () => line(1000, 999, 21)) })
    expect(totals.taxes).toEqual([
      { category: 'S', ratePpm: 210_000, name: '', baseMinor: 6993, taxMinor: 1469 },
    ])
    expect(totals.payableMinor).toBe(8462)
  })

  it('takes prices finer than the minor unit by their base quantity, and a rounding', () => {
    // 82 × 0.3333 is 82 at 33.33 per 100; 244 at 12.50 per 100; payable rounded up by 0.02.
    const totals = billTotals({
      lines: [line(82_000, 3333, 20, 100_000), line(1250, 4790, 20), line(244_000, 1250, 20, 100_000)],
      roundingMinor: 2,
    })
    expect(totals.lineNets).toEqual([2733, 5988, 3050])
    expect([totals.netMinor, totals.taxTotalMinor, totals.taxInclusiveMinor]).toEqual([11_771, 2354, 14_125])
    expect(totals.payableMinor).toBe(14_127)
  })

  it('rounds halves away from zero where doubles round down', () => {
    // 1 × 1.005 and 3 × 0.335, as 10.05 and 3.35 per 10.
    const totals = billTotals({ lines: [line(1000, 1005, 20, 10_000), line(3000, 335, 20, 10_000)] })
    expect(totals.lineNets).toEqual([101, 101])
    expect([totals.netMinor, totals.taxTotalMinor, totals.payableMinor]).toEqual([202, 40, 242])
  })
})

const taxed = fc.oneof(
  fc
    .constantFrom(5, 7, 7.7, 12, 19, 20, 21, 25)
    .map((rate) => ({ category: 'S' as TaxCategory, ratePpm: rate * percent })),
  fc
    .constantFrom(...taxCategories.filter((c) => c !== 'S' && c !== 'O'))
    .map((category) => ({ category, ratePpm: 0 })),
)
const anyLine: fc.Arbitrary<BillLine> = fc
  .tuple(
    taxed,
    fc.integer({ min: -50_000, max: 500_000 }),
    fc.nat(500_000),
    fc.constantFrom(1, 1000, 3000, 10_000, 100_000),
  )
  .map(([tax, quantityMilli, priceMinor, baseMilli]) => ({ ...tax, quantityMilli, priceMinor, baseMilli }))
const adjustments: fc.Arbitrary<BillAdjustment[]> = fc.array(
  fc.tuple(taxed, fc.nat(50_000)).map(([tax, amountMinor]) => ({ ...tax, amountMinor })),
  { maxLength: 4 },
)

describe('any document', () => {
  it('keeps the calculation rules of EN 16931-1 to the minor unit', () => {
    const draft = fc.record({
      lines: fc.array(anyLine, { minLength: 1, maxLength: 25 }),
      allowances: adjustments,
      charges: adjustments,
      prepaidMinor: fc.nat(100_000),
      roundingMinor: fc.integer({ min: -50, max: 50 }),
    })
    fc.assert(
      fc.property(draft, (d) => {
        const totals = billTotals(d)
        // Reference: the rules' own texts in decimal arithmetic (EN 16931 validation artefacts v1.3.16).
        const net = (l: BillLine) => round(new Decimal(l.quantityMilli).mul(l.priceMinor).div(l.baseMilli))
        const sumOf = (all: readonly { amountMinor: number }[]) =>
          Decimal.sum(0, ...all.map((a) => a.amountMinor))
        const bt106 = Decimal.sum(0, ...d.lines.map(net))
        const bt109 = bt106.sub(sumOf(d.allowances)).add(sumOf(d.charges))
        expect(totals.netMinor, 'BR-CO-10').toBe(bt106.toNumber())
        expect(totals.allowanceMinor, 'BR-CO-11').toBe(sumOf(d.allowances).toNumber())
        expect(totals.chargeMinor, 'BR-CO-12').toBe(sumOf(d.charges).toNumber())
        expect(totals.taxExclusiveMinor, 'BR-CO-13').toBe(bt109.toNumber())

        let bt110 = new Decimal(0)
        for (const tax of totals.taxes) {
          const same = (t: { category: string; ratePpm: number }) =>
            t.category === tax.category && t.ratePpm === tax.ratePpm
          const base = Decimal.sum(0, ...d.lines.filter(same).map(net))
            .add(sumOf(d.charges.filter(same)))
            .sub(sumOf(d.allowances.filter(same)))
          expect(tax.baseMinor, 'BR-S-08').toBe(base.toNumber())
          const due = round(base.mul(tax.ratePpm).div(1_000_000))
          expect(tax.taxMinor, 'BR-CO-17').toBe(due.toNumber())
          bt110 = bt110.add(due)
        }
        expect(totals.taxTotalMinor, 'BR-CO-14').toBe(bt110.toNumber())
        expect(totals.taxInclusiveMinor, 'BR-CO-15').toBe(bt109.add(bt110).toNumber())
        expect(totals.payableMinor, 'BR-CO-16').toBe(
          bt109.add(bt110).sub(d.prepaidMinor).add(d.roundingMinor).toNumber(),
        )
      }),
      { numRuns: 300 },
    )
  })

  it('gives a credit note the mirrored totals of its invoice', () => {
    fc.assert(
      fc.property(fc.array(anyLine, { minLength: 1, maxLength: 12 }), (lines) => {
        const invoice = billTotals({ lines })
        const credit = billTotals({ lines: lines.map((l) => ({ ...l, quantityMilli: -l.quantityMilli })) })
        expect(credit.payableMinor + invoice.payableMinor).toBe(0)
        expect(credit.taxTotalMinor + invoice.taxTotalMinor).toBe(0)
      }),
    )
  })

  it('takes off and puts on a line what belongs to it alone, once it is rounded', () => {
    // EN 16931-1: BT-131 is quantity × price ÷ base, less BG-27, with BG-28; decimal.js ROUND_HALF_UP.
    const favour = fc.record({ allowanceMinor: fc.nat(5000), chargeMinor: fc.nat(5000) })
    fc.assert(
      fc.property(fc.array(fc.tuple(anyLine, favour), { minLength: 1, maxLength: 12 }), (pairs) => {
        const lines = pairs.map(([of, off]) => ({ ...of, ...off }))
        const { lineNets, netMinor, taxes } = billTotals({ lines })
        const nets = lines.map((l) =>
          round(new Decimal(l.quantityMilli).mul(l.priceMinor).div(l.baseMilli))
            .sub(l.allowanceMinor)
            .add(l.chargeMinor)
            .toNumber(),
        )
        expect(lineNets).toEqual(nets)
        expect(taxes.reduce((sum, { baseMinor }) => sum + baseMinor, 0)).toBe(netMinor)
      }),
    )
  })

  it('refuses rates and categories that contradict each other', () => {
    // EN 16931-1: BR-S-05 (rate above 0), BR-AE-05 (rate 0), BR-O-11 (O stands alone), BR-27 (price not below 0).
    expect(() => billTotals({ lines: [line(1000, 100, 0)] })).toThrow('standard rate cannot be 0')
    expect(() => billTotals({ lines: [{ ...line(1000, 100, 19), category: 'AE' }] })).toThrow('bears no tax')
    expect(() =>
      billTotals({ lines: [line(1000, 100, 19), { ...line(1000, 100, 0), category: 'O' }] }),
    ).toThrow('two documents')
    expect(() => billTotals({ lines: [line(1000, -100, 19)] })).toThrow('below 0')
    expect(() => billTotals({ lines: [line(1000, 100, 101)] })).toThrow('between 0 and 100')
  })
})

describe('a sales tax of several names', () => {
  const state = { name: 'State', ratePpm: 40_000 }
  const county = { name: 'County', ratePpm: 22_500 }
  const city = { name: 'City', ratePpm: 8750 }
  const both = { category: 'S' as const, ratePpm: 62_500, namedRates: [state, county] }

  it('is worked out and rounded once for each name, on all that bears it', () => {
    // By hand: State 4 % of 102.05 is 4.082, so 4.08; County 2.25 % of 72.05 is 1.621125, so 1.62; City 0.875 % of 30.00
    // is 0.2625, so 0.26. The rates of a line taken together would give 4.50 and 1.46.
    const totals = billTotals({
      lines: [
        { ...line(1000, 7205, 1), ...both },
        { ...line(1000, 3000, 1), ratePpm: 48_750, namedRates: [state, city] },
      ],
    })
    expect(totals.taxes).toEqual([
      { category: 'S', ratePpm: 40_000, name: 'State', baseMinor: 10_205, taxMinor: 408 },
      { category: 'S', ratePpm: 22_500, name: 'County', baseMinor: 7205, taxMinor: 162 },
      { category: 'S', ratePpm: 8750, name: 'City', baseMinor: 3000, taxMinor: 26 },
    ])
    expect([totals.taxTotalMinor, totals.taxInclusiveMinor]).toEqual([596, 10_801])
  })

  it('comes to the sum of its names on any document', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.integer({ min: -5000, max: 50_000 }), fc.nat(99_999)), { minLength: 1 }),
        fc.uniqueArray(fc.integer({ min: 1, max: 99_999 }), { minLength: 1, maxLength: 4 }),
        (priced, rates) => {
          const namedRates = rates.map((ratePpm, index) => ({ name: `Part ${index}`, ratePpm }))
          const ratePpm = rates.reduce((a, b) => a + b, 0)
          const lines = priced.map(([quantity, price]) => ({
            ...line(quantity, price, 1),
            ratePpm,
            namedRates,
          }))
          const totals = billTotals({ lines })
          const due = rates.map((rate) => round(new Decimal(totals.netMinor).mul(rate).div(1_000_000)))
          expect(totals.taxTotalMinor).toBe(Decimal.sum(0, ...due).toNumber())
          expect(totals.taxes).toHaveLength(rates.length)
        },
      ),
    )
  })

  it('is refused where its names do not add up to it, are the same or are missing', () => {
    const bill = (ratePpm: number, namedRates: readonly { name: string; ratePpm: number }[]) => () =>
      billTotals({ lines: [{ ...line(1000, 100, 1), ratePpm, namedRates }] })
    expect(bill(62_000, [state, county])).toThrow('come to 6.25 %, but the whole is 6.2 %')
    expect(bill(80_000, [state, state])).toThrow('the same name')
    expect(bill(40_000, [{ name: ' ', ratePpm: 40_000 }])).toThrow('has a name')
    expect(() =>
      billTotals({ lines: [{ ...line(1000, 100, 1), category: 'Z', ratePpm: 0, namedRates: [state] }] }),
    ).toThrow('bears no tax')
  })
})

function round(value: Decimal): Decimal {
  // decimal.js ROUND_HALF_UP rounds away from zero; adding 0 turns −0 into 0.
  return value.toDecimalPlaces(0, Decimal.ROUND_HALF_UP).add(0)
}
