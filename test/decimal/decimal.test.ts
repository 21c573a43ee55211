import Decimal from 'decimal.js'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { formatDecimal, readDecimal } from '../../main/trade/decimal.ts'

describe('reading a typed decimal', () => {
  it('takes the ways in which people write the same number', () => {
    // The two decimal marks and their thousands separators: common practice, no published source.
    for (const text of ['1234.5', '1,234.5', '1.234,5', '1 234,50', "1'234.5", ' +1234.500 ']) {
      expect(readDecimal(text, 2, 'The price'), text).toBe(123_450)
    }
    expect(readDecimal('1.234.567', 0, 'The price')).toBe(1_234_567)
    expect(readDecimal('.5', 1, 'The step')).toBe(5)
    expect(readDecimal('−3', 0, 'The discount')).toBe(-3)
  })

  it('takes a comma before three digits for thousands, and for the mark where the text is German', () => {
    expect(readDecimal('1,220', 4, 'The rim')).toBe(12_200_000)
    expect(readDecimal('0,125', 4, 'The step')).toBe(1250)
    expect(readDecimal('1,220', 4, 'The rim', ',')).toBe(12_200)
    expect(readDecimal('1.220', 4, 'The rim', ',')).toBe(12_200_000)
  })

  it('refuses nonsense, saying what was typed', () => {
    for (const text of ['', 'abc', '1.2.3', '1,23,456', '12 kg', '1e3', '.', '--1', 'NaN', '1,2345.6', '٣']) {
      expect(() => readDecimal(text, 2, 'The price'), text).toThrow(/The price/u)
    }
    expect(() => readDecimal('1.005', 2, 'The price')).toThrow(
      'has 3 digits after the decimal mark; at most 2',
    )
    expect(() => readDecimal('90071992547409.92', 2, 'The price')).toThrow('too large')
  })

  it('reads back whatever it writes, exactly as decimal arithmetic has it', () => {
    fc.assert(
      fc.property(fc.maxSafeInteger(), fc.nat(6), (units, places) => {
        const text = formatDecimal(units, places)
        expect(readDecimal(text, places, 'It')).toBe(units)
        const plain = text.replaceAll(',', '').replace('−', '-')
        expect(new Decimal(plain).eq(new Decimal(units).div(new Decimal(10).pow(places)))).toBe(true)
      }),
    )
  })
})
