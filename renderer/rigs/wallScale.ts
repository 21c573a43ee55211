import { marginsOf } from '../../main/trade/rigDrawing/drawing.ts'
import { type Drawable, drawnRig } from '../../main/trade/rigDrawing/drawnRig.ts'
import { planExtent } from '../../main/trade/rigDrawing/plan.ts'

/** The scale at which every plan of a wall fits its frame, in mm to a px: the one that the widest of them needs. */
export function wallScale(
  revisions: readonly Drawable[],
  frame: { readonly width: number; readonly height: number },
): number {
  const { marginX, marginY } = marginsOf({ ...frame, lettering: null })
  const needed = revisions.map((revision) => {
    const { left, right, top, bottom } = planExtent(drawnRig(revision))
    return Math.max(
      (right - left) / (frame.width - 2 * marginX),
      (bottom - top) / (frame.height - 2 * marginY),
    )
  })
  return Math.max(...needed)
}
