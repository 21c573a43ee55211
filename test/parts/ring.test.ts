import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { ringSentence } from '../../renderer/parts/ring.tsx'
import {
  arcPath,
  markAngles,
  markEvery,
  onCircle,
  openSeam,
  ticksPath,
} from '../../renderer/parts/ringGeometry.ts'

describe('marks on the ring', () => {
  it('stand where the tape reads, clockwise from the top', () => {
    // A quarter of the rim is 90°; with y downwards the right of the circle is (centre + radius, centre).
    const [, quarter = Number.NaN] = markAngles(2, { readings: [0, 305], rim: 1220 })
    expect(quarter).toBe(90)
    const place = onCircle(100, 50, quarter)
    expect(place.x).toBeCloseTo(150, 9)
    expect(place.y).toBeCloseTo(100, 9)
  })

  it('are even where no tape is given', () => {
    expect(markAngles(4)).toEqual([0, 90, 180, 270])
  })

  it('are thinned so that they never stand nearer than asked', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 2000 }), fc.integer({ min: 40, max: 400 }), (frames, radius) => {
        const every = markEvery(frames, radius, 4)
        expect((every * 2 * Math.PI * radius) / frames).toBeGreaterThanOrEqual(4)
      }),
    )
  })
})

describe('the seam', () => {
  it('is closed where the last step is like the others', () => {
    expect(openSeam(markAngles(240))).toBeUndefined()
  })

  it('is closed where marks are rounded to whole divisions', () => {
    // 240 frames on 1220 mm: steps of 5 and 6 mm, each mark within half a division of its true place.
    const readings = Array.from({ length: 240 }, (_, k) => Math.round((k * 1220) / 240))
    expect(openSeam(markAngles(240, { readings, rim: 1220 }))).toBeUndefined()
  })

  it('is open where steps of a fixed length leave more than half a step over', () => {
    // 1220 = 239 × 5.1 + 1.1: after 239 steps stand 240 marks, and 1.1 mm is left to the start.
    const readings = Array.from({ length: 240 }, (_, k) => k * 5.1)
    const seam = openSeam(markAngles(240, { readings, rim: 1220 }))
    expect(seam?.to).toBe(360)
    expect(360 - (seam?.from ?? 0)).toBeCloseTo((1.1 / 1220) * 360, 9)
  })
})

describe('paths', () => {
  it('draw the larger arc from half a turn on', () => {
    expect(arcPath(50, 40, 0, 90)).toBe('M50 10A40 40 0 0 1 90 50')
    expect(arcPath(50, 40, 0, 270)).toBe('M50 10A40 40 0 1 1 10 50')
  })

  it('draw a whole turn as two halves, for one arc cannot end where it begins', () => {
    expect(arcPath(50, 40, 0, 360)).toBe('M50 10A40 40 0 0 1 50 90A40 40 0 0 1 50 10')
  })

  it('draw nothing where nothing is done', () => {
    expect(arcPath(50, 40, 0, 0)).toBe('')
    expect(ticksPath(50, 30, 40, [])).toBe('')
  })
})

describe('the ring’s sentence', () => {
  it('says everything the drawing shows', () => {
    const sentence = ringSentence({
      label: 'Take 3',
      framesPerTurn: 240,
      overlap: 8,
      done: 112,
      faults: [{ frame: 54, kind: 'bump' }],
      late: true,
    })
    expect(sentence.replaceAll('\u00a0', ' ')).toBe(
      'Take 3, 240 frames to the turn, 8 more as overlap, 112 shot, bump at frame 54, late',
    )
  })
})
