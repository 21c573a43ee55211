import { describe, expect, it } from 'vitest'
import {
  closeUpDepthMm,
  depthOfField,
  fNumberHolding,
  focusBetweenMm,
} from '../../main/trade/optics/depthOfField.ts'
import { airyDiscMm, diffractionFNumber } from '../../main/trade/optics/diffraction.ts'
import {
  angleOfViewDeg,
  effectiveFNumber,
  fieldMm,
  magnification,
} from '../../main/trade/optics/magnification.ts'

/** Equal to `digits` significant digits. */
function near(actual: number, expected: number, digits = 9): void {
  expect(Math.abs(actual / expected - 1)).toBeLessThan(10 ** -(digits - 1))
}

// Thin lens, checked by an independent blur-disc computation; formulas published at mapleprimes.com/posts/202620.
const cases = [
  {
    f: 50,
    n: 8,
    s: 1000,
    m: 0.0526315789,
    near: 916.422287,
    far: 1100.35211,
    total: 183.929825,
    short: 182.4,
    eff: 8.42105263,
  },
  {
    f: 50,
    n: 8,
    s: 2000,
    m: 0.0256410256,
    near: 1684.63612,
    far: 2460.62992,
    total: 775.993803,
    short: 748.8,
    eff: 8.20512821,
  },
  {
    f: 100,
    n: 16,
    s: 700,
    m: 0.166666667,
    near: 680.404355,
    far: 720.757825,
    total: 40.3534708,
    short: 40.32,
    eff: 18.6666667,
  },
  {
    f: 100,
    n: 11,
    s: 400,
    m: 0.333333333,
    near: 396.07882,
    far: 403.999596,
    total: 7.92077632,
    short: 7.92,
    eff: 14.6666667,
  },
  {
    f: 100,
    n: 11,
    s: 200,
    m: 1,
    near: 199.342171,
    far: 200.662185,
    total: 1.32001437,
    short: 1.32,
    eff: 22,
  },
]

