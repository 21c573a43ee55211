import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { cropToAspect, deliveredPxPerMm, type Sensor, turnedUpright } from '../../main/trade/optics/crop.ts'
import { frameFill, type SweptView, sweptOutline } from '../../main/trade/optics/fill.ts'
import { magnification } from '../../main/trade/optics/magnification.ts'

const sensor: Sensor = { widthMm: 36, heightMm: 24, widthPx: 6000, heightPx: 4000 }

describe('the crop to a delivered aspect', () => {
  it('keeps the whole height for a square and the whole width for a flat picture', () => {
    // Mathematics: of 36 × 24 a square keeps 24 × 24, two thirds; 2 : 1 keeps 36 × 18, three quarters.
    const square = cropToAspect(sensor, { widthPx: 2000, heightPx: 2000 })
    expect(square).toMatchObject({
      widthMm: 24,
      heightMm: 24,
      widthPx: 4000,
      heightPx: 4000,
      enlargement: 0.5,
    })
    expect(square.deliveredPixelMm).toBeCloseTo(0.012, 12)
    expect(square.keptPart).toBeCloseTo(2 / 3, 12)
    const flat = cropToAspect(sensor, { widthPx: 3000, heightPx: 1500 })
    expect(flat.widthMm).toBeCloseTo(36, 12)
    expect(flat.heightMm).toBeCloseTo(18, 12)
    expect(cropToAspect(turnedUpright(sensor), { widthPx: 4000, heightPx: 6000 }).keptPart).toBeCloseTo(1, 12)
  })

  it('gives the delivered scale in the plane of focus', () => {
    // Mathematics: 36 mm, 6000 px: 8.77192982 px/mm with 50 mm at 1 m, 33.3333333 with 100 mm at 600 mm.
    const whole = cropToAspect(sensor, { widthPx: 6000, heightPx: 4000 })
    expect(deliveredPxPerMm(whole, magnification(50, 1000))).toBeCloseTo(8.77192982, 8)
    expect(deliveredPxPerMm(whole, magnification(100, 600))).toBeCloseTo(33.3333333, 7)
  })

  it('never leaves the sensor, keeps the aspect, and touches two sides', () => {
    const px = fc.integer({ min: 1, max: 20_000 })
    fc.assert(
      fc.property(px, px, (widthPx, heightPx) => {
        const crop = cropToAspect(sensor, { widthPx, heightPx })
        expect(crop.widthMm / crop.heightMm / (widthPx / heightPx)).toBeCloseTo(1, 9)
        expect(Math.max(crop.widthMm / 36, crop.heightMm / 24)).toBeCloseTo(1, 9)
        expect(crop.keptPart).toBeLessThanOrEqual(1 + 1e-9)
      }),
    )
  })

  it('is refused without a picture or a sensor', () => {
    expect(() => cropToAspect(sensor, { widthPx: 0, heightPx: 10 })).toThrow(
      expect.objectContaining({ code: 'bad-pixels', field: 'deliveredWidthPx' }),
    )
    expect(() => cropToAspect(sensor, { widthPx: 10, heightPx: 1.5 })).toThrow('whole number of pixels')
    expect(() => cropToAspect({ ...sensor, heightMm: -24 }, { widthPx: 1, heightPx: 1 })).toThrow(
      expect.objectContaining({ field: 'sensorHeightMm' }),
    )
  })
})

