import Decimal from 'decimal.js'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { formatLength, mmFromUm10, um10From, um10FromMm, um10FromText } from '../../main/trade/length.ts'

describe('lengths in tenths of a micrometre', () => {
  it('holds every length of up to four places of a millimetre exactly', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 10 ** 12 }), (um10) => {
        // Reference: decimal.js; its number is the double nearest to the decimal a person types.
        expect(um10FromMm(new Decimal(um10).div(10_000).toNumber(), 'The rim')).toBe(um10)
        expect(um10FromText(formatLength(um10).replace(' mm', ''), 'mm', 'The rim')).toBe(um10)
        expect(mmFromUm10(um10)).toBe(new Decimal(um10).div(10_000).toNumber())
      }),
    )
  })

  it('divides by steps without the misses of floating point', () => {
    // Mathematics: 47 ÷ 0.5 = 94 and 10.06 ÷ 0.02 = 503, where doubles give 0.47/0.005 = 93.99… and
    // 100.6/0.2 = 502.99….
    expect(um10FromMm(470, 'The rim') % um10FromMm(5, 'The step')).toBe(0)
    expect(um10From(100.6, 'cm', 'The rim') / um10From(0.2, 'cm', 'The step')).toBe(503)
    expect(Math.floor(0.47 / 0.005)).toBe(93)
  })

  it('converts inches and centimetres by their definitions', () => {
    // 1 in = 25.4 mm exactly (international yard and pound agreement, 1959).
    expect(um10From(1, 'in', 'The width')).toBe(254_000)
    expect(um10From(2, 'in', 'The step')).toBe(um10FromMm(50.8, 'The step'))
    expect(um10From(3.5, 'in', 'The width')).toBe(um10FromMm(88.9, 'The width'))
    expect(um10From(0.001, 'in', 'The width')).toBe(254)
    expect(um10From(122, 'cm', 'The rim')).toBe(um10FromMm(1220, 'The rim'))
    expect(um10FromText('12,5', 'cm', 'The width')).toBe(um10FromMm(125, 'The width'))
  })

  it('refuses what cannot be held, naming the length', () => {
    expect(() => um10FromMm(Number.NaN, 'The rim')).toThrow('The rim is not a number')
    expect(() => um10FromMm(Number.POSITIVE_INFINITY, 'The rim')).toThrow('The rim')
    expect(() => um10FromMm('12' as unknown as number, 'The rim')).toThrow('The rim is not a number')
    expect(() => um10FromMm(0.00001, 'The step')).toThrow('The step')
    expect(() => um10FromMm(0.00015, 'The step')).toThrow('The step')
    expect(() => um10FromMm(1e22, 'The step')).toThrow('The step')
    expect(() => um10From(0.0001, 'in', 'The width')).toThrow('tenths of a micrometre')
    expect(() => um10FromText('about 12', 'mm', 'The width')).toThrow("The width, 'about 12'")
  })

  it('is shown in millimetres with its unit', () => {
    expect(formatLength(12_200_000)).toBe('1,220 mm')
    expect(formatLength(50_000)).toBe('5 mm')
    expect(formatLength(5000)).toBe('0.5 mm')
    expect(formatLength(-12_345)).toBe('−1.2345 mm')
  })
})
