import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type ProductSize, sizeClassOf, sweptWidthMm } from '../../main/trade/product.ts'

function aSize(differs: Partial<ProductSize> = {}): ProductSize {
  return { plan: 'box', widthMm: 300, depthMm: 400, heightMm: 100, sweptMm: null, ...differs }
}

describe('the swept width', () => {
  it('is the diagonal of a box, the diameter of round goods, and the reading where it was measured', () => {
    // Pythagoras: 300² + 400² = 500².
    expect(sweptWidthMm(aSize())).toBe(500)
    expect(sweptWidthMm(aSize({ plan: 'round', widthMm: 80, depthMm: 80 }))).toBe(80)
    expect(sweptWidthMm(aSize({ plan: 'measured', sweptMm: 430 }))).toBe(430)
    expect(sweptWidthMm(aSize({ depthMm: null }))).toBeNull()
  })

  it('of a box is never less than of the round goods that fit it, nor more than their sides together', () => {
    const side = fc.integer({ min: 1, max: 5000 })
    fc.assert(
      fc.property(side, side, (widthMm, depthMm) => {
        const box = sweptWidthMm(aSize({ widthMm, depthMm })) ?? 0
        expect(box).toBeGreaterThanOrEqual(sweptWidthMm(aSize({ plan: 'round', widthMm, depthMm })) ?? 0)
        expect(box).toBeLessThanOrEqual(widthMm + depthMm)
      }),
    )
  })
})

describe('the size class', () => {
  it('goes by the larger of swept width and height, limits included', () => {
    // The limits are the studio's own figures: 150 mm and 450 mm here.
    const classOf = (differs: Partial<ProductSize>) =>
      sizeClassOf(aSize({ plan: 'round', ...differs }), 150, 450)
    expect(classOf({ widthMm: 150, depthMm: 150, heightMm: 20 })).toBe('small')
    expect(classOf({ widthMm: 40, depthMm: 40, heightMm: 151 })).toBe('medium')
    expect(classOf({ widthMm: 451, depthMm: 40, heightMm: 10 })).toBe('large')
    expect(classOf({ widthMm: null, depthMm: null, heightMm: null })).toBe('medium')
    expect(() => sizeClassOf(aSize(), 450, 150)).toThrow('must rise')
  })
})
