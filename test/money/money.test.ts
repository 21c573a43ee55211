import currencyCodesOf2024 from 'currency-codes'
import Decimal from 'decimal.js'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { currencyCodes, minorDigits } from '../../main/trade/currency.ts'
import {
  allocate,
  cashRoundingMinor,
  formatMilli,
  formatMoney,
  formatPercent,
  lineNetMinor,
  parseMilli,
  parseMoney,
  parsePercent,
  plainMoney,
  shareMinor,
  taxMinor,
} from '../../main/trade/money.ts'

describe('line nets', () => {
  it('rounds once, a half away from zero, where doubles go wrong', () => {
    // EN 16931-1 line net = quantity × price ÷ base; values by decimal arithmetic. Doubles give
    // (1.005).toFixed(2) = 1.00 and 19.99 × 7 = 139.92999….
    expect(lineNetMinor(1000, 1005, 10_000)).toBe(101)
    expect(lineNetMinor(-1000, 1005, 10_000)).toBe(-101)
    expect(lineNetMinor(7000, 1999)).toBe(13_993)
    expect(lineNetMinor(244_000, 1250, 100_000)).toBe(3050)
    expect(lineNetMinor(2500, 6550)).toBe(16_375)
  })

  it('equals decimal arithmetic for any quantity, price and base', () => {
    const quantity = fc.integer({ min: -(10 ** 9), max: 10 ** 9 })
    const base = fc.integer({ min: 1, max: 10 ** 7 })
    fc.assert(
      fc.property(quantity, fc.integer({ min: -(10 ** 8), max: 10 ** 8 }), base, (q, price, per) => {
        // decimal.js ROUND_HALF_UP rounds away from zero.
        const exact = new Decimal(q).mul(price).div(per)
        fc.pre(exact.abs().lt(Number.MAX_SAFE_INTEGER))
        const expected = exact.toDecimalPlaces(0, Decimal.ROUND_HALF_UP).toNumber()
        expect(lineNetMinor(q, price, per)).toBe(expected === 0 ? 0 : expected)
      }),
      { numRuns: 500 },
    )
  })

  it('refuses a base of 0, a fraction of a minor unit and an amount past exactness', () => {
    expect(() => lineNetMinor(1000, 100, 0)).toThrow('more than 0')
    expect(() => lineNetMinor(1000, 0.5)).toThrow('not a whole number')
    expect(() => lineNetMinor(10 ** 15, 10 ** 15)).toThrow('too large')
  })
})

describe('tax and shares', () => {
  it('takes a rate in parts per million', () => {
    // Worked invoices by decimal arithmetic, valid by the EN 16931 validation artefacts v1.3.16.
    expect(taxMinor(68_056, 250_000)).toBe(17_014)
    expect(taxMinor(13_993, 120_000)).toBe(1679)
    expect(taxMinor(6993, 210_000)).toBe(1469)
    expect(shareMinor(70_375, 50_000)).toBe(3519)
    expect(taxMinor(-6993, 210_000)).toBe(-1469)
  })
})

describe('sharing out an amount', () => {
  it('gives the largest remainders the last units, ties to the earlier', () => {
    // Hamilton's method; the seats are the published 1790 example on electowiki.org, Hamilton_method.
    const states = [
      630560, 475327, 432879, 353523, 331589, 278514, 236841, 206236, 179570, 141822, 85533, 70835, 68705,
      68446, 55540,
    ]
    expect(allocate(60, states)).toEqual([11, 8, 7, 6, 6, 5, 4, 3, 3, 2, 1, 1, 1, 1, 1])
    // Mathematics; agrees with the package hare-niemeyer 3.0.0.
    expect(allocate(100, [1, 1, 1])).toEqual([34, 33, 33])
    expect(allocate(80_742, [54_000, 16_375, 13_993])).toEqual([51_679, 15_671, 13_392])
    expect(allocate(5, [3, 7])).toEqual([2, 3])
    expect(allocate(100, [0, 1, 2])).toEqual([0, 33, 67])
  })

  it('always adds up, stays within one unit of each true share, and mirrors for credit notes', () => {
    const weights = fc
      .array(fc.nat(10 ** 7), { minLength: 1, maxLength: 30 })
      .filter((w) => w.some((x) => x > 0))
    fc.assert(
      fc.property(fc.integer({ min: -(10 ** 10), max: 10 ** 10 }), weights, (total, ws) => {
        const parts = allocate(total, ws)
        expect(parts.reduce((a, b) => a + b, 0)).toBe(total)
        const sum = ws.reduce((a, b) => a + b, 0)
        parts.forEach((part, index) => {
          expect(
            new Decimal(total)
              .mul(ws[index] ?? 0)
              .div(sum)
              .sub(part)
              .abs()
              .lt(1),
          ).toBe(true)
        })
        expect(allocate(-total, ws)).toEqual(parts.map((part) => (part === 0 ? 0 : -part)))
      }),
    )
  })

  it('refuses weights that cannot carry anything', () => {
    expect(() => allocate(10, [])).toThrow('weights')
    expect(() => allocate(10, [0, 0])).toThrow('weights')
    expect(() => allocate(10, [2, -1])).toThrow('weights')
  })
})

