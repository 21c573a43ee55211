import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { bandFromDrag, leastPart, movedBand, resizedBand } from '../../renderer/check/bandGeometry.ts'

const part = fc.double({ min: 0, max: 1, noNaN: true })
const reach = fc.double({ min: -2, max: 2, noNaN: true })
const point = fc.record({ x: reach, y: reach })
const bands = fc.tuple(point, point).map(([from, to]) => bandFromDrag(from, to))

describe('a band drawn on a picture', () => {
  it('lies within the picture, whichever corner the pointer began at and however far it went', () => {
    fc.assert(
      fc.property(point, point, (from, to) => {
        const band = bandFromDrag(from, to)
        expect(bandFromDrag(to, from)).toEqual(band)
        if (!band) return
        for (const side of Object.values(band)) expect(side >= 0 && side <= 1).toBe(true)
        expect(band.right - band.left).toBeGreaterThanOrEqual(leastPart)
        expect(band.bottom - band.top).toBeGreaterThanOrEqual(leastPart)
      }),
    )
  })

  it('keeps its size when it is moved, and stays a band within the picture whatever the keys do', () => {
    fc.assert(
      fc.property(bands, point, fc.record({ x: part, y: part }), (band, by, more) => {
        if (!band) return
        const moved = movedBand(band, by)
        expect(moved.right - moved.left).toBeCloseTo(band.right - band.left, 9)
        expect(moved.bottom - moved.top).toBeCloseTo(band.bottom - band.top, 9)
        const smaller = resizedBand(moved, { x: -more.x, y: -more.y })
        expect(smaller.right - smaller.left).toBeGreaterThan(0.9 * leastPart)
        for (const side of [...Object.values(moved), ...Object.values(smaller)]) {
          expect(side > -1e-9 && side < 1 + 1e-9).toBe(true)
        }
      }),
    )
  })

  it('is none where the pointer hardly moved', () => {
    expect(bandFromDrag({ x: 0.5, y: 0.5 }, { x: 0.505, y: 0.9 })).toBeNull()
  })
})
