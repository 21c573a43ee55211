import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { faultRules } from '../../main/trade/benchFaults.ts'
import { cameraChange } from '../../main/trade/benchRows.ts'
import { cssPixelMm, heightArcmin, leastLetterArcmin, leastLetterMm } from '../../main/trade/benchSight.ts'
import { type ToneKind, toneKinds, toneLengthMs, toneOf, toneOfFrame } from '../../main/trade/benchTones.ts'
import { faultKinds } from '../../main/trade/takes.ts'

describe('the tones of the bench', () => {
  it('lie where people hear well, and on the notes of equal temperament', () => {
    for (const kind of toneKinds) {
      for (const { hz } of toneOf(kind)) {
        // ISO 7731 (from memory): what calls for attention has its main sound between 300 and 3,000 Hz.
        expect(hz).toBeGreaterThan(300)
        expect(hz).toBeLessThan(3000)
        // ISO 16: A4 is 440 Hz; a semitone is the twelfth root of 2.
        const semitones = 12 * Math.log2(hz / 440)
        expect(semitones).toBeCloseTo(Math.round(semitones), 9)
      }
    }
  })

  it('are told apart by ear: no two go the same way, and none of one note is nearer to another than two semitones', () => {
    const shape = (kind: ToneKind) =>
      toneOf(kind)
        .map(({ hz, startMs, lengthMs }) => `${Math.round(hz)}@${startMs}+${lengthMs}`)
        .join(' ')
    expect(new Set(toneKinds.map(shape)).size).toBe(toneKinds.length)
    const single = toneKinds
      .filter((kind) => toneOf(kind).length === 1)
      .map((kind) => toneOf(kind)[0]?.hz ?? 0)
    for (const [index, hz] of single.entries()) {
      for (const other of single.slice(index + 1)) {
        expect(Math.abs(12 * Math.log2(hz / other))).toBeGreaterThanOrEqual(2)
      }
    }
  })

  it('rise where all is well and fall where a look is needed', () => {
    const way = (kind: ToneKind) => {
      const notes = toneOf(kind)
      return Math.sign((notes.at(-1)?.hz ?? 0) - (notes[0]?.hz ?? 0))
    }
    expect((['tenth', 'seam', 'end'] as const).map(way)).toEqual([1, 1, 1])
    expect((['refused', 'cut'] as const).map(way)).toEqual([-1, -1])
  })

  it('are over before the next step, the press by far', () => {
    for (const kind of toneKinds) expect(toneLengthMs(kind)).toBeLessThan(1000)
    expect(toneLengthMs('press')).toBeLessThan(100)
  })

  it('never sound one note over another of the same tone', () => {
    for (const kind of toneKinds) {
      const notes = toneOf(kind)
      for (const [index, note] of notes.entries()) {
        const next = notes[index + 1]
        if (next) expect(note.startMs + note.lengthMs).toBeLessThan(next.startMs)
      }
    }
  })

  it('say of 244 frames and 82 more: 24 tenths, one seam, 8 tenths of overlap, one end', () => {
    const heard = Array.from({ length: 326 }, (_, index) =>
      toneOfFrame({ nextMark: index + 1, framesPerTurn: 244, isDone: index + 1 === 326 }),
    )
    const count = (kind: ToneKind) => heard.filter((one) => one === kind).length
    expect(['tenth', 'seam', 'end'].map((kind) => count(kind as ToneKind))).toEqual([32, 1, 1])
    expect(heard.indexOf('seam')).toBe(243)
    expect(heard.at(-1)).toBe('end')
  })
})

describe('what is read from two metres', () => {
  it('fills 16 minutes of arc: 9.3 mm, or 35.2 px of a 96th of an inch', () => {
    // 2 m × tan(16′) with tan(16/60°) = 0.00465424 from a table of tangents: 9.308 mm.
    expect(leastLetterMm(2000)).toBeCloseTo(9.308, 3)
    expect(leastLetterMm(2000) / cssPixelMm).toBeCloseTo(35.18, 2)
    expect(heightArcmin(leastLetterMm(600), 600)).toBeCloseTo(leastLetterArcmin, 9)
  })

  it('measures the letter of normal sight, 8.73 mm at 6 m, as 5 minutes of arc', () => {
    // The letter of 6/6 (20/20) on a test chart: ISO 8596, 5′ (from memory); 8.73 mm at 6 m.
    expect(heightArcmin(8.73, 6000)).toBeCloseTo(5, 2)
  })
})

describe('what to do about a fault', () => {
  it('is said for every kind, with something to press', () => {
    expect(Object.keys(faultRules).sort()).toEqual([...faultKinds].sort())
    for (const kind of faultKinds) {
      const { whatToDo, acts } = faultRules[kind]
      expect(whatToDo).toMatch(/^[A-Z].*\.$/su)
      expect(new Set(acts).size).toBe(acts.length)
      expect(acts).toContain('go on')
    }
  })

  it('begins with going back after a bump, shooting again after a flicker, starting over where the product moved', () => {
    // Common practice, no published source; the first two as the studio's own brief asks.
    expect(faultRules.bump.acts.slice(0, 2)).toEqual(['back', 'again'])
    expect(faultRules.flicker.acts[0]).toBe('void')
    expect(faultRules['product moved'].acts[0]).toBe('again')
  })
})

describe('the camera from row to row', () => {
  const row = (of: Partial<Parameters<typeof cameraChange>[1]>) => ({
    row: 1,
    viewAngleDeg: 0,
    cameraHeightMm: null,
    cameraDistanceMm: null,
    ...of,
  })

  it('goes up by the difference of the heights and looks down by the viewing angle', () => {
    const change = cameraChange(row({ cameraHeightMm: 250 }), row({ cameraHeightMm: 620, viewAngleDeg: 15 }))
    expect(change).toMatchObject({ heightMm: 620, byMm: 370, tiltDeg: 15 })
  })

  it('says nothing of a difference that nobody wrote down', () => {
    expect(cameraChange(undefined, row({ cameraHeightMm: 620 })).byMm).toBeNull()
    expect(cameraChange(row({}), row({ cameraHeightMm: 620 })).byMm).toBeNull()
  })

  it('comes back to where it was, whatever the two rows', () => {
    const height = fc.integer({ min: -5000, max: 10_000 })
    fc.assert(
      fc.property(height, height, (a, b) => {
        const there = cameraChange(row({ cameraHeightMm: a }), row({ cameraHeightMm: b })).byMm ?? Number.NaN
        const back = cameraChange(row({ cameraHeightMm: b }), row({ cameraHeightMm: a })).byMm ?? Number.NaN
        expect(there + back).toBe(0)
      }),
    )
  })
})
