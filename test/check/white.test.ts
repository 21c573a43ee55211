import Color from 'colorjs.io'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { linearOf } from '../../main/trade/check/light/luminance.ts'
import { usualWhiteLimits, whiteOf } from '../../main/trade/check/light/white.ts'
import type { FramePart } from '../../main/trade/check/outline/silhouette.ts'
import type { SmallFrame } from '../../main/trade/check/smallFrame.ts'

type Codes = readonly [number, number, number]

const widthPx = 60
const heightPx = 40

/** Backdrop at the left and right, the product in the middle, a platter below. */
function partAt(x: number, y: number): FramePart {
  if (y >= 32) return 'platter'
  if (x >= 20 && x < 40) return 'product'
  return x === 19 || x === 40 ? 'none' : 'backdrop'
}

function testFrame(codesAt: (part: FramePart, x: number, y: number) => Codes): SmallFrame {
  const rgb = new Uint8Array(widthPx * heightPx * 3)
  for (let y = 0, at = 0; y < heightPx; y++) {
    for (let x = 0; x < widthPx; x++, at += 3) rgb.set(codesAt(partAt(x, y), x, y), at)
  }
  return { widthPx, heightPx, rgb }
}

const grey = (code: number): Codes => [code, code, code]
const plain = (backdrop: number, product: number, platter = backdrop) =>
  testFrame((part) => grey(part === 'backdrop' ? backdrop : part === 'platter' ? platter : product))
const limits = { ...usualWhiteLimits, whiteCode: 255 }
const words = (test: { readonly sentences: readonly string[] }) => test.sentences.join(' ')

/** Between two codes, by the reference library. */
function evOf(from: number, to: number): number {
  const linear = (code: number) =>
    new Color('srgb', [code / 255, code / 255, code / 255]).to('srgb-linear').coords[0] ?? Number.NaN
  return Math.log2(linear(to) / linear(from))
}

describe('the white test', () => {
  it('lifts the darkest backdrop to white by exposure where the product has the room', () => {
    const test = whiteOf(plain(235, 180), partAt, limits)
    expect(test.answer).toBe('by exposure')
    // White is from half a code under the client's value on; colorjs.io for the light of codes.
    expect(test.neededEv).toBeCloseTo(evOf(235, 254.5), 9)
    expect(test.headroomEv).toBeCloseTo(evOf(180, 250), 9)
    expect(words(test)).toMatch(/^Expose 0\.26\sEV more; .* the product has 1\.07\sEV of room\.$/)
  })

  it('flags the light where the product would clip first, and says by how much', () => {
    const test = whiteOf(plain(200, 235), partAt, limits)
    expect(test.answer).toBe('flag the light')
    expect(words(test)).toMatch(
      /^The darkest backdrop lacks 0\.79\sEV to white \(255\), and the product has 0\.20\sEV of room\. Keep 0\.59\sEV of light off the product with flags and expose 0\.79\sEV more, or give the backdrop alone 0\.59\sEV more and expose 0\.20\sEV more\.$/,
    )
  })

  it('cuts out where flags could not keep so much off', () => {
    const test = whiteOf(plain(118, 200), partAt, limits)
    expect(test.answer).toBe('cut-out')
    expect((test.neededEv ?? 0) - (test.headroomEv ?? 0)).toBeCloseTo(evOf(118, 254.5) - evOf(200, 250), 9)
  })

  it('asks for the white of the client, not always for 255', () => {
    expect(whiteOf(plain(240, 100), partAt, { ...limits, whiteCode: 240 }).neededEv).toBeLessThan(0)
    expect(whiteOf(plain(240, 100), partAt, { ...limits, whiteCode: 252 }).neededEv).toBeCloseTo(
      evOf(240, 251.5),
      9,
    )
    expect(words(whiteOf(plain(240, 100), partAt, { ...limits, whiteCode: 240 }))).toMatch(
      /^Leave the exposure as it is:/,
    )
  })

  it('goes by the darkest corner and the darkest channel, not by the mean', () => {
    const corner = testFrame((part, x, y) =>
      part === 'backdrop' ? (x < 12 && y < 8 ? grey(205) : grey(245)) : grey(120),
    )
    expect(whiteOf(corner, partAt, limits).neededEv).toBeCloseTo(evOf(205, 254.5), 9)
    const yellow = testFrame((part) => (part === 'backdrop' ? [245, 240, 215] : grey(120)))
    expect(whiteOf(yellow, partAt, limits).neededEv).toBeCloseTo(evOf(215, 254.5), 9)
  })

  it('goes by the product’s brightest channel, and not by dust or a shining spot', () => {
    const red = testFrame((part) => (part === 'product' ? [240, 60, 60] : grey(235)))
    expect(whiteOf(red, partAt, limits).headroomEv).toBeCloseTo(evOf(240, 250), 9)
    const specks = testFrame((part, x, y) => {
      if (part === 'product') return grey(x === 30 && y < 3 ? 255 : 180)
      return grey(part === 'backdrop' && x === 5 && y < 20 ? 90 : 235)
    })
    const test = whiteOf(specks, partAt, limits)
    expect(test.neededEv).toBeCloseTo(evOf(235, 254.5), 9)
    expect(test.headroomEv).toBeCloseTo(evOf(180, 250), 9)
  })

  it('says what is clipped, and how much', () => {
    const test = whiteOf(plain(255, 255), partAt, limits)
    expect(test).toMatchObject({ backdropClipped: 1, productClipped: 1, answer: 'by exposure' })
    expect(test.headroomEv).toBeLessThan(0)
    expect(words(test)).toMatch(/100\s% of the backdrop is clipped/)
    expect(words(test)).toMatch(/100\s% of the product is clipped/)
    expect(words(whiteOf(plain(235, 180), partAt, limits))).not.toMatch(/clipped/)
  })

  it('flags an uneven backdrop that would spill round the edges', () => {
    const spilling = testFrame((part, x) => grey(part === 'backdrop' ? (x < 20 ? 170 : 250) : 60))
    const test = whiteOf(spilling, partAt, limits)
    expect(test.answer).toBe('flag the light')
    expect(test.unevenEv).toBeCloseTo(evOf(170, 250), 9)
    expect(words(test)).toMatch(/spills round/)
  })

  it('says that a platter stays grey', () => {
    const test = whiteOf(plain(250, 100, 200), partAt, limits)
    expect(test.platterNeededEv).toBeCloseTo(evOf(200, 254.5), 9)
    expect(words(test)).toMatch(/The platter needs 0\.73\sEV more than the backdrop/)
  })

  it('gives no answer without a backdrop or a product', () => {
    expect(whiteOf(plain(250, 100), () => 'product', limits)).toMatchObject({ answer: null, neededEv: null })
    expect(words(whiteOf(plain(250, 100), () => 'backdrop', limits))).toMatch(/No product/)
  })

  it('keeps its word: exposed as asked, the backdrop is white and the product is not clipped', () => {
    const code = fc.integer({ min: 40, max: 254 })
    fc.assert(
      fc.property(code, code, (backdrop, product) => {
        const { answer, neededEv } = whiteOf(plain(backdrop, product), partAt, limits)
        if (answer !== 'by exposure' || neededEv === null || neededEv < 0) return
        const gain = 2 ** neededEv
        expect(linearOf(backdrop / 255) * gain).toBeGreaterThanOrEqual(linearOf(254.5 / 255) - 1e-9)
        expect(linearOf(product / 255) * gain).toBeLessThanOrEqual(linearOf(250 / 255) + 1e-9)
      }),
    )
  })
})
