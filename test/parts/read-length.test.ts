import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { Refusal } from '../../main/trade/refusal.ts'
import { readLength } from '../../renderer/parts/readLength.ts'

describe('a typed length', () => {
  it('is taken in millimetres where no unit is typed', () => {
    expect(readLength('80', 3, 'The width')).toBe(80_000)
    expect(readLength(' 1,220 mm ', 4, 'The rim')).toBe(12_200_000)
    expect(readLength('80,5', 3, 'The width')).toBe(80_500)
  })

  it('is turned into millimetres exactly', () => {
    // 1 in = 25.4 mm exactly (international yard and pound agreement, 1959).
    expect(readLength('5 in', 3, 'The width')).toBe(127_000)
    expect(readLength('5"', 3, 'The width')).toBe(127_000)
    expect(readLength('12 CM', 3, 'The width')).toBe(120_000)
  })

  it('is refused where it is finer than what is kept, and where it is no length', () => {
    expect(() => readLength('80.0005', 3, 'The width')).toThrow('more than 3 places')
    expect(() => readLength('wide', 3, 'The width')).toThrow(Refusal)
    expect(() => readLength('mm', 3, 'The width')).toThrow(Refusal)
  })

  it('comes back as it was written, whatever its size', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 10_000_000 }), (um) => {
        const text = `${Math.floor(um / 1000)}.${String(um % 1000).padStart(3, '0')}`
        expect(readLength(text, 3, 'The width')).toBe(um)
      }),
    )
  })
})
