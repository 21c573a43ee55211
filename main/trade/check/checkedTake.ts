import type { CentreChoice } from './centre/centre.ts'
import type { PointerSide } from './centre/nudge.ts'
import type { CameraStand } from './centre/scale.ts'
import type { CheckLimits } from './limits.ts'
import type { Lean } from './outline/horizon.ts'
import type { PictureArea } from './smallFrame.ts'

/** What the check knows of a take before it has seen a picture. */
export interface CheckedTake {
  readonly framesPerTurn: number
  readonly overlapFrames: number
  readonly hasEnded: boolean
  /** Seen from above, while the marks rise. */
  readonly turns: 'clockwise' | 'counter-clockwise'
  /** On which side of the platter the pointer stands; null where nobody has said. */
  readonly pointerSide: PointerSide | null
  /** What of the product is to stand on the axis: as a person chose, else as is usual for its outline from above. */
  readonly centreChoice: CentreChoice
  /** The camera before the platter; null where its sensor is not written down. */
  readonly camera: CameraStand | null
  readonly limits: CheckLimits
  /** Where the platter's edge with its mark is seen, as a person drew it; null where nobody has. */
  readonly edgeBand: PictureArea | null
  /** How the axis leans in other rows of the spin, as their newest takes were checked. */
  readonly otherRows: readonly { readonly row: number; readonly lean: Lean }[]
}
