import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { Thumb } from '../../main/trade/check/frameTrace.ts'
import { matchPicture, noiseDistance, pictureDistance } from '../../main/trade/check/turn/matching.ts'

const widthPx = 64
const heightPx = 48

/** A round product with stripes, turned by so many degrees, before a grey backdrop. */
function aThumb(
  turnedDeg: number,
  {
    light = 1,
    backdrop = 0.4,
    noise = (): number => 0,
  }: { light?: number; backdrop?: number; noise?: () => number } = {},
): Thumb {
  const y = Float32Array.from({ length: widthPx * heightPx }, (_, at) => {
    const across = ((at % widthPx) - 32) / 16
    const row = Math.floor(at / widthPx)
    const isProduct = Math.abs(across) < 1 && row > 8 && row < 40
    const angle = Math.asin(isProduct ? across : 0) + (turnedDeg * Math.PI) / 180
    const surface = isProduct
      ? 0.2 + 0.1 * Math.sin(2 * angle) + 0.05 * Math.sin(5 * angle + row / 9)
      : backdrop
    return Math.min(1, Math.max(0, light * surface + noise()))
  })
  return { widthPx, heightPx, y }
}

/** Normal noise in root luminance, by Box and Muller, the same in every run. */
function noiseOf(deviation: number, seed: number): () => number {
  let state = seed
  const even = () => {
    state = (state * 1_103_515_245 + 12_345) % 2_147_483_648
    return (state + 1) / 2_147_483_649
  }
  return () => deviation * Math.sqrt(-2 * Math.log(even())) * Math.cos(2 * Math.PI * even())
}

const distance = (a: Thumb, b: Thumb) => pictureDistance(matchPicture(a), matchPicture(b))

describe('matching of two pictures', () => {
  it('takes a change of exposure out, and tells how large it was', () => {
    fc.assert(
      fc.property(fc.double({ min: -1.5, max: 0.9, noNaN: true }), (ev) => {
        const match = distance(aThumb(0), aThumb(0, { light: 2 ** ev }))
        expect(match.gainEv).toBeCloseTo(ev, 3)
        expect(match.distance).toBeLessThan(1e-4)
      }),
    )
  })

  it('grows with the turn, under any flicker', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 360, noNaN: true }),
        fc.double({ min: -0.3, max: 0.3, noNaN: true }),
        (from, ev) => {
          const apart = [1, 2, 4, 8, 16].map(
            (by) => distance(aThumb(from), aThumb(from + by, { light: 2 ** ev })).distance,
          )
          expect(apart).toEqual([...apart].sort((a, b) => a - b))
        },
      ),
      { numRuns: 50 },
    )
  })

  it('does not let a backdrop that is clipped to white decide the exposure', () => {
    const match = distance(aThumb(0, { backdrop: 1.6 }), aThumb(0, { backdrop: 1.6, light: 0.9 }))
    // Pixels half backdrop and half product are clipped in part.
    expect(Math.abs(match.gainEv - Math.log2(0.9))).toBeLessThan(0.02)
  })

  it('knows the noise: pictures of one pose are as far apart as the noise alone puts them', () => {
    for (const deviation of [0.002, 0.005, 0.01]) {
      const still = Array.from({ length: 6 }, (_, k) =>
        matchPicture(aThumb(0, { noise: noiseOf(deviation, k + 1) })),
      )
      const turned = Array.from({ length: 6 }, (_, k) =>
        matchPicture(aThumb(5 * k, { noise: noiseOf(deviation, k + 1) })),
      )
      const [first, second] = still
      if (!first || !second) throw new Error('no pictures')
      const alone = pictureDistance(first, second).distance
      for (const pictures of [still, turned]) {
        expect(noiseDistance(pictures) / alone).toBeGreaterThan(0.75)
        expect(noiseDistance(pictures) / alone).toBeLessThan(1.4)
      }
    }
  })

  it('refuses pictures of two sizes', () => {
    expect(() => distance(aThumb(0), { widthPx: 2, heightPx: 1, y: new Float32Array(2) })).toThrow('64 × 48')
  })
})
