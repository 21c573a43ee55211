import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { learnStep } from '../../main/trade/learning.ts'

describe('a step learned from takes', () => {
  it('shrinks toward the studio’s own figure by the normal rule, in log time', () => {
    // Normal shrinkage w = n/(n + σ²/τ²), σ² = 4, τ² = 1, prior 6, mean 8: n = 0 → 6, 1 → 6.4, 4 → 7, 16 → 7.6
    // (textbook form, from memory); here of logarithms, all 10 higher to have whole milliseconds.
    const expected: [number, number][] = [
      [0, 16],
      [1, 16.4],
      [4, 17],
      [16, 17.6],
    ]
    for (const [takes, log] of expected) {
      const learned = learnStep(Math.exp(16), new Array<number>(takes).fill(Math.exp(18)), 4)
      expect(learned.stepMs).toBe(Math.round(Math.exp(log)))
      expect(learned.takes).toBe(takes)
      expect(learned.weight).toBeCloseTo(takes / (takes + 4), 12)
    }
  })

  it('lies between the studio’s figure and the takes, the nearer to the takes the more there are', () => {
    const ms = fc.integer({ min: 1000, max: 60_000 })
    fc.assert(
      fc.property(ms, ms, fc.integer({ min: 1, max: 50 }), (own, shown, takes) => {
        const of = (n: number) => learnStep(own, new Array<number>(n).fill(shown)).stepMs
        expect(of(takes)).toBeGreaterThanOrEqual(Math.min(own, shown))
        expect(of(takes)).toBeLessThanOrEqual(Math.max(own, shown))
        expect(Math.abs(of(takes + 1) - shown)).toBeLessThanOrEqual(Math.abs(of(takes) - shown))
      }),
    )
  })

  it('takes no step that is none', () => {
    expect(() => learnStep(6000, [5000, 0])).toThrow()
    expect(() => learnStep(Number.NaN, [])).toThrow()
  })
})
