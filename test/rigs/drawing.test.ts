import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { angleToAxisDeg, lookingText, meetsAxisMm } from '../../main/trade/looking.ts'
import {
  draggedDistanceMm,
  draggedHeightMm,
  draggedLight,
  draggedTiltDeg,
  turnedBearingDeg,
} from '../../main/trade/rigDrawing/dragging.ts'
import type { DrawingPage, DrawnRig, RigDrawing } from '../../main/trade/rigDrawing/drawing.ts'
import { inMm, onPage } from '../../main/trade/rigDrawing/fit.ts'
import { crosses, overlaps, placeLabels } from '../../main/trade/rigDrawing/labels.ts'
import { bearingOf, placeOf, sidePlaceOf } from '../../main/trade/rigDrawing/places.ts'
import { planDrawing, planExtent } from '../../main/trade/rigDrawing/plan.ts'
import { sideDrawing } from '../../main/trade/rigDrawing/side.ts'

const lettering = { lineHeight: 14, widthOf: (text: string) => text.length * 6.7 }
const page: DrawingPage = { width: 780, height: 520, lettering }

const aLight = fc.record({
  bearingDeg: fc.integer({ min: 0, max: 359_999 }).map((mdeg) => mdeg / 1000),
  distanceMm: fc.integer({ min: 10, max: 6000 }),
  heightMm: fc.integer({ min: -500, max: 4000 }),
  elevationDeg: fc.integer({ min: -90, max: 90 }),
})

const aRig: fc.Arbitrary<DrawnRig> = fc.record({
  platterDiameterMm: fc.integer({ min: 50, max: 3000 }),
  camera: fc.record({
    distanceMm: fc.integer({ min: 200, max: 8000 }),
    heightMm: fc.integer({ min: -200, max: 3000 }),
    tiltDeg: fc.integer({ min: -60, max: 60 }),
    fieldWidthMm: fc.option(fc.integer({ min: 50, max: 3000 })),
    fieldHeightMm: fc.option(fc.integer({ min: 50, max: 3000 })),
  }),
  rows: fc.constant([]),
  lights: fc
    .array(aLight, { maxLength: 24 })
    .map((lights) =>
      lights.map((light, index) => ({ ...light, index, letter: String.fromCharCode(65 + index) })),
    ),
  product: fc.option(
    fc.record({ sweptMm: fc.integer({ min: 5, max: 2000 }), heightMm: fc.integer({ min: 5, max: 2500 }) }),
  ),
})

describe('places round the axis', () => {
  it('has the camera below, and bearings clockwise from it', () => {
    // Clockwise seen from above, from the bottom: left, top, right.
    const at = (bearingDeg: number) => placeOf({ bearingDeg, distanceMm: 1000 })
    expect(at(0).y).toBeCloseTo(1000, 9)
    expect(at(90).x).toBeCloseTo(-1000, 9)
    expect(at(180).y).toBeCloseTo(-1000, 9)
    expect(at(270).x).toBeCloseTo(1000, 9)
    // The triangle 3-4-5: 36.8699° has the sine 0.6.
    expect(placeOf({ bearingDeg: 36.86989764584402, distanceMm: 1000 })).toEqual({
      x: expect.closeTo(-600, 9),
      y: expect.closeTo(800, 9),
    })
  })

  it('reads back the bearing and distance of any place', () => {
    fc.assert(
      fc.property(aLight, ({ bearingDeg, distanceMm }) => {
        const back = bearingOf(placeOf({ bearingDeg, distanceMm }))
        expect(back.bearingDeg).toBeCloseTo(bearingDeg, 7)
        expect(back.distanceMm).toBeCloseTo(distanceMm, 7)
      }),
    )
  })

  it('has the camera at the left from the side, and a light beside the axis over it', () => {
    expect(sidePlaceOf({ bearingDeg: 0, distanceMm: 1000, heightMm: 300 })).toEqual({ x: -1000, y: -300 })
    const beside = sidePlaceOf({ bearingDeg: 270, distanceMm: 900, heightMm: 400 })
    expect(beside.x).toBeCloseTo(0, 9)
    expect(beside.y).toBe(-400)
    expect(sidePlaceOf({ bearingDeg: 180, distanceMm: 900, heightMm: -50 }).x).toBeCloseTo(900, 9)
  })

  it('draws every light where trigonometry says, on the plan and from the side', () => {
    fc.assert(
      fc.property(aRig, (rig) => {
        const plan = planDrawing(rig, page)
        const side = sideDrawing(rig, page)
        for (const { index, bearingDeg, distanceMm, heightMm } of rig.lights) {
          const angle = (bearingDeg * Math.PI) / 180
          const grip = plan.grips.find((one) => one.of === 'light' && one.index === index)
          expect(grip?.at.x).toBeCloseTo(plan.fit.axis.x - distanceMm * Math.sin(angle) * plan.fit.perMm, 6)
          expect(grip?.at.y).toBeCloseTo(plan.fit.axis.y + distanceMm * Math.cos(angle) * plan.fit.perMm, 6)
          const upright = side.grips.find((one) => one.of === 'light' && one.index === index)
          expect(upright?.at.x).toBeCloseTo(
            side.fit.axis.x - distanceMm * Math.cos(angle) * side.fit.perMm,
            6,
          )
          expect(upright?.at.y).toBeCloseTo(side.fit.axis.y - heightMm * side.fit.perMm, 6)
        }
      }),
      { numRuns: 50 },
    )
  })
})

