import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { um10FromMm } from '../../main/trade/length.ts'
import { rimUm10, stepForms, stripUm10 } from '../../main/trade/turn/rim.ts'

const mm = (value: number) => um10FromMm(value, 'The length')
/** That a rim is a length known to six places of a millimetre, rounded to a tenth of a micrometre. */
function isRounded(um10: number, knownMm: number, within = 0.51): void {
  expect(Number.isInteger(um10)).toBe(true)
  expect(Math.abs(um10 - knownMm * 10_000)).toBeLessThanOrEqual(within)
}

describe('the rim', () => {
  it('is the reading, or π times the diameter, or what the tape’s mid-line would read', () => {
    // Mathematics, L = 2π(R + t/2): D = 388, t = 0.5: rim 1218.937950, tape 1220.508746; D = 387.838061: 1220.
    expect(rimUm10({ by: 'reading', readingUm10: mm(1220) })).toBe(mm(1220))
    isRounded(rimUm10({ by: 'diameter', diameterUm10: mm(388) }), 1218.93795)
    const tapeUm10 = mm(0.5)
    isRounded(rimUm10({ by: 'diameter and tape', diameterUm10: mm(388), tapeUm10 }), 1220.508746)
    // π × 0.000039 mm more than the diameter of a tape reading of 1220 mm.
    isRounded(rimUm10({ by: 'diameter and tape', diameterUm10: mm(387.8381), tapeUm10 }), 1220.000123, 1)
  })

  it('gives back the steps of the tape, not of π × diameter', () => {
    // Mathematics, the same rim: 244.101749 steps of 5 mm by the tape, 243.787590 by π × diameter.
    const steps = (rim: number) => stepForms(rim, mm(1), { in: 'mm', stepUm10: mm(5) }).framesPerTurn
    const tape = rimUm10({ by: 'diameter and tape', diameterUm10: mm(388), tapeUm10: mm(0.5) })
    expect(steps(tape)).toBeCloseTo(244.101749, 4)
    expect(steps(rimUm10({ by: 'diameter', diameterUm10: mm(388) }))).toBeCloseTo(243.78759, 4)
  })

  it('takes a shorter strip where the paper is thinner than the tape', () => {
    // Mathematics: a strip without thickness is π × diameter, so it is shorter than the tape's reading by π·t.
    const tape = rimUm10({ by: 'diameter and tape', diameterUm10: mm(388), tapeUm10: mm(0.5) })
    isRounded(stripUm10(tape, mm(0.5), 0), 1218.93795, 1)
    expect(stripUm10(tape, mm(0.5), mm(0.5))).toBe(tape)
    expect(stripUm10(tape, mm(0.5), mm(0.1))).toBe(tape - Math.round(Math.PI * 4000))
  })

  it('is refused for no length and for a tape as thick as a board', () => {
    for (const bad of [0, -1, Number.NaN, 0.5]) {
      expect(() => rimUm10({ by: 'reading', readingUm10: bad })).toThrow(
        expect.objectContaining({ field: 'reading' }),
      )
      expect(() => rimUm10({ by: 'diameter', diameterUm10: bad })).toThrow(
        expect.objectContaining({ field: 'diameter' }),
      )
    }
    expect(() => rimUm10({ by: 'diameter and tape', diameterUm10: mm(388), tapeUm10: -1 })).toThrow(
      expect.objectContaining({ field: 'tape' }),
    )
    expect(() => stripUm10(mm(1220), mm(0.5), mm(200))).toThrow('The paper is 200 mm thick')
  })
})