describe('a thin lens', () => {
  it.each(cases)('of $f mm at f/$n and $s mm has its known scale and depth of field', (known) => {
    const c = 0.03
    const m = magnification(known.f, known.s)
    near(m, known.m)
    near(effectiveFNumber(known.n, m), known.eff)
    const depth = depthOfField({ focalMm: known.f, distanceMm: known.s, fNumber: known.n, circleMm: c })
    near(depth.nearMm, known.near)
    near(depth.farMm, known.far)
    near(depth.totalMm, known.total, 8)
    near(closeUpDepthMm(known.n, c, m), known.short)
  })

  it.each([
    // photo.stackexchange.com/q/114916 and bit1024.com, hyperfocal calculator, which leaves out the '+ f'.
    { f: 50, n: 8, c: 0.03, hyperfocal: 10466.6667 },
    { f: 50, n: 8, c: 0.02, hyperfocal: 15625 + 50 },
    { f: 35, n: 11, c: 0.03, hyperfocal: 3712.12 + 35 },
    // US Army correspondence text SS0507 (armycommunications.tpub.com/SS0507/SS05070058): 2 in, f/8, .002 in is
    // 20.8 ft without '+ f', here to the digits of its own formula.
    { f: 50.8, n: 8, c: 0.0508, hyperfocal: 50.8 + 6350 },
  ])('of $f mm at f/$n is sharp from half its hyperfocal distance to infinity', ({ f, n, c, hyperfocal }) => {
    const depthAt = (distanceMm: number) => depthOfField({ focalMm: f, distanceMm, fNumber: n, circleMm: c })
    near(depthAt(hyperfocal).nearMm, hyperfocal / 2, 6)
    expect(depthAt(hyperfocal * 1.00001).farMm).toBe(Infinity)
    expect(depthAt(hyperfocal * 0.999).farMm).toBeLessThan(Infinity)
  })

  it('has the published close-up depth at half life size', () => {
    // l-camera-forum.com topic 52273, citing the Manual of Photography: 6.400 mm approximate, 6.403 mm exact.
    expect(closeUpDepthMm(16, 1 / 30, 0.5)).toBeCloseTo(6.4, 9)
    // m = 1/2 at f = 50: s = f(1 + 1/m) = 150.
    expect(depthOfField({ focalMm: 50, distanceMm: 150, fNumber: 16, circleMm: 1 / 30 }).totalMm).toBeCloseTo(
      6.403,
      3,
    )
  })

  it('sees the field and the angle that its sensor gives', () => {
    // Mathematics: 36 × 24 mm, 50 mm at 1 m is 684 × 456 mm; 100 mm at 600 mm is 180 × 120 mm.
    near(fieldMm(36, magnification(50, 1000)), 684)
    near(fieldMm(24, magnification(50, 1000)), 456)
    near(fieldMm(36, magnification(100, 600)), 180)
    near(fieldMm(24, magnification(100, 600)), 120)
    near(angleOfViewDeg(36, 50, 0), 39.5977527)
    near(angleOfViewDeg(36, 50, magnification(50, 1000)), 37.7613759)
  })

  it('is refused at or inside its focal length, with the field to blame', () => {
    for (const distanceMm of [100, 99]) {
      expect(() => magnification(100, distanceMm)).toThrow(
        expect.objectContaining({ code: 'focal-over-distance', field: 'focalMm' }),
      )
    }
    expect(() => magnification(100, 99)).toThrow('Move the camera back')
    for (const bad of [0, -50, Number.NaN, Infinity, '50' as unknown as number]) {
      expect(() => magnification(bad, 1000)).toThrow(
        expect.objectContaining({ code: 'bad-size', field: 'focalMm' }),
      )
      expect(() => magnification(50, bad)).toThrow(expect.objectContaining({ field: 'distanceMm' }))
      expect(() => fieldMm(bad, 0.1)).toThrow(expect.objectContaining({ field: 'sensorSideMm' }))
    }
    expect(() => effectiveFNumber(8, -1)).toThrow('magnification is -1')
  })
})

describe('the focus and f-number that hold a depth', () => {
  it.each(cases)('find f/$n and $s mm again from the known limits', (known) => {
    // The limits of the table above, taken back: to the digits in which they are given.
    near(focusBetweenMm(known.near, known.far), known.s, 7)
    near(fNumberHolding(known.f, known.near, known.far, 0.03), known.n, 6)
  })

  it('refuse a far limit that is not behind the near one, and a focus inside the focal length', () => {
    expect(() => focusBetweenMm(500, 500)).toThrow(expect.objectContaining({ field: 'nearMm' }))
    expect(() => fNumberHolding(100, 50, 90, 0.03)).toThrow('not shorter than the distance')
  })
})

describe('diffraction', () => {
  it('makes the published Airy discs', () => {
    // Edmund Optics, 'The Airy Disk and Diffraction Limit', Table 1, 520 nm, in µm.
    const table = [
      [1.4, 1.78],
      [2, 2.54],
      [2.8, 3.55],
      [4, 5.08],
      [5.6, 7.11],
      [8, 10.15],
      [11, 13.96],
      [16, 20.3],
    ] as const
    for (const [fNumber, um] of table) expect(airyDiscMm(fNumber, 0, 520) * 1000).toBeCloseTo(um, 2)
  })

  it('fills the circle exactly at its f-number, which is wider the closer the camera stands', () => {
    // The same table: f/8 makes 10.1504 µm; at life size f/8 counts as f/16, so f/4 makes it.
    expect(diffractionFNumber(0.0101504, 0)).toBeCloseTo(8, 9)
    expect(diffractionFNumber(0.0101504, 1)).toBeCloseTo(4, 9)
    expect(() => airyDiscMm(8, 0, Number.NaN)).toThrow(expect.objectContaining({ field: 'wavelengthNm' }))
  })
})
