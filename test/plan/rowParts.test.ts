import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { rowPartsMin } from '../../main/trade/plan/rowParts.ts'

describe('a spin cut at its rows', () => {
  it('gives each further row its change and its frames, the first the rest', () => {
    // By hand: 40 min in all; row 2 is 10 min of change and 60 frames of 6 s, 16 min; the first keeps 24.
    expect(rowPartsMin(2_400_000, [72, 60], { stepMs: 6000, rowChangeMs: 600_000 })).toEqual([24, 16])
    // An estimate shorter than its rows is shared by them: 10 and 20 of 30 make 4 and 8 of 12.
    expect(rowPartsMin(720_000, [100, 100], { stepMs: 6000, rowChangeMs: 600_000 })).toEqual([4, 8])
  })

  it('never loses a minute, and adds less than one a row', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 60_000, max: 40_000_000 }),
        fc.array(fc.integer({ min: 2, max: 1440 }), { minLength: 2, maxLength: 6 }),
        fc.integer({ min: 500, max: 20_000 }),
        fc.integer({ min: 0, max: 7_200_000 }),
        (wholeMs, frames, stepMs, rowChangeMs) => {
          const sum = rowPartsMin(wholeMs, frames, { stepMs, rowChangeMs }).reduce((all, min) => all + min, 0)
          expect(sum * 60_000).toBeGreaterThanOrEqual(wholeMs - 1e-3)
          expect(sum * 60_000).toBeLessThan(wholeMs + (frames.length + 0.001) * 60_000)
        },
      ),
    )
  })
})