describe('a step', () => {
  it('is told in all its forms', () => {
    // Mathematics: 1220 ÷ 5 = 244; 1221 leaves 1 mm, 0.294840295°, a fifth of a step.
    expect(stepForms(mm(1220), mm(0.5), { in: 'mm', stepUm10: mm(5) })).toMatchObject({
      stepUm10: mm(5),
      divisions: 10,
      framesPerTurn: 244,
      nearestFrames: 244,
      closes: true,
      remainderUm10: 0,
    })
    const open = stepForms(mm(1221), mm(1), { in: 'divisions', divisions: 5 })
    expect(open).toMatchObject({ closes: false, nearestFrames: 244 })
    expect(open.remainderUm10).toBeCloseTo(mm(1), 6)
    expect(open.remainderDeg).toBeCloseTo(0.294840295, 9)
    expect(open.remainderPart).toBeCloseTo(0.2, 12)
    expect(stepForms(mm(1219), mm(1), { in: 'mm', stepUm10: mm(5) })).toMatchObject({ nearestFrames: 244 })
    // 50.833333 mm and 15° are 24 frames on 1220 mm.
    const byAngle = stepForms(mm(1220), mm(1), { in: 'degrees', stepMdeg: 15_000 })
    expect(byAngle).toMatchObject({ framesPerTurn: 24, closes: true, degrees: 15 })
    expect(byAngle.stepUm10 / 10_000).toBeCloseTo(50.833333333, 9)
    // 360 = 51·7 + 3.
    expect(stepForms(mm(1220), mm(1), { in: 'degrees', stepMdeg: 7000 })).toMatchObject({
      nearestFrames: 51,
      closes: false,
    })
    expect(stepForms(mm(1220), mm(1), { in: 'degrees', stepMdeg: 7000 }).remainderDeg).toBeCloseTo(3, 9)
  })

  it('closes where decimal lengths do, however floating point would divide', () => {
    // Mathematics; 0.47/0.005, 0.58/0.005 and 0.565/0.005 in metres come out one short in floating point.
    for (const [rim, step, frames] of [
      [470, 5, 94],
      [580, 5, 116],
      [565, 5, 113],
      [1006, 2, 503],
      [304, 1, 304],
    ] as const) {
      const forms = stepForms(mm(rim), mm(1), { in: 'mm', stepUm10: mm(step) })
      expect(forms).toMatchObject({ nearestFrames: frames, closes: true })
    }
  })

  it('comes out the same from each of its forms', () => {
    const turns = fc.record({
      rim: fc.integer({ min: 2_000_000, max: 60_000_000 }),
      division: fc.constantFrom(5000, 10_000),
      divisions: fc.integer({ min: 1, max: 99 }),
    })
    fc.assert(
      fc.property(turns, ({ rim, division, divisions }) => {
        const first = stepForms(rim, division, { in: 'divisions', divisions })
        expect(stepForms(rim, division, { in: 'mm', stepUm10: divisions * division })).toEqual(first)
        expect(first.framesPerTurn * first.degrees).toBeCloseTo(360, 9)
        expect((first.framesPerTurn * first.stepUm10) / rim).toBeCloseTo(1, 12)
        expect(first.divisions).toBeCloseTo(divisions, 9)
        // Full steps and the remainder make up the rim.
        const full = Math.floor(first.framesPerTurn)
        expect((full * first.stepUm10 + first.remainderUm10) / rim).toBeCloseTo(1, 9)
        const even = stepForms(rim, division, { in: 'frames', frames: first.nearestFrames })
        expect(even).toMatchObject({ closes: true, remainderUm10: 0, nearestFrames: first.nearestFrames })
        const again = stepForms(rim, division, {
          in: 'degrees',
          stepMdeg: Math.round(even.degrees * 1000),
        })
        expect(Math.abs(again.degrees - even.degrees)).toBeLessThanOrEqual(0.000501)
      }),
    )
  })

  it('is refused over half a turn and for what is no step', () => {
    const step = (given: Parameters<typeof stepForms>[2]) => () => stepForms(mm(1220), mm(1), given)
    expect(step({ in: 'mm', stepUm10: mm(611) })).toThrow('over half of the rim')
    expect(step({ in: 'mm', stepUm10: Number.NaN })).toThrow(expect.objectContaining({ field: 'step' }))
    expect(step({ in: 'divisions', divisions: 0 })).toThrow(expect.objectContaining({ field: 'divisions' }))
    expect(step({ in: 'divisions', divisions: Number.NaN })).toThrow('NaN divisions')
    expect(step({ in: 'degrees', stepMdeg: 180_001 })).toThrow(expect.objectContaining({ field: 'degrees' }))
    expect(step({ in: 'degrees', stepMdeg: -1 })).toThrow('over 0°')
    expect(step({ in: 'frames', frames: 1 })).toThrow(expect.objectContaining({ field: 'frames' }))
  })
})