describe('the outline of a turning product', () => {
  it('is as wide as its tangents', () => {
    // Mathematics, the triangle 3-4-5: a circle of radius 3 seen from 5 is touched by lines that pass 5·3/4 = 3.75
    // beside its middle. Its near face at 2 shows a height of 4 as 4·5/2 = 10.
    const outline = sweptOutline({ sweptMm: 6, heightMm: 4, distanceMm: 5, viewAngleDeg: 0 })
    expect(outline.widthMm).toBeCloseTo(7.5, 12)
    expect(outline.heightMm).toBeCloseTo(10, 12)
    expect(outline).toMatchObject({ nearMm: 2, farMm: 8 })
  })

  it('seen from straight above is the nearer end circle', () => {
    // Mathematics: a top of radius 3 at 5 − 1 = 4, scaled by 5/4.
    const outline = sweptOutline({ sweptMm: 6, heightMm: 2, distanceMm: 5, viewAngleDeg: 90 })
    expect(outline.widthMm).toBeCloseTo(7.5, 12)
    expect(outline.heightMm).toBeCloseTo(7.5, 12)
  })

  it('holds every point of the product through the whole turn, and no more', () => {
    const views = fc.record({
      sweptMm: fc.double({ min: 1, max: 800, noNaN: true }),
      heightMm: fc.double({ min: 1, max: 800, noNaN: true }),
      distanceMm: fc.double({ min: 1000, max: 5000, noNaN: true }),
      viewAngleDeg: fc.double({ min: -90, max: 90, noNaN: true }),
    })
    fc.assert(
      fc.property(views, (view) => {
        const outline = sweptOutline(view)
        const seen = projected(view)
        const within = (mostSeen: number, said: number) => {
          expect(mostSeen).toBeLessThanOrEqual(said * (1 + 1e-9))
          expect(mostSeen).toBeGreaterThan(said * (1 - 1e-4))
        }
        within(2 * Math.max(...seen.map(({ x }) => x)), outline.widthMm)
        const above = Math.max(...seen.map(({ y }) => y))
        const below = -Math.min(...seen.map(({ y }) => y))
        expect(above).toBeCloseTo(outline.aboveMm, 6)
        expect(below).toBeCloseTo(outline.belowMm, 6)
        within(above + below, outline.heightMm)
        expect(Math.min(...seen.map(({ depth }) => depth))).toBeCloseTo(outline.nearMm, 6)
        expect(Math.max(...seen.map(({ depth }) => depth))).toBeCloseTo(outline.farMm, 6)
      }),
      { numRuns: 40 },
    )
  })

  it('fills the field by its larger side, and says when a part is cut off', () => {
    const outline = sweptOutline({ sweptMm: 6, heightMm: 4, distanceMm: 5, viewAngleDeg: 0 })
    // Mathematics: 7.5 of 15, 10 of 12.5.
    expect(frameFill(outline, { widthMm: 15, heightMm: 12.5 })).toEqual({
      widthPart: 0.5,
      heightPart: 0.8,
      part: 0.8,
      fits: true,
    })
    expect(frameFill(outline, { widthMm: 15, heightMm: 9.9 }).fits).toBe(false)
    expect(frameFill(outline, { widthMm: 7.4, heightMm: 20 }).fits).toBe(false)
  })

  it('is refused where the product would touch the lens, and for sizes that are none', () => {
    const view = { sweptMm: 400, heightMm: 100, distanceMm: 200, viewAngleDeg: 0 }
    expect(() => sweptOutline(view)).toThrow(expect.objectContaining({ code: 'product-at-lens' }))
    for (const bad of [0, -1, Number.NaN]) {
      expect(() => sweptOutline({ ...view, sweptMm: bad })).toThrow(
        expect.objectContaining({ field: 'sweptMm' }),
      )
      expect(() => sweptOutline({ ...view, heightMm: bad })).toThrow(
        expect.objectContaining({ field: 'heightMm' }),
      )
    }
    expect(() => sweptOutline({ ...view, viewAngleDeg: 91 })).toThrow(
      expect.objectContaining({ field: 'viewAngleDeg' }),
    )
  })
})

/** Points of both end circles as a pinhole camera sees them, scaled to the plane through the middle. */
function projected({ sweptMm, heightMm, distanceMm, viewAngleDeg }: SweptView) {
  const angle = (viewAngleDeg * Math.PI) / 180
  const camera = [distanceMm * Math.cos(angle), 0, distanceMm * Math.sin(angle)] as const
  const forward = camera.map((c) => -c / distanceMm)
  const up = [-Math.sin(angle), 0, Math.cos(angle)]
  const dot = (a: readonly number[], b: readonly number[]) =>
    a.reduce((sum, v, i) => sum + v * (b[i] ?? 0), 0)
  return Array.from({ length: 1440 }, (_, i) => {
    const bearing = (i * Math.PI) / 360
    const z = i < 720 ? heightMm / 2 : -heightMm / 2
    const point = [(sweptMm / 2) * Math.cos(bearing), (sweptMm / 2) * Math.sin(bearing), z]
    const ray = point.map((v, axis) => v - (camera[axis] ?? 0))
    const depth = dot(ray, forward)
    return { x: ((ray[1] ?? 0) * distanceMm) / depth, y: (dot(ray, up) * distanceMm) / depth, depth }
  })
}
