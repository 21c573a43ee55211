import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { nameWithVariant } from '../../main/trade/productName.ts'

describe('a product’s name with its variant', () => {
  it('says the variant after the name', () => {
    expect(nameWithVariant('Desk lamp', 'sand')).toBe('Desk lamp, sand')
  })

  it('does not say a variant twice that the name says already', () => {
    expect(nameWithVariant('Flacon, 50 ml', '50 ml')).toBe('Flacon, 50 ml')
    expect(nameWithVariant('Kettle (Copper)', 'copper')).toBe('Kettle (Copper)')
  })

  it('says a variant that only stands inside another word of the name', () => {
    expect(nameWithVariant('Hundred-piece puzzle', 'red')).toBe('Hundred-piece puzzle, red')
    expect(nameWithVariant('Bottle, 150 ml', '50 ml')).toBe('Bottle, 150 ml, 50 ml')
  })

  it('leaves a name alone that has no variant, whatever it is', () => {
    fc.assert(
      fc.property(fc.string(), fc.constantFrom(null, '', '  '), (name, variant) => {
        expect(nameWithVariant(name, variant)).toBe(name)
      }),
    )
  })
})