describe('looking up and down', () => {
  it('is more than 0 for what comes from above: camera, row and light alike', () => {
    expect([lookingText(5), lookingText(-2.5), lookingText(0)]).toEqual(['5° down', '2.5° up', 'level'])
    // From 600 mm over the platter and 800 mm away, straight at its middle: the triangle 3-4-5.
    expect(angleToAxisDeg(800, 600, 0)).toBeCloseTo(36.86989764584402, 9)
    expect(meetsAxisMm(800, 600, 36.86989764584402)).toBeCloseTo(0, 9)
    expect(meetsAxisMm(800, 600, 0)).toBe(600)
    expect(meetsAxisMm(800, 600, 90)).toBeNull()
  })
})

describe('dragging', () => {
  it('to where it lies changes nothing, however fine the figures were typed', () => {
    fc.assert(
      fc.property(aLight, fc.integer({ min: 10_000, max: 6_000_000 }), (light, um) => {
        const fine = { bearingDeg: light.bearingDeg, distanceMm: um / 1000 }
        expect(draggedLight(fine, { x: 0, y: 0 })).toEqual(fine)
        expect(draggedHeightMm(light.heightMm, light.heightMm)).toBe(light.heightMm)
        expect(draggedDistanceMm(fine.distanceMm, fine.distanceMm)).toBe(fine.distanceMm)
        const camera = { distanceMm: 1850, heightMm: 260, tiltDeg: 4.137 }
        expect(draggedTiltDeg(camera, meetsAxisMm(1850, 260, 4.137) ?? 0)).toBe(4.137)
      }),
      {
        // Halfway between two steps, of bearing and of distance.
        examples: [
          [{ bearingDeg: 197.5, distanceMm: 165, heightMm: -335, elevationDeg: 13 }, 3_243_053],
          [{ bearingDeg: 33.1, distanceMm: 165, heightMm: 0, elevationDeg: 0 }, 902_500],
        ],
      },
    )
  })

  it('to the place of typed figures gives those figures, from wherever it began', () => {
    const bearing = fc.integer({ min: 0, max: 359 })
    const distance = fc.integer({ min: 4, max: 1200 }).map((fives) => fives * 5)
    fc.assert(
      fc.property(aLight, bearing, distance, (from, bearingDeg, distanceMm) => {
        const [start, end] = [placeOf(from), placeOf({ bearingDeg, distanceMm })]
        const dragged = draggedLight(from, { x: end.x - start.x, y: end.y - start.y })
        expect(dragged).toEqual({ bearingDeg, distanceMm })
      }),
      {
        // Begun nearer to the figures than a step.
        examples: [
          [{ bearingDeg: 197.2, distanceMm: 902, heightMm: 0, elevationDeg: 0 }, 197, 900],
          [{ bearingDeg: 359.9, distanceMm: 20, heightMm: 0, elevationDeg: 0 }, 0, 20],
        ],
      },
    )
  })

  it('never leaves what can be kept', () => {
    expect(draggedDistanceMm(900, -4)).toBe(10)
    expect(draggedDistanceMm(900, 1e9)).toBe(50_000)
    expect(draggedHeightMm(900, 1e9)).toBe(10_000)
    expect(draggedHeightMm(900, -1e9)).toBe(-5_000)
    expect(turnedBearingDeg(0, -1)).toBe(359)
    expect(turnedBearingDeg(359.5, 1)).toBe(0.5)
  })
})

