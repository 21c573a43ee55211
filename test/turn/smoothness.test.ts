import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { um10FromMm } from '../../main/trade/length.ts'
import { smoothness, turnStep } from '../../main/trade/turn/smoothness.ts'

const mm = (value: number) => um10FromMm(value, 'The length')
const radiusOf = (rimMm: number) => rimMm / (2 * Math.PI)

describe('one step of a turn', () => {
  it('has the chord, arc and rise of its circle', () => {
    // Mathematics, R = C ÷ 2π: chord 2R·sin(θ/2), sagitta R(1 − cos(θ/2)), for C = 1220 mm.
    const known = [
      [244, 5, 1.475409836, 4.999861854976, 0.016094002],
      [122, 10, 2.950819672, 9.998894867287, 0.064373341],
    ] as const
    for (const [frames, arc, degrees, chord, sagitta] of known) {
      const step = turnStep(radiusOf(1220), frames)
      expect(step.arcMm).toBeCloseTo(arc, 11)
      expect(step.degrees).toBeCloseTo(degrees, 9)
      expect(step.chordMm).toBeCloseTo(chord, 11)
      expect(step.sagittaMm).toBeCloseTo(sagitta, 9)
    }
  })

  it('rises over its chord by about s² ÷ 8R and is longer by s³ ÷ 24R²', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 10, max: 3000, noNaN: true }),
        fc.integer({ min: 200, max: 720 }),
        (r, n) => {
          // The first terms of the sine series; the next are a thousandth of them and less.
          const { arcMm, chordMm, sagittaMm } = turnStep(r, n)
          expect((arcMm - chordMm) / (arcMm ** 3 / (24 * r ** 2))).toBeCloseTo(1, 3)
          expect(sagittaMm / (arcMm ** 2 / (8 * r))).toBeCloseTo(1, 3)
        },
      ),
    )
  })
})

describe('smoothness on screen', () => {
  const far = 1e12
  const request = { rimUm10: mm(1220), divisionUm10: mm(1), radiusMm: 100, distanceMm: far, axisPxPerMm: 20 }

  it('is the largest shift of the outermost point in delivered pixels', () => {
    // Mathematics, 2ρ·sin(π/n) × px/mm for 100 mm at 20 px/mm, the camera far away.
    const known = [
      [244, 51.500096],
      [122, 102.991655],
      [72, 174.477549],
      [36, 348.622971],
      [24, 522.104769],
    ] as const
    for (const [frames, px] of known) expect(smoothness({ ...request, frames }).stepPx).toBeCloseTo(px, 5)
  })

  it('counts the near face larger, by distance ÷ (distance − radius)', () => {
    // Mathematics: 600 ÷ (600 − 100) = 1.2.
    const close = smoothness({ ...request, frames: 244, distanceMm: 600 })
    expect(close.stepPx / 51.500096).toBeCloseTo(1.2, 7)
  })

  it('tells what half a division at the pointer makes', () => {
    // Mathematics: ±0.5 mm on 1220 mm is ±0.147540984°, a tenth of a 5 mm step.
    const { pointerErrorDeg, pointerErrorPart, pointerErrorPx, stepPx } = smoothness({
      ...request,
      frames: 244,
    })
    expect(pointerErrorDeg).toBeCloseTo(0.147540984, 9)
    expect(pointerErrorPart).toBeCloseTo(0.1, 12)
    expect(pointerErrorPx / stepPx).toBeCloseTo(0.1, 4)
  })

  it('says when more frames are useless, and why', () => {
    // Mathematics: on 1220 mm at 1 mm a step of two divisions is 610 frames; at 0.5 mm 1220.
    expect(smoothness({ ...request, frames: 244 })).toMatchObject({ mostUsefulFrames: 610, limit: null })
    expect(smoothness({ ...request, frames: 609 }).limit).toBeNull()
    expect(smoothness({ ...request, frames: 610 }).limit).toBe('pointer')
    expect(smoothness({ ...request, frames: 610, divisionUm10: mm(0.5) }).mostUsefulFrames).toBe(1220)
    // 10 mm at 5 px/mm: a point on a circle of 100 px moves one pixel at π ÷ asin(1/100) = 314.15 frames.
    const small = { ...request, radiusMm: 10, axisPxPerMm: 5 }
    expect(smoothness({ ...small, frames: 300 })).toMatchObject({ mostUsefulFrames: 314, limit: null })
    const finest = smoothness({ ...small, frames: 314 })
    expect(finest.limit).toBe('pixel')
    expect(finest.stepPx).toBeGreaterThanOrEqual(1)
    expect(smoothness({ ...small, frames: 315 }).stepPx).toBeLessThan(1)
  })

  it('only ever gets smoother with more frames', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 2, max: 1000 }),
        fc.double({ min: 1, max: 400, noNaN: true }),
        fc.double({ min: 500, max: 5000, noNaN: true }),
        (frames, radiusMm, distanceMm) => {
          const turn = (n: number) => smoothness({ ...request, radiusMm, distanceMm, frames: n })
          expect(turn(frames + 1).stepPx).toBeLessThan(turn(frames).stepPx)
          expect(turn(frames).chordMm).toBeLessThan(turn(frames).arcMm)
        },
      ),
    )
  })

  it('is refused for sizes that are none, and for a product that reaches the lens', () => {
    expect(() => smoothness({ ...request, frames: 1 })).toThrow(expect.objectContaining({ field: 'frames' }))
    expect(() => smoothness({ ...request, frames: 24, distanceMm: 100 })).toThrow('would touch the lens')
    for (const bad of [0, -1, Number.NaN]) {
      for (const field of ['radiusMm', 'distanceMm', 'axisPxPerMm'] as const) {
        expect(() => smoothness({ ...request, frames: 24, [field]: bad })).toThrow(
          expect.objectContaining({ field }),
        )
      }
      expect(() => smoothness({ ...request, frames: 24, rimUm10: bad })).toThrow(
        expect.objectContaining({ field: 'rim' }),
      )
    }
  })
})
