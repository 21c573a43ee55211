import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { depthOfField } from '../../main/trade/optics/depthOfField.ts'
import { airyDiscMm } from '../../main/trade/optics/diffraction.ts'
import { magnification } from '../../main/trade/optics/magnification.ts'
import { sharpSweep } from '../../main/trade/optics/sharpSweep.ts'

const lens = { widestFNumber: 2.8, smallestFNumber: 22 }

describe('what keeps a whole turn sharp', () => {
  it('takes a stop that holds the depth and stays under diffraction', () => {
    // The known depth of 50 mm at f/8 and 1 m with c = .03 (mapleprimes.com/posts/202620); .03 ÷ (2.44 × 520 nm
    // × 1.0526) is f/22.46.
    const sweep = sharpSweep({ focalMm: 50, nearMm: 916.422287, farMm: 1100.35211, circleMm: 0.03, ...lens })
    expect(sweep.code).toBe('sharp')
    expect(sweep.holdsFromFNumber).toBeCloseTo(8, 5)
    expect(sweep.focusMm).toBeCloseTo(1000, 5)
    expect(sweep.diffractionFNumber).toBeCloseTo(22.462, 2)
    // √(8 · 22.462) = 13.405; the nearest third, 12.70, is engraved 13.
    expect(sweep.bestFNumber).toBeCloseTo(13.405, 2)
    expect(sweep.stop.marked).toBe(13)
    expect(sweep.defocusCircles).toBeLessThan(1)
    expect(sweep.diffractionCircles).toBeLessThan(1)
  })

  it('says so when diffraction allows none, and how many pixels would be sharp', () => {
    // A quarter of that circle: depth asks for f/32, diffraction allows f/5.6155.
    const sweep = sharpSweep({
      focalMm: 50,
      nearMm: 916.422287,
      farMm: 1100.35211,
      circleMm: 0.0075,
      ...lens,
    })
    expect(sweep.code).toBe('diffraction')
    expect(sweep.holdsFromFNumber).toBeCloseTo(32, 4)
    expect(sweep.diffractionFNumber).toBeCloseTo(5.6155, 3)
    expect(sweep.sharpPixelsPart).toBeCloseTo(Math.sqrt(5.6155 / 32), 4)
    expect(sweep.stop.marked).toBe(13)
    expect(sweep.defocusCircles).toBeGreaterThan(1)
    // Asked for that part of the pixels only, one f-number meets both.
    const fewer = sharpSweep({
      focalMm: 50,
      nearMm: 916.422287,
      farMm: 1100.35211,
      circleMm: 0.0075 / sweep.sharpPixelsPart,
      ...lens,
    })
    expect(fewer.holdsFromFNumber).toBeCloseTo(fewer.diffractionFNumber, 9)
  })

  it('says when the lens itself does not close or open far enough', () => {
    const range = { focalMm: 50, nearMm: 916.422287, farMm: 1100.35211, circleMm: 0.03 }
    const open = sharpSweep({ ...range, widestFNumber: 1.7, smallestFNumber: 5.6 })
    expect(open).toMatchObject({ code: 'too-open', stop: { marked: 5.6 } })
    const closed = sharpSweep({ ...range, widestFNumber: 32, smallestFNumber: 64 })
    expect(closed).toMatchObject({ code: 'too-closed', stop: { marked: 32 } })
    expect(sharpSweep({ ...range, widestFNumber: 9.5, smallestFNumber: 9.5 }).stop.marked).toBe(9.5)
  })

  const requests = fc.record({
    focalMm: fc.double({ min: 20, max: 200, noNaN: true }),
    axisMm: fc.double({ min: 600, max: 4000, noNaN: true }),
    radiusMm: fc.double({ min: 5, max: 300, noNaN: true }),
    circleMm: fc.double({ min: 0.002, max: 0.05, noNaN: true }),
  })

  it('holds exactly the depth that the exact formula gives back', () => {
    fc.assert(
      fc.property(requests, ({ focalMm, axisMm, radiusMm, circleMm }) => {
        const [nearMm, farMm] = [axisMm - radiusMm, axisMm + radiusMm]
        const sweep = sharpSweep({ focalMm, nearMm, farMm, circleMm, ...lens })
        const depth = depthOfField({
          focalMm,
          circleMm,
          distanceMm: sweep.focusMm,
          fNumber: sweep.holdsFromFNumber,
        })
        expect(depth.nearMm / nearMm).toBeCloseTo(1, 9)
        expect(depth.farMm / farMm).toBeCloseTo(1, 9)
        const m = magnification(focalMm, sweep.focusMm)
        expect(airyDiscMm(sweep.diffractionFNumber, m) / circleMm).toBeCloseTo(1, 9)
        if (sweep.code === 'sharp' && sweep.sharpPixelsPart > 1.07) {
          // The two limits are more than a third of a stop apart: 1.07² > 2^(1/6). So a mark lies between them.
          expect(sweep.defocusCircles).toBeLessThanOrEqual(1 + 1e-9)
          expect(sweep.diffractionCircles).toBeLessThanOrEqual(1 + 1e-9)
        }
      }),
    )
  })

  it('has no better stop than the best, by the root of the sum of squares of both blurs', () => {
    // Hansma 1996: the blurs join as the root of the sum of their squares. Tried stop by stop.
    fc.assert(
      fc.property(requests, ({ focalMm, axisMm, radiusMm, circleMm }) => {
        const sweep = sharpSweep({
          focalMm,
          nearMm: axisMm - radiusMm,
          farMm: axisMm + radiusMm,
          circleMm,
          widestFNumber: 1,
          smallestFNumber: 64,
        })
        const blur = (n: number) => Math.hypot(sweep.holdsFromFNumber / n, n / sweep.diffractionFNumber)
        const tried = Array.from({ length: 601 }, (_, i) => blur(2 ** (i / 100)))
        expect(blur(sweep.bestFNumber)).toBeLessThanOrEqual(Math.min(...tried) * (1 + 1e-9))
      }),
    )
  })

  it('refuses a lens whose ends are swapped', () => {
    const range = { focalMm: 50, nearMm: 900, farMm: 1100, circleMm: 0.03 }
    expect(() => sharpSweep({ ...range, widestFNumber: 22, smallestFNumber: 2.8 })).toThrow(
      'opens only to f/22',
    )
    expect(() => sharpSweep({ ...range, widestFNumber: Number.NaN, smallestFNumber: 2.8 })).toThrow(
      expect.objectContaining({ field: 'widestFNumber' }),
    )
  })
})
