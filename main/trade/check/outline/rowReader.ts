import type { SmallFrame } from '../smallFrame.ts'
import type { OffBehind } from './offBehind.ts'
import type { PlatterSeen } from './platterSeen.ts'

/** How a row is read. */
export interface RowReader {
  readonly small: SmallFrame
  readonly off: OffBehind
  /** From how many codes off what its neighbours lead to expect, it is an edge and no shadow. */
  readonly jump: number
  /** The first row in which the platter is seen behind or before the product; infinite where there is no platter. */
  readonly platterFromY: number
  /** The platter's own codes; null where there is none, or the empty frame holds it. */
  readonly platter: PlatterSeen | null
}

/** Pixels that must go on being something else, so that a speck of noise or dust is no edge. */
export const persists = 3

/** A pixel of the row, no farther than its last one from the end that the walk began at. */
export function within(x: number, end: number, step: 1 | -1): number {
  return step === 1 ? Math.min(x, end - 1) : Math.max(x, end + 1)
}
