import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { frameRate, frameRateNames } from '../../main/trade/turn/frameRate.ts'
import { loopFrames, repeatsFor } from '../../main/trade/turn/loop.ts'

describe('the frames of a loop', () => {
  it('are one turn from the chosen start, or the same backwards', () => {
    // Mathematics: frames a … a + N − 1.
    expect(loopFrames({ frames: 4, overlap: 2, start: 1, isReversed: false })).toEqual([1, 2, 3, 4])
    expect(loopFrames({ frames: 4, overlap: 2, start: 2, isReversed: true })).toEqual([5, 4, 3, 2])
  })

  it('show every mark of the turn once and were all shot', () => {
    const cuts = fc
      .tuple(fc.integer({ min: 2, max: 720 }), fc.nat(240), fc.boolean())
      .chain(([frames, overlap, isReversed]) =>
        fc.record({
          frames: fc.constant(frames),
          overlap: fc.constant(overlap),
          start: fc.nat(frames + overlap - 1),
          isReversed: fc.constant(isReversed),
        }),
      )
    fc.assert(
      fc.property(cuts, (cut) => {
        const loop = loopFrames(cut)
        expect(new Set(loop.map((frame) => frame % cut.frames)).size).toBe(cut.frames)
        expect(cut.isReversed ? loop.at(-1) : loop[0]).toBe(cut.start)
        expect(Math.min(...loop)).toBeGreaterThanOrEqual(0)
        expect(Math.max(...loop)).toBeLessThan(cut.frames + cut.overlap)
        expect([...loopFrames({ ...cut, isReversed: !cut.isReversed })].reverse()).toEqual(loop)
      }),
    )
  })

  it('go on with the first frames where a start leaves less than a turn behind it, since the marks close', () => {
    // Mathematics: marks modulo N. Frames 3 and 7 stand at one mark of a turn of four.
    expect(loopFrames({ frames: 4, overlap: 1, start: 3, isReversed: false })).toEqual([3, 4, 1, 2])
    expect(loopFrames({ frames: 4, overlap: 0, start: 2, isReversed: true })).toEqual([1, 0, 3, 2])
  })

  it('are refused where the start was not shot', () => {
    const cut = { frames: 244, overlap: 81, isReversed: false }
    expect(() => loopFrames({ ...cut, start: 325 })).toThrow('from 0 to 324')
    expect(() => loopFrames({ ...cut, start: -1 })).toThrow(expect.objectContaining({ field: 'start' }))
    expect(() => loopFrames({ ...cut, start: Number.NaN })).toThrow('cannot start at frame NaN')
  })
})

describe('repeats for a wished length', () => {
  it('are the fewest whole loops that fill it', () => {
    // Mathematics: 244 frames at 25 play 9.76 s, so 30 s take 4 (976 frames, 39.04 s), and 9.76 s take 1.
    expect(repeatsFor(244, '25', 30_000)).toEqual({
      repeats: 4,
      frames: 976,
      seconds: { numerator: 976, denominator: 25 },
      timecode: '00:00:39:01',
      framesOver: 226,
    })
    expect(repeatsFor(244, '25', 9760)).toMatchObject({ repeats: 1, framesOver: 0 })
    expect(repeatsFor(244, '25', 9761).repeats).toBe(2)
    // SMPTE ST 12-1: 17,982 frames are ten minutes of 29.97 drop-frame; ten minutes on the clock hold 17,982.02.
    expect(repeatsFor(8991, '30000/1001 drop', 599_999)).toMatchObject({
      repeats: 2,
      timecode: '00:10:00;00',
    })
    expect(repeatsFor(8991, '30000/1001 drop', 600_000).repeats).toBe(3)
  })

  it('last as long as wished, and one loop less would not', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 1000 }),
        fc.constantFrom(...frameRateNames),
        fc.integer({ min: 1, max: 3_600_000 }),
        (loop, name, wishedMs) => {
          const { numerator, denominator } = frameRate(name)
          const { repeats, frames, framesOver } = repeatsFor(loop, name, wishedMs)
          // frames ÷ rate against ms ÷ 1000, in whole numbers.
          const asLong = (n: number) => n * denominator * 1000 >= wishedMs * numerator
          expect(frames).toBe(repeats * loop)
          expect(asLong(frames)).toBe(true)
          expect(asLong(frames - loop)).toBe(false)
          expect(framesOver).toBeLessThan(loop)
          expect(asLong(frames - framesOver)).toBe(true)
        },
      ),
    )
  })

  it('are refused for no length and for a day', () => {
    for (const bad of [0, -1, Number.NaN, 0.5, 86_400_000]) {
      expect(() => repeatsFor(244, '25', bad)).toThrow(expect.objectContaining({ field: 'wishedMs' }))
    }
    expect(() => repeatsFor(244, '26', 1000)).toThrow("'26' is no frame rate")
  })
})
