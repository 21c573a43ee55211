import Color from 'colorjs.io'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  codeOf,
  evBetween,
  linearOf,
  linearOfCode,
  luminancesOf,
} from '../../main/trade/check/light/luminance.ts'
import { thumbOf } from '../../main/trade/check/outline/trace.ts'
import type { SmallFrame } from '../../main/trade/check/smallFrame.ts'

const frameOf = (widthPx: number, codes: readonly (readonly [number, number, number])[]): SmallFrame => ({
  widthPx,
  heightPx: codes.length / widthPx,
  rgb: Uint8Array.from(codes.flat()),
})
const greys = (widthPx: number, ...codes: number[]) =>
  frameOf(
    widthPx,
    codes.map((code) => [code, code, code] as const),
  )
const meanLuminance = (small: SmallFrame) => thumbOf(small).frameY
const grey = (code: number) => linearOfCode[code] ?? Number.NaN

describe('luminance', () => {
  it('has its published values', () => {
    // IEC 61966-2-1; W3C, relative luminance. Y of greys, recomputed in two ways.
    for (const [code, y] of [
      [0, 0],
      [10, 0.0030352698],
      [118, 0.1811642442],
      [119, 0.1844749945],
      [128, 0.2158605001],
      [188, 0.502886458],
      [200, 0.5775804404],
      [250, 0.9559733532],
      [255, 1],
    ] as const) {
      expect(meanLuminance(greys(1, code))).toBeCloseTo(y, 9)
    }
    // Wikipedia, Middle gray: L* 50 is Y 18.4 % is code 119.
    expect(Math.round(codeOf(0.184186518512444))).toBe(119)
  })

  it('agrees with colorjs.io for every code and for colours', () => {
    for (let code = 0; code < 256; code++) {
      const reference = new Color('srgb', [code / 255, 0, 0]).to('srgb-linear').coords[0]
      expect(grey(code)).toBeCloseTo(reference ?? Number.NaN, 12)
    }
    const code = fc.integer({ min: 0, max: 255 })
    fc.assert(
      fc.property(fc.tuple(code, code, code), (codes) => {
        const [red, green, blue] = codes.map((each) => each / 255)
        const reference = new Color('srgb', [red ?? 0, green ?? 0, blue ?? 0]).to('xyz-d65').coords[1]
        // The library derives the coefficients from the primaries, so colours differ from the four digits by 4e-5.
        expect(Math.abs(meanLuminance(frameOf(1, [codes])) - (reference ?? Number.NaN))).toBeLessThan(5e-5)
      }),
    )
  })

  it('goes back to the code it came from', () => {
    for (let code = 0; code < 256; code++) expect(codeOf(grey(code))).toBeCloseTo(code, 9)
    expect(codeOf(linearOf(0.73))).toBeCloseTo(0.73 * 255, 9)
  })

  it('is averaged as light, not as codes', () => {
    // {50, 200}: mean of linear 0.304738237; the linear value of the mean code, 125, is 0.5713926 EV wrong.
    const mean = meanLuminance(greys(2, 50, 200))
    expect(mean).toBeCloseTo(0.304738237, 9)
    expect(codeOf(mean)).toBeCloseTo(149.944, 3)
    expect(evBetween(grey(125), mean)).toBeCloseTo(0.571392619, 8)
  })

  it('is told of every pixel', () => {
    const small = greys(4, 0, 10, 118, 255, 119, 128, 200, 250)
    expect(Array.from(luminancesOf(small), (each) => Math.round(codeOf(each)))).toEqual([
      0, 10, 118, 255, 119, 128, 200, 250,
    ])
  })
})

describe('difference in EV', () => {
  it('has its published values', () => {
    // log2 of linear Y, recomputed: codes 200 to 198 and so on.
    for (const [from, to, ev] of [
      [200, 198, -0.032507861],
      [200, 190, -0.165680121],
      [128, 126, -0.049105139],
      [128, 64, -2.07392771],
      [250, 245, -0.066199667],
    ] as const) {
      expect(evBetween(grey(from), grey(to))).toBeCloseTo(ev, 8)
      expect(evBetween(grey(to), grey(from))).toBeCloseTo(-ev, 8)
    }
  })

  it('stays finite for a frame without any light', () => {
    expect(evBetween(0, 0)).toBe(0)
    expect(evBetween(grey(1), 0)).toBeCloseTo(-1, 9)
    expect(evBetween(0.5, 0)).toBeLessThan(-10)
  })
})
