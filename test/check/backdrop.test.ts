import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { backdropDifference, usualBackdropLimits as limits } from '../../main/trade/check/light/backdrop.ts'
import { type LinearRgb, linearOfCode } from '../../main/trade/check/light/luminance.ts'

const ofCodes = (...codes: readonly [number, number, number]) =>
  codes.map((code) => linearOfCode[code] ?? Number.NaN) as unknown as LinearRgb
const light = fc.double({ min: 0.05, max: 0.4, noNaN: true })
const rgb = fc.tuple(light, light, light)

describe('a backdrop against the approved one', () => {
  it('differs in exposure by the published figures', () => {
    // ΔEV of mean linear Y, greys 200 to 190: −0.165680121, recomputed.
    const darker = backdropDifference(ofCodes(200, 200, 200), ofCodes(190, 190, 190), limits)
    expect(darker.exposureEv).toBeCloseTo(-0.165680121, 8)
    expect(darker.redGreenEv).toBeCloseTo(0, 12)
    expect(darker.sentences).toHaveLength(1)
    expect(darker.sentences[0]).toMatch(/0\.17\sEV darker than approved: expose 0\.17\sEV more/)
    const brighter = backdropDifference(ofCodes(190, 190, 190), ofCodes(200, 200, 200), limits)
    expect(brighter.sentences[0]).toMatch(/brighter than approved: expose 0\.17\sEV less/)
  })

  it('says nothing of two that agree', () => {
    expect(backdropDifference(ofCodes(200, 199, 198), ofCodes(200, 199, 198), limits)).toMatchObject({
      exposureEv: 0,
      isTold: true,
      sentences: [],
    })
  })

  it('tells warmer from cooler and greener from more magenta, apart from exposure', () => {
    const approved: LinearRgb = [0.3, 0.3, 0.3]
    const words = (...newest: LinearRgb) => backdropDifference(approved, newest, limits).sentences.join(' ')
    expect(words(0.33, 0.3, 0.27)).toMatch(/warmer .* 0\.29\sEV of red against blue: .* fewer kelvin/)
    expect(words(0.27, 0.3, 0.33)).toMatch(/cooler .* more kelvin/)
    expect(words(0.3, 0.33, 0.3)).toMatch(/greener .* 0\.14\sEV .* towards magenta/)
    expect(words(0.3, 0.27, 0.3)).toMatch(/more magenta .* towards green/)
    expect(words(0.3, 0.33, 0.3)).not.toMatch(/warmer|cooler/)
  })

  it('does not take exposure for colour, and turns its signs when the two are changed about', () => {
    fc.assert(
      fc.property(rgb, rgb, fc.double({ min: 0.6, max: 1.6, noNaN: true }), (a, b, gain) => {
        const plain = backdropDifference(a, b, limits)
        const lit = backdropDifference(a, [b[0] * gain, b[1] * gain, b[2] * gain], limits)
        expect(lit.redGreenEv).toBeCloseTo(plain.redGreenEv, 9)
        expect(lit.blueGreenEv).toBeCloseTo(plain.blueGreenEv, 9)
        expect(lit.exposureEv - plain.exposureEv).toBeCloseTo(Math.log2(gain), 9)
        expect(backdropDifference(b, a, limits).exposureEv).toBeCloseTo(-plain.exposureEv, 9)
      }),
    )
  })

  it('does not compare by what is clipped or black', () => {
    for (const codes of [
      [255, 255, 255],
      [200, 200, 255],
      [2, 2, 2],
    ] as const) {
      const difference = backdropDifference(
        ofCodes(200, 200, 200),
        ofCodes(codes[0], codes[1], codes[2]),
        limits,
      )
      expect(difference.isTold).toBe(false)
      expect(difference.sentences.join(' ')).toMatch(/grey card/)
    }
  })
})
