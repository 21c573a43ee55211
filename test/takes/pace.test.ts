import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { TakeFrame } from '../../main/trade/pack.ts'
import { benchMarks, medianStepMs, missingMarks, nextMark, timeLeftMs } from '../../main/trade/takes.ts'

/** Frames at marks 0, 1, 2 … at these offsets; the numbers of void frames after them. */
function shot(offsetsMs: readonly number[], voids: readonly number[] = []): TakeFrame[] {
  return offsetsMs.map((offsetMs, index) => ({
    offsetMs,
    isVoid: voids.includes(index + 1),
    mark: index,
    file: null,
  }))
}

describe("a take's own pace", () => {
  it('is the median of odd gaps, which one long wait does not move', () => {
    // Gaps 5000, 7000, 6000, 90000: the median of four is the mean of the middle two, 6500 (Hyndman and Fan
    // 1996, type 7).
    expect(medianStepMs(shot([0, 5000, 12_000, 18_000, 108_000]), [])).toBe(6500)
  })

  it('leaves out gaps beside a void frame and gaps that hold a pause', () => {
    const frames = shot([0, 5000, 12_000, 18_000, 60_000], [3])
    // Left are 5000 (frames 1 to 2) and 42000 (4 to 5), which holds the pause.
    expect(medianStepMs(frames, [{ fromMs: 20_000, toMs: 55_000 }])).toBe(5000)
  })

  it('is unknown until two good frames stand side by side', () => {
    expect(medianStepMs(shot([0]), [])).toBeNull()
    expect(medianStepMs(shot([0, 5000], [2]), [])).toBeNull()
  })

  it('never leaves less time than the frames still missing take', () => {
    fc.assert(
      fc.property(
        fc.array(fc.boolean(), { maxLength: 60 }),
        fc.integer({ min: 2, max: 60 }),
        (voids, toShoot) => {
          const frames = voids.map((isVoid, mark) => ({ offsetMs: mark * 10, isVoid, mark, file: null }))
          expect(timeLeftMs(frames, toShoot, 1000)).toBe(missingMarks(frames, toShoot).length * 1000)
        },
      ),
    )
  })
})

describe('the next mark', () => {
  it('comes again after its frame was made void, and is not moved by a void frame further back', () => {
    expect(nextMark(shot([0, 1, 2], [3]))).toBe(2)
    expect(nextMark(shot([0, 1, 2], [2]))).toBe(3)
    expect(missingMarks(shot([0, 1, 2], [2]), 3)).toEqual([1])
  })

  it('stands at its true place where the step is finer than the tape can be read', () => {
    // 100 mm of rim in 1,000 frames: 0.1 mm a step, a division of 1 mm.
    expect(benchMarks(1_000_000, 1000, 10_000).slice(0, 3)).toEqual([0, 1000, 2000])
    // 1,220 mm in 244 frames of 5 mm.
    expect(benchMarks(12_200_000, 244, 10_000).slice(0, 3)).toEqual([0, 50_000, 100_000])
  })
})
