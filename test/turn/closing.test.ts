import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { um10FromMm } from '../../main/trade/length.ts'
import { closing } from '../../main/trade/turn/closing.ts'

const mm = (value: number) => um10FromMm(value, 'The length')

describe('how a turn closes', () => {
  it('counts whole steps and says what is left at the seam', () => {
    // Mathematics, worked in whole tenths of a millimetre: n = ⌊C/s⌋, r = C − n·s, 360·r/C, C/round(C/s).
    // 122 cm at 0.5 cm is the turn of 244 frames the trade knows.
    const rows = [
      { rim: 1220, step: 5, full: 244, left: 0, deg: 0, nearest: 244, even: 5, evenDeg: 1.475409836066 },
      {
        rim: 1221,
        step: 5,
        full: 244,
        left: 1,
        deg: 0.294840295,
        nearest: 244,
        even: 5.004098361,
        evenDeg: 1.475409836066,
      },
      {
        rim: 1219,
        step: 5,
        full: 243,
        left: 4,
        deg: 1.181296144,
        nearest: 244,
        even: 4.995901639,
        evenDeg: 1.475409836066,
      },
      {
        rim: 1220,
        step: 7.5,
        full: 162,
        left: 5,
        deg: 1.475409836,
        nearest: 163,
        even: 7.484662577,
        evenDeg: 2.208588957055,
      },
      {
        rim: 1220,
        step: 50.8,
        full: 24,
        left: 0.8,
        deg: 0.236065574,
        nearest: 24,
        even: 50.833333333,
        evenDeg: 15,
      },
      { rim: 1885, step: 5, full: 377, left: 0, deg: 0, nearest: 377, even: 5, evenDeg: 0.954907161804 },
    ]
    for (const row of rows) {
      const turn = closing(mm(row.rim), mm(row.step))
      const name = `${row.rim} mm at ${row.step} mm`
      expect(turn.fullSteps, name).toBe(row.full)
      expect(turn.remainderUm10, name).toBe(mm(row.left))
      expect(turn.remainderDeg, name).toBeCloseTo(row.deg, 8)
      expect(turn.remainderPart, name).toBeCloseTo(row.left / row.step, 12)
      expect(turn.closes, name).toBe(row.left === 0)
      expect(turn.nearestFrames, name).toBe(row.nearest)
      expect(turn.evenStepUm10 / 10_000, name).toBeCloseTo(row.even, 8)
      expect(turn.evenStepDeg, name).toBeCloseTo(row.evenDeg, 11)
    }
  })

  it('names a short seam and a long one', () => {
    // Mathematics: 1219 − 244·5 = −1, 1221 − 244·5 = 1.
    expect(closing(mm(1219), mm(5)).seamUm10).toBe(mm(-1))
    expect(closing(mm(1221), mm(5)).seamUm10).toBe(mm(1))
  })

  it('closes where doubles miss a step', () => {
    // Mathematics: 470/5 = 94, 580/5 = 116, 565/5 = 113; in metres as doubles the floors are one less.
    for (const [rim, frames] of [
      [470, 94],
      [580, 116],
      [565, 113],
    ] as const) {
      expect(closing(mm(rim), mm(5))).toMatchObject({ fullSteps: frames, remainderUm10: 0, closes: true })
      expect(Math.floor(rim / 1000 / 0.005)).toBe(frames - 1)
    }
  })

  it('always adds back up to the rim', () => {
    const step = fc.integer({ min: 1, max: 10 ** 6 })
    fc.assert(
      fc.property(step, fc.integer({ min: 2 * 10 ** 6, max: 10 ** 9 }), (stepUm10, rimUm10) => {
        const turn = closing(rimUm10, stepUm10)
        expect(turn.fullSteps * stepUm10 + turn.remainderUm10).toBe(rimUm10)
        expect(turn.remainderUm10).toBeLessThan(stepUm10)
        expect(Math.abs(turn.seamUm10) * 2).toBeLessThanOrEqual(stepUm10)
      }),
    )
  })

  it('refuses a step longer than half the rim and lengths that are none', () => {
    expect(() => closing(mm(10), mm(6))).toThrow('The step, 6 mm, is over half of the rim, 10 mm')
    expect(() => closing(0, mm(5))).toThrow('The rim is 0 mm')
    expect(() => closing(mm(1220), Number.NaN)).toThrow('The step is NaN')
    expect(() => closing(mm(1220), -1)).toThrow('The step')
  })
})
