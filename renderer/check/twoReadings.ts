import { twoExtremes } from '../../main/trade/check/centre/twoExtremes.ts'
import { Refusal } from '../../main/trade/refusal.ts'
import type { AidStand } from './aidPage.tsx'
import type { OffCentre } from './centreTold.tsx'

/** What was typed; marks as they are spoken of, from 1. Lengths in micrometres. */
export interface TypedExtremes {
  readonly leftUm: number | null
  readonly leftMark: number | null
  readonly rightUm: number | null
  readonly rightMark: number | null
}

/** A rule is read to half a millimetre. Common practice, no published source. */
const readingErrorMm = 0.5

/** What two readings say; nothing while one is lacking, and a sentence where they cannot be right. */
export function readExtremes(
  { leftUm, leftMark, rightUm, rightMark }: TypedExtremes,
  { framesPerTurn, turns }: AidStand,
  pointerBearingDeg: number,
): { readonly found?: OffCentre; readonly sentence?: string } {
  if (leftUm === null || rightUm === null || leftMark === null || rightMark === null) return {}
  try {
    const { offsetMm, errorMm, nudge } = twoExtremes(
      { mark: leftMark - 1, reading: leftUm / 1000 },
      { mark: rightMark - 1, reading: rightUm / 1000 },
      { framesPerTurn, turns, pointerBearingDeg, mmPerUnit: 1, readingError: readingErrorMm },
    )
    return { found: { offset: offsetMm, error: errorMm, unit: 'mm', nudge } }
  } catch (error) {
    if (error instanceof Refusal) return { sentence: error.message }
    throw error
  }
}
