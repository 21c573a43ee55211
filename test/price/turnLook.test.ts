import { describe, expect, it } from 'vitest'
import { stepPx, turnLook, turnLooks } from '../../main/trade/turnLook.ts'

describe('how a turn looks', () => {
  it('is told by the step in degrees', () => {
    // 360 ÷ 240 = 1.5, ÷ 122 = 2.95, ÷ 72 = 5, ÷ 36 = 10, ÷ 12 = 30. The bounds are common practice.
    expect([244, 240, 239, 122, 72, 36, 24, 12].map(turnLook)).toEqual([
      'very smooth',
      'very smooth',
      'smooth',
      'smooth',
      'lightly stepped',
      'stepped',
      'picture by picture',
      'picture by picture',
    ])
  })

  it('never gets rougher with more frames', () => {
    const ranks = Array.from({ length: 1000 }, (_, index) => turnLooks.indexOf(turnLook(index + 2)))
    expect(ranks).toEqual(ranks.toSorted((a, b) => b - a))
  })

  it('gives the step in delivered pixels as the chord of the filled width', () => {
    // The side of a regular polygon in a circle of diameter D is D·sin(180° ÷ n): a hexagon's is its radius
    // (Euclid, Elements IV.15), a square's D ÷ √2 (IV.6).
    expect(stepPx(6, { widthPx: 1000, fillPpm: 1_000_000 })).toBeCloseTo(500, 9)
    expect(stepPx(4, { widthPx: 1000, fillPpm: 500_000 })).toBeCloseTo(500 / Math.SQRT2, 9)
  })

  it('refuses a turn of one frame', () => {
    expect(() => turnLook(1)).toThrow('frames')
    expect(() => stepPx(Number.NaN, { widthPx: 1000, fillPpm: 850_000 })).toThrow('frames')
  })
})
