import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { extentOf, fitPlan, placeOf } from '../../renderer/parts/rigGeometry.ts'

describe('a rig’s plan', () => {
  it('has the camera below, and bearings clockwise from it', () => {
    // Clockwise seen from above, from the bottom: left, top, right.
    const at = (bearingDeg: number) => placeOf({ bearingDeg, distanceMm: 1000 })
    expect(at(0).y).toBeCloseTo(1000, 9)
    expect(at(90).x).toBeCloseTo(-1000, 9)
    expect(at(180).y).toBeCloseTo(-1000, 9)
    expect(at(270).x).toBeCloseTo(1000, 9)
  })

  it('keeps everything inside its margins, whatever stands on it', () => {
    const bearing = fc.record({
      bearingDeg: fc.double({ min: 0, max: 360, noNaN: true }),
      distanceMm: fc.double({ min: 0, max: 5000, noNaN: true }),
    })
    fc.assert(
      fc.property(fc.array(bearing), fc.integer({ min: 100, max: 1500 }), (bearings, radius) => {
        const places = bearings.map(placeOf)
        const size = { width: 560, height: 460, marginX: 76, marginY: 28 }
        const { pxPerMm, axis } = fitPlan(extentOf(radius, places), size)
        for (const place of [...places, { x: radius, y: -radius }, { x: -radius, y: radius }]) {
          const x = axis.x + place.x * pxPerMm
          const y = axis.y + place.y * pxPerMm
          expect(x).toBeGreaterThan(76 - 1e-6)
          expect(x).toBeLessThan(560 - 76 + 1e-6)
          expect(y).toBeGreaterThan(28 - 1e-6)
          expect(y).toBeLessThan(460 - 28 + 1e-6)
        }
      }),
    )
  })

  it('draws a wall of plans at the one scale that was asked for', () => {
    const size = { width: 200, height: 180, marginX: 14, marginY: 12 }
    expect(fitPlan(extentOf(125, []), size, 16).pxPerMm).toBe(1 / 16)
    expect(fitPlan(extentOf(400, []), size, 16).pxPerMm).toBe(1 / 16)
  })
})