describe('currencies', () => {
  it('has the minor units of ISO 4217', () => {
    // ISO 4217 as in the package currency-codes 2.2.0, whose table is of 2024-06-25: since then ANG became
    // XCG (2025), and Bulgaria took the euro (BGN, 2026) and CUC had ended (2021). X… codes of metals and
    // of funds of banks have no minor unit.
    const old = currencyCodesOf2024.data.filter(
      ({ code }) =>
        !/^X(AG|AU|BA|BB|BC|BD|DR|PD|PT|SU|TS|UA|XX)$/u.test(code) && !/^(ANG|BGN|CUC)$/u.test(code),
    )
    for (const { code, digits } of old) expect([code, minorDigits(code)]).toEqual([code, digits])
    expect(currencyCodes.filter((code) => !old.some((known) => known.code === code))).toEqual(['XCG'])
    expect(minorDigits('XCG')).toBe(2)
  })

  it('refuses a code that is none', () => {
    for (const code of ['EURO', 'eur', '', 'ABC']) expect(() => minorDigits(code)).toThrow('ISO 4217')
  })
})

describe('amounts on screen', () => {
  it('writes as many digits as the currency has, also where Intl would drop them', () => {
    // ISO 4217: HUF 2, JPY 0, KWD 3. Signs and grouping: Unicode CLDR for the locale.
    expect(formatMoney(123_450, 'EUR', 'en-GB')).toBe('€1,234.50')
    expect(formatMoney(123_450, 'HUF', 'en-GB')).toBe('HUF\u00a01,234.50')
    expect(formatMoney(1234, 'JPY', 'en-GB')).toBe('JP¥1,234')
    expect(formatMoney(1_234_500, 'KWD', 'en-GB')).toBe('KWD\u00a01,234.500')
    expect(formatMoney(-5, 'GBP', 'en-GB')).toBe('−£0.05')
    expect(formatMoney(-123_450, 'EUR', 'de-DE')).toBe('−1.234,50\u00a0€')
    expect(formatMoney(9_007_199_254_740_991, 'EUR', 'en-GB')).toBe('€90,071,992,547,409.91')
  })

  it('writes plainly for machines', () => {
    expect(plainMoney(123_450, 'EUR')).toBe('1234.50')
    expect(plainMoney(-5, 'EUR')).toBe('-0.05')
    expect(plainMoney(52, 'JPY')).toBe('52')
  })

  it('reads amounts as they are typed', () => {
    for (const text of ['1,234.50', '1.234,50', '1234.5', '€1,234.50', 'EUR 1234,5', '1 234,50 EUR']) {
      expect(parseMoney(text, 'EUR'), text).toBe(123_450)
    }
    expect(parseMoney('52', 'EUR')).toBe(5200)
    expect(parseMoney('1,234', 'JPY')).toBe(1234)
    for (const text of ['', 'fifty', '12.5.0', 'USD 5', '5 %']) {
      expect(() => parseMoney(text, 'EUR'), text).toThrow('The amount')
    }
  })

  it('refuses an amount that can be read in two ways, and says how to write either', () => {
    // A point parts thousands in German and decimals in English, a comma the other way round (Unicode CLDR).
    for (const text of ['2.000', '2,000', '−2.000', 'EUR 2.000', '12.345']) {
      expect(() => parseMoney(text, 'EUR'), text).toThrow('can be read in two ways')
    }
    expect(() => parseMoney('2.000', 'EUR')).toThrow(
      'Write 2000 for the larger one, or 2.00 for the smaller.',
    )
    expect(() => parseMoney('2,000', 'KWD')).toThrow(
      'Write 2000 for the larger one, or 2.000 for the smaller.',
    )
    for (const [text, minor] of [
      ['2000', 200_000],
      ['2 000', 200_000],
      ['2.000,00', 200_000],
      ['2,000.00', 200_000],
      ['2.00', 200],
      ['1.234.567', 123_456_700],
    ] as const) {
      expect(parseMoney(text, 'EUR'), text).toBe(minor)
    }
    // ISO 4217: the yen has no minor unit, the Kuwaiti dinar one of three places.
    expect(parseMoney('2.000', 'JPY')).toBe(2000)
    expect(parseMoney('2.000', 'KWD')).toBe(2000)
  })

  it('reads back every amount it writes plainly', () => {
    fc.assert(
      fc.property(fc.maxSafeInteger(), fc.constantFrom('EUR', 'JPY', 'KWD', 'CLF'), (minor, currency) => {
        expect(parseMoney(plainMoney(minor, currency), currency)).toBe(minor)
      }),
    )
  })

  it('reads and writes quantities and percentages exactly', () => {
    expect(parseMilli('2.5')).toBe(2500)
    expect(parseMilli('2,5')).toBe(2500)
    expect(formatMilli(2500)).toBe('2.5')
    expect(parsePercent('19 %')).toBe(190_000)
    expect(parsePercent('7.7')).toBe(77_000)
    expect(formatPercent(77_000)).toBe('7.7 %')
    expect(() => parseMilli('0.0005')).toThrow('at most 3')
  })
})

describe('rounding to coins', () => {
  it('goes to the nearest coin, a half away from zero', () => {
    // decimal.js, toNearest with ROUND_HALF_UP; coins of 0.05, 0.10, 0.50 and 1.00.
    fc.assert(
      fc.property(fc.integer({ min: -1e9, max: 1e9 }), fc.constantFrom(5, 10, 50, 100), (due, coin) => {
        const nearest = new Decimal(due).toNearest(coin, Decimal.ROUND_HALF_UP).toNumber()
        expect(due + cashRoundingMinor(due, coin)).toBe(nearest + 0)
      }),
    )
    expect(cashRoundingMinor(10_003, 5)).toBe(2)
    expect(cashRoundingMinor(10_002, 5)).toBe(-2)
    expect(cashRoundingMinor(10_003, null)).toBe(0)
  })
})
