import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { um10FromMm } from '../../main/trade/length.ts'
import { frameChoices } from '../../main/trade/turn/choices.ts'
import { markGaps, turnMarks } from '../../main/trade/turn/marks.ts'

const mm = (value: number) => um10FromMm(value, 'The length')

describe('marks for one turn', () => {
  it('stand exactly on the tape where the step is a whole number of divisions', () => {
    // Mathematics: 122 cm at 0.5 cm.
    expect(turnMarks(mm(1220), 244, mm(1))).toEqual(Array.from({ length: 244 }, (_, k) => mm(5 * k)))
  })

  it('give a 6 among eleven 5s, twenty times a turn, for 240 frames on 1220 mm', () => {
    // Mathematics: 1220 = 220·5 + 20·6, spread evenly.
    const gaps = markGaps(mm(1220), turnMarks(mm(1220), 240, mm(1)))
    expect(gaps.filter((gap) => gap === mm(6))).toHaveLength(20)
    expect(gaps.filter((gap) => gap === mm(5))).toHaveLength(220)
    const sixes = gaps.flatMap((gap, k) => (gap === mm(6) ? [k] : []))
    expect(new Set(sixes.slice(1).map((k, i) => k - (sixes[i] ?? 0)))).toEqual(new Set([12]))
  })

  it('are each within half a division of their true place, rise, and close at the seam', () => {
    const turn = fc
      .tuple(fc.integer({ min: 2, max: 800 }), fc.integer({ min: 1, max: 20_000 }), fc.nat(10 ** 7))
      .map(([frames, division, spare]) => ({ frames, division, rim: frames * division + spare }))
    fc.assert(
      fc.property(turn, ({ frames, division, rim }) => {
        const marks = turnMarks(rim, frames, division)
        expect(marks).toHaveLength(frames)
        marks.forEach((mark, k) => {
          expect(mark % division).toBe(0)
          // |mark − k·rim/frames| ≤ division/2, in whole numbers.
          expect(2 * Math.abs(mark * frames - k * rim)).toBeLessThanOrEqual(division * frames)
        })
        const gaps = markGaps(rim, marks)
        expect(gaps.reduce((a, b) => a + b, 0)).toBe(rim)
        for (const gap of gaps) {
          expect(Math.abs(gap * frames - rim)).toBeLessThanOrEqual(division * frames)
        }
        // All but the gap over the seam lie between two printed marks, which must be told apart.
        expect(Math.min(...gaps.slice(0, -1))).toBeGreaterThan(0)
      }),
      { numRuns: 200 },
    )
  })

  it('leave a last gap like the others on any rim, to one division where the tape reads whole ones', () => {
    // Rims of 200 to 6000 mm to a tenth, in tenths of a micrometre; tapes of half and whole millimetres.
    const turn = fc
      .record({
        rim: fc.integer({ min: 2000, max: 60_000 }).map((tenths) => tenths * 1000),
        frames: fc.integer({ min: 8, max: 720 }),
        division: fc.constantFrom(5000, 10_000),
        isWhole: fc.boolean(),
      })
      .map(({ isWhole, ...of }) => ({ ...of, rim: isWhole ? of.rim - (of.rim % of.division) : of.rim }))
      .filter(({ rim, frames, division }) => frames * division <= rim)
    fc.assert(
      fc.property(turn, ({ rim, frames, division }) => {
        const marks = turnMarks(rim, frames, division)
        expect(marks.every((mark, k) => k === 0 || mark > (marks[k - 1] ?? mark))).toBe(true)
        const gaps = markGaps(rim, marks)
        const last = gaps.at(-1) ?? 0
        const worst = Math.max(...gaps.map((gap) => Math.abs(gap - last)))
        // Mathematics: a mark may be half a division out and the start is not, so a rim between two divisions adds half of one.
        expect(2 * worst).toBeLessThanOrEqual(rim % division === 0 ? 2 * division : 3 * division)
      }),
      { numRuns: 500 },
    )
    // 81.6 in 16: steps of 5.1, of which one is marked 6 and the last is 4.6.
    const gaps = markGaps(816_000, turnMarks(816_000, 16, 10_000))
    expect([Math.max(...gaps), gaps.at(-1)]).toEqual([60_000, 46_000])
  })

  it('refuse a step finer than the division, naming the most frames the tape can carry', () => {
    expect(() => turnMarks(mm(1220), 1221, mm(1))).toThrow('at most 1220 frames')
    expect(turnMarks(mm(1220), 1220, mm(1))).toHaveLength(1220)
    expect(turnMarks(mm(1220), 2440, mm(0.5))).toHaveLength(2440)
    expect(() => turnMarks(mm(1220), 1, mm(1))).toThrow('from 2')
    expect(() => turnMarks(mm(1220), 24.5, mm(1))).toThrow('whole number')
  })
})

describe('choices of frames per turn', () => {
  it('puts the even turn first and tells the jump of the rest', () => {
    // Mathematics: of 235 to 245 only 244 divides 1220; 240 jumps by 1 mm in a step of 5.0833 mm.
    const choices = frameChoices({
      rimUm10: mm(1220),
      divisionUm10: mm(1),
      frames: 240,
      within: 5,
      setSizes: [24, 60],
    })
    expect(choices[0]).toMatchObject({ frames: 244, jumpPart: 0, longGaps: 0, evenSets: [] })
    const asked = choices.find((choice) => choice.frames === 240)
    expect(asked).toMatchObject({
      longGaps: 20,
      shortestGapUm10: mm(5),
      longestGapUm10: mm(6),
      evenSets: [24, 60],
    })
    expect(asked?.jumpPart).toBeCloseTo(240 / 1220, 12)
  })

  it('prefers among even turns the one that the frame set divides, then the nearest, then the larger', () => {
    // Mathematics: 1200 is divided by 240 and 200 among the numbers 195 to 245, and 24 divides 240 only.
    const request = { rimUm10: mm(1200), divisionUm10: mm(1), frames: 215, within: 30 }
    expect(
      frameChoices(request)
        .slice(0, 2)
        .map((c) => c.frames),
    ).toEqual([200, 240])
    expect(frameChoices({ ...request, setSizes: [24] })[0]?.frames).toBe(240)
    expect(frameChoices({ ...request, frames: 220 })[0]?.frames).toBe(240)
  })

  it('leaves out what the tape cannot carry', () => {
    const choices = frameChoices({ rimUm10: mm(100), divisionUm10: mm(1), frames: 99, within: 5 })
    expect(Math.max(...choices.map((choice) => choice.frames))).toBe(100)
    expect(() => frameChoices({ rimUm10: mm(100), divisionUm10: mm(1), frames: 200, within: 5 })).toThrow(
      'at most 100',
    )
  })
})
