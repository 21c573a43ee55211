import { everyNth, frameSet } from '../../main/trade/turn/frameSet.ts'
import { type Outcome, workedOut } from './reading.ts'
import type { Typed } from './typed.ts'

/** The sizes of frame sets that shops ask for most (common practice, no published source). */
export const usualSets: readonly number[] = [8, 12, 16, 18, 24, 36, 48, 72]

/** What frame sets the turn gives. */
export interface SetsView {
  readonly even: readonly number[]
  readonly uneven: readonly number[]
  readonly size: number
  /** Shortest and longest way between neighbours of the set picked evenly, in frames. */
  readonly shortestGap: number
  readonly longestGap: number
  readonly nth: number
  readonly nthCount: number
  readonly nthGapDeg: number
  readonly seamDeg: number
  readonly isSeamEven: boolean
}

/** Frame sets out of a turn: which come out even, and what the seam is like where they do not. */
export function setsView(typed: Typed, frames: number): Outcome<SetsView> {
  const bounds = { least: 1, most: frames, unit: 'frames' }
  return workedOut(
    typed,
    { size: 'set', nth: 'nth' },
    (reader) => ({
      size: reader.whole('set', 'The size of the set', bounds),
      nth: reader.whole('nth', 'The distance of frames', bounds),
    }),
    ({ size, nth }) => {
      const picked = frameSet(frames, size)
      const gaps = picked.map((frame, index) => (picked[index + 1] ?? frames + (picked[0] ?? 0)) - frame)
      const every = everyNth(frames, nth)
      return {
        even: usualSets.filter((each) => frames % each === 0),
        uneven: usualSets.filter((each) => frames % each !== 0 && each <= frames),
        size,
        shortestGap: Math.min(...gaps),
        longestGap: Math.max(...gaps),
        nth,
        nthCount: every.indices.length,
        nthGapDeg: every.gapDeg,
        seamDeg: every.seamDeg,
        isSeamEven: every.even,
      }
    },
  )
}
