import fc from 'fast-check'
import { expect, it } from 'vitest'
import { kept, shown } from '../../main/trade/measures.ts'

it('gives back every kept length and angle exactly after showing it', () => {
  const record = fc.record({
    rimUm10: fc.integer({ min: 1, max: 100_000_000 }),
    focalUm: fc.integer({ min: -50_000_000, max: 50_000_000 }),
    lights: fc.array(fc.record({ bearingMdeg: fc.integer({ min: 0, max: 359_999 }), power: fc.string() })),
    note: fc.option(fc.string()),
  })
  fc.assert(
    fc.property(record, (value) => {
      expect(kept(shown(value))).toEqual(value)
    }),
  )
})

it('shows a tape to a tenth of a micrometre and other lengths to a whole one', () => {
  expect(shown({ rimUm10: 12_205_001, cameraDistanceUm: 1_850_001, tiltMdeg: 12_500 })).toEqual({
    rimMm: 1220.5001,
    cameraDistanceMm: 1850.001,
    tiltDeg: 12.5,
  })
})

it('refuses a length finer than what is kept, and names the field', () => {
  expect(() => kept({ focalMm: 50.0001 })).toThrow('50.0001 mm is finer than a thousandth')
})