describe('the drawing', () => {
  it('keeps everything that stands inside its margins, and reads back every point of the page', () => {
    fc.assert(
      fc.property(aRig, (rig) => {
        for (const drawing of [planDrawing(rig, page), sideDrawing(rig, page)]) {
          for (const { of, at } of drawing.grips) {
            const back = onPage(drawing.fit, inMm(drawing.fit, at))
            expect([back.x, back.y]).toEqual([expect.closeTo(at.x, 6), expect.closeTo(at.y, 6)])
            if (of === 'aim') continue
            expect(at.x).toBeGreaterThan(14)
            expect(at.x).toBeLessThan(page.width - 14)
            expect(at.y).toBeGreaterThan(12)
            expect(at.y).toBeLessThan(page.height - 12)
          }
        }
      }),
      { numRuns: 50 },
    )
  })

  it('draws platter, product and camera distance at one scale', () => {
    const rig: DrawnRig = {
      platterDiameterMm: 400,
      camera: { distanceMm: 1600, heightMm: 200, tiltDeg: 0, fieldWidthMm: 800, fieldHeightMm: 600 },
      rows: [],
      lights: [],
      product: { sweptMm: 200, heightMm: 300 },
    }
    const plan = planDrawing(rig, { ...page, mmPer: 4 })
    expect(plan.rings.map(({ key, radius }) => [key, radius])).toEqual([
      ['platter', 50],
      ['product', 25],
    ])
    const [from, to] = plan.strokes.find(({ key }) => key === 'camera distance')?.points ?? []
    expect((to?.y ?? 0) - (from?.y ?? 0)).toBe(400)
    // Similar triangles: the field's edges pass the axis half its width to either side.
    const field = plan.strokes.find(({ key }) => key === 'field')?.points ?? []
    const [edge, eye] = [field[0] ?? { x: 0, y: 0 }, field[1] ?? { x: 0, y: 0 }]
    const atAxis = eye.x + ((edge.x - eye.x) * (plan.fit.axis.y - eye.y)) / (edge.y - eye.y)
    expect(plan.fit.axis.x - atAxis).toBeCloseTo(800 / 2 / 4, 9)
    const side = sideDrawing(rig, { ...page, mmPer: 4 })
    const product = side.strokes.find(({ key }) => key === 'product')?.points ?? []
    expect((product[0]?.y ?? 0) - (product[1]?.y ?? 0)).toBe(75)
    expect((product[2]?.x ?? 0) - (product[0]?.x ?? 0)).toBe(50)
  })

  it('never lays one figure over another or off the page, with 24 lights anywhere', () => {
    const smallest: DrawingPage = { width: 448, height: 260, lettering }
    fc.assert(
      fc.property(aRig, (rig) => {
        for (const at of [page, smallest]) {
          for (const drawing of [planDrawing(rig, at), sideDrawing(rig, at)]) legible(drawing)
        }
      }),
      { numRuns: 60 },
    )
  })

  it('names every light even where all stand on one spot', () => {
    const light = { bearingDeg: 45, distanceMm: 900, heightMm: 400, elevationDeg: 20 }
    const lights = Array.from({ length: 24 }, (_, index) => ({
      ...light,
      index,
      letter: String.fromCharCode(65 + index),
    }))
    const rig: DrawnRig = {
      platterDiameterMm: 400,
      camera: { distanceMm: 1600, heightMm: 200, tiltDeg: 0, fieldWidthMm: null, fieldHeightMm: null },
      rows: [],
      lights,
      product: null,
    }
    for (const draw of [planDrawing, sideDrawing]) {
      const drawing = draw(rig, { width: 448, height: 260, lettering })
      legible(drawing)
      const named = drawing.labels.filter(({ key }) => key.startsWith('light '))
      expect(named).toHaveLength(24)
      expect(named.every(({ lines: [first] }) => /^[A-X]\b/u.test(first ?? ''))).toBe(true)
    }
  })

  it('puts words on the wanted side of their point while there is room', () => {
    const [label] = placeLabels(
      [{ key: 'a', lines: ['aaaa'], at: { x: 100, y: 100 }, towards: { x: 1, y: 0 } }],
      { width: 200, height: 200 },
      { marks: [{ x: 100, y: 100 }], lines: [] },
      lettering,
    )
    expect(label?.box.x).toBeGreaterThan(100)
    expect(label?.leader).toBeNull()
  })

  it('leaves a line readable while there is room beside it', () => {
    const line = [
      { x: 100, y: 100 },
      { x: 200, y: 100 },
    ]
    const [label] = placeLabels(
      [{ key: 'a', lines: ['aaaa'], at: { x: 100, y: 100 }, towards: { x: 1, y: 0 } }],
      { width: 200, height: 200 },
      { marks: [], lines: [line] },
      lettering,
    )
    if (!label) throw new Error('The words were left out.')
    expect(crosses(line, label.box)).toBe(false)
    const box = { x: 0, y: 0, width: 10, height: 10 }
    const ways: readonly (readonly [number, number, number, number, boolean])[] = [
      [-5, 5, 15, 5, true],
      [2, 2, 3, 3, true],
      [-5, -5, 15, 15, true],
      [-5, 12, 15, 12, false],
      [-5, 6, 6, -5, true],
      [-5, 4, 4, -5, false],
    ]
    for (const [x, y, toX, toY, over] of ways) {
      expect(
        crosses(
          [
            { x, y },
            { x: toX, y: toY },
          ],
          box,
        ),
      ).toBe(over)
    }
  })

  it('holds the extent of all that stands on the plan', () => {
    const rig: DrawnRig = { platterDiameterMm: 250, camera: null, rows: [], lights: [], product: null }
    expect(planExtent(rig)).toEqual({ left: -125, right: 125, top: -125, bottom: 125 })
  })
})

function legible({ labels, width, height }: RigDrawing): void {
  labels.forEach(({ box }, index) => {
    expect(box.x).toBeGreaterThanOrEqual(0)
    expect(box.y).toBeGreaterThanOrEqual(0)
    expect(box.x + box.width).toBeLessThanOrEqual(width)
    expect(box.y + box.height).toBeLessThanOrEqual(height)
    for (const other of labels.slice(index + 1)) expect(overlaps(box, other.box)).toBe(false)
  })
}
