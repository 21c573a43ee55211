import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { everyNth, frameSet } from '../../main/trade/turn/frameSet.ts'
import { framesToShoot, thirdOfTurn } from '../../main/trade/turn/framesToShoot.ts'

/** Gaps round the turn, the last one over the seam. */
function gapsOf(frames: number, indices: readonly number[]): number[] {
  return indices.map((index, i) => (indices[i + 1] ?? frames + (indices[0] ?? 0)) - index)
}

describe('an even frame set', () => {
  it('takes the frames that Euclidean rhythms put their beats on', () => {
    // Published patterns, of which ours are rotations: E(3,8) x--x--x- (Toussaint 2005, Bridges, pp. 47–56)
    // and E(7,16) x--x-x-x--x-x-x- (club.tidalcycles.org/t/2016).
    expect(isRotation(pattern(8, frameSet(8, 3)), 'x--x--x-')).toBe(true)
    expect(isRotation(pattern(16, frameSet(16, 7)), 'x--x-x-x--x-x-x-')).toBe(true)
    // Mathematics: floor(i·n/k).
    expect(frameSet(244, 24).slice(0, 14)).toEqual([
      0, 10, 20, 30, 40, 50, 61, 71, 81, 91, 101, 111, 122, 132,
    ])
    expect(frameSet(244, 24).at(-1)).toBe(233)
    expect(frameSet(244, 36).slice(-2)).toEqual([230, 237])
    expect(frameSet(8, 5)).toEqual([0, 1, 3, 4, 6])
    expect(frameSet(244, 61)).toEqual(Array.from({ length: 61 }, (_, i) => 4 * i))
  })

  it('has gaps that differ by at most one frame, the larger n mod k times', () => {
    const pair = fc
      .integer({ min: 1, max: 2000 })
      .chain((n) => fc.tuple(fc.constant(n), fc.integer({ min: 1, max: n })))
    fc.assert(
      fc.property(pair, ([n, k]) => {
        const gaps = gapsOf(n, frameSet(n, k))
        expect(gaps).toHaveLength(k)
        expect(gaps.reduce((a, b) => a + b, 0)).toBe(n)
        expect(gaps.filter((gap) => gap !== Math.floor(n / k) && gap !== Math.ceil(n / k))).toEqual([])
        expect(gaps.filter((gap) => gap === Math.floor(n / k) + 1)).toHaveLength(n % k)
      }),
    )
  })

  it('refuses more frames than the turn has', () => {
    expect(() => frameSet(24, 25)).toThrow('A set of 25 frames cannot be taken from a turn of 24')
    expect(() => frameSet(24, 0)).toThrow('from 1')
  })
})

describe('every n-th frame', () => {
  it('tells the short gap at the seam', () => {
    // Mathematics: 244 = 24·10 + 4; 360·4/244 = 5.901639°.
    const tenth = everyNth(244, 10)
    expect(tenth.indices).toHaveLength(25)
    expect(tenth.indices.at(-1)).toBe(240)
    expect(tenth).toMatchObject({ seamFrames: 4, even: false })
    expect(tenth.seamDeg).toBeCloseTo(5.901639344262, 11)
    expect(everyNth(244, 4)).toMatchObject({ seamFrames: 4, even: true })
  })

  it('never leaves the turn or a seam longer than the other gaps', () => {
    const pair = fc
      .integer({ min: 1, max: 2000 })
      .chain((n) => fc.tuple(fc.constant(n), fc.integer({ min: 1, max: n })))
    fc.assert(
      fc.property(pair, ([n, nth]) => {
        const { indices, seamFrames, even } = everyNth(n, nth)
        expect(gapsOf(n, indices).at(-1)).toBe(seamFrames)
        expect(seamFrames).toBeGreaterThan(0)
        expect(seamFrames).toBeLessThanOrEqual(nth)
        expect(even).toBe(n % nth === 0)
      }),
    )
  })
})

describe('frames to shoot', () => {
  it('adds the overlap to every row', () => {
    // Mathematics: 244 + 81 = 325 with a third rounded down (common practice, no published source).
    expect(thirdOfTurn(244)).toBe(81)
    expect(framesToShoot([{ frames: 244, overlap: thirdOfTurn(244) }])).toBe(325)
    for (const [frames, total] of [
      [24, 32],
      [36, 48],
      [240, 320],
      [241, 321],
    ] as const) {
      expect(framesToShoot([{ frames, overlap: thirdOfTurn(frames) }])).toBe(total)
    }
    expect(
      framesToShoot([
        { frames: 36, overlap: 1 },
        { frames: 24, overlap: 1 },
      ]),
    ).toBe(62)
    expect(() => framesToShoot([{ frames: 36, overlap: -1 }])).toThrow('The overlap')
  })
})

function pattern(length: number, beats: readonly number[]): string {
  return Array.from({ length }, (_, i) => (beats.includes(i) ? 'x' : '-')).join('')
}

function isRotation(made: string, published: string): boolean {
  return made.length === published.length && (published + published).includes(made)
}
