import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { checkedGtin, gtinCheckDigit, isGtin } from '../../main/trade/gtin.ts'

describe('article numbers', () => {
  it('have the check digits of GS1’s own examples', () => {
    // gs1.org, How to calculate a check digit manually: 629104150021 → 3; gs1india.org checkdgt: 890400021003 → 7;
    // gs1.se: 730001100001 → 7.
    expect(gtinCheckDigit('629104150021')).toBe(3)
    expect(gtinCheckDigit('890400021003')).toBe(7)
    expect(gtinCheckDigit('730001100001')).toBe(7)
  })

  it('are taken at 8, 12, 13 and 14 digits, and refused with a wrong digit', () => {
    // Agree with the package gtin 1.0.2.
    for (const gtin of [
      '96385074',
      '73513537',
      '036000291452',
      '614141999996',
      '4006381333931',
      '9501101530003',
      '10614141543219',
      '98412345678908',
    ]) {
      expect(checkedGtin(gtin)).toBe(gtin)
      expect(isGtin(gtin)).toBe(true)
    }
    expect(checkedGtin('40 0638 133393-1')).toBe('4006381333931')
    expect(() => checkedGtin('4006381333932')).toThrow('should be 1')
    expect(() => checkedGtin('036000291453')).toThrow('should be 2')
    expect(['036000291453', '40 06381333931', '123', ''].map(isGtin)).toEqual([false, false, false, false])
  })

  it('that a spreadsheet has rounded are refused with the way out', () => {
    expect(() => checkedGtin('4,00638E+12')).toThrow('Format the column as text')
    expect(() => checkedGtin('40063813339')).toThrow('8, 12, 13 or 14 digits')
    expect(() => checkedGtin('')).toThrow('no article number')
  })

  it('show every single wrong digit', () => {
    // GS1: the check digit finds all single errors.
    const digits = fc.string({ minLength: 12, maxLength: 12, unit: fc.constantFrom(...'0123456789') })
    fc.assert(
      fc.property(digits, fc.nat(11), fc.integer({ min: 1, max: 9 }), (text, at, by) => {
        const changed = text.slice(0, at) + ((Number(text[at]) + by) % 10) + text.slice(at + 1)
        expect(gtinCheckDigit(changed)).not.toBe(gtinCheckDigit(text))
      }),
    )
  })
})
