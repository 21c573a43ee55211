import { describe, expect, it } from 'vitest'
import { renderTake, turnAngles } from './render.ts'

const clean = { noiseCodes: 0, texture: 0, platterY: null, gradient: 0, shadow: 0 } as const

/** Where a row of a rendered frame turns from the backdrop to the product and back, to parts of a pixel. */
function edgesOf(rgb: Uint8Array, widthPx: number, row: number): { left: number; right: number } {
  const codes = Array.from({ length: widthPx }, (_, x) => rgb[(row * widthPx + x) * 3] ?? 0)
  const half = (Math.max(...codes) + Math.min(...codes)) / 2
  const across = (from: number, to: number) =>
    (codes[from] ?? 0) === (codes[to] ?? 0)
      ? from
      : from + 0.5 + ((half - (codes[from] ?? 0)) / ((codes[to] ?? 0) - (codes[from] ?? 0))) * (to - from)
  const first = codes.findIndex((code) => code < half)
  const last = codes.findLastIndex((code) => code < half)
  return { left: across(first - 1, first), right: across(last, last + 1) }
}

describe('the rendered take', () => {
  it('is the same for the same seed, and another for another', () => {
    const take = (seed: number) => renderTake({ kind: 'mug', seed, anglesDeg: [0, 90] }).frames[1]?.rgb
    expect(take(4)).toEqual(take(4))
    expect(take(4)).not.toEqual(take(5))
  })

  it('shows a can on the axis as wide as trigonometry says, by a level camera', () => {
    // Tangents from 1,000 mm to a circle of 33 mm meet the axis plane at 1000·tan(asin(33/1000)) = 33.0180 mm.
    const { frames, truth } = renderTake({
      ...clean,
      kind: 'can',
      anglesDeg: [0],
      widthPx: 240,
      heightPx: 180,
      camera: { distanceMm: 1000, heightMm: 50, aimHeightMm: 50, fieldWidthMm: 240 },
    })
    expect(truth.mmPerPx).toBe(1)
    const { left, right } = edgesOf(frames[0]?.rgb ?? new Uint8Array(), 240, 90)
    expect(left).toBeCloseTo(120 - 33.018, 0)
    expect(right - left).toBeCloseTo(2 * 33.018, 0)
  })

  it('turns with the platter: clockwise from the camera to the left, the far side, the right', () => {
    const middles = (turns: 'clockwise' | 'counter-clockwise') => {
      const take = renderTake({ ...clean, kind: 'can', offsetMm: 20, anglesDeg: [0, 90, 180, 270], turns })
      return take.frames.map(({ rgb }) => {
        const { left, right } = edgesOf(rgb, 120, 45)
        return Math.round(((left + right) / 2 - take.truth.axisXPx) * take.truth.mmPerPx)
      })
    }
    expect(middles('clockwise')).toEqual([0, -20, 0, 20].map((mm) => expect.closeTo(mm, -0.5)))
    expect(middles('counter-clockwise')).toEqual([0, 20, 0, -20].map((mm) => expect.closeTo(mm, -0.5)))
  })

  it('passes over a mark and shoots one twice where it is told to', () => {
    expect(turnAngles({ framesPerTurn: 36, frames: 6, missedAt: [2], twiceAt: [4] })).toEqual([
      0, 10, 30, 40, 40, 50,
    ])
  })

  it('lights the whole, the backdrop or the product alone', () => {
    const still = { ...clean, kind: 'can', anglesDeg: [0, 0], backdropY: 0.25 } as const
    const corner = (light: object) => renderTake({ ...still, ...light }).frames.map(({ rgb }) => rgb[0])
    const middle = (light: object) =>
      renderTake({ ...still, ...light }).frames.map(({ rgb }) => rgb[(45 * 120 + 60) * 3])
    // IEC 61966-2-1: linear 0.25 is code 137, 0.5 is code 188.
    expect(corner({ lightEv: [0, 1] })).toEqual([137, 188])
    expect(corner({ backdropEv: [0, 1] })).toEqual([137, 188])
    expect(corner({ productEv: [0, 1] })).toEqual([137, 137])
    expect(new Set(middle({ backdropEv: [0, 1] })).size).toBe(1)
    expect(new Set(middle({ productEv: [0, 1] })).size).toBe(2)
  })
})
