import type { FrameTrace } from '../frameTrace.ts'
import { shapeMiddle } from './centreFit.ts'
import { type Measured, readingErrorPx } from './centreMeasured.ts'
import { smallestSweep } from './sweepCircle.ts'
import { largestGap, outermostEdges, type TangentFacts, tangentsOf, withoutLeaps } from './tangents.ts'

/** How far outwards, in pixels, an edge must leap to be none of the product’s. */
const leapPx = 0.6

/** Into so many parts the frames are dealt to see how far the circle moves without one of them. */
const folds = 6

/**
 * The middle of the smallest circle that all of the product stays in as it turns.
 * @returns null where the edges do not tell where the axis is seen
 */
export function measureSweep(traces: readonly FrameTrace[], facts: TangentFacts): Measured | null {
  const edges = outermostEdges(traces, facts)
  const known = edges.filter(({ left, right }) => left !== null && right !== null)
  // The axis is where both sides of a turn agree it is, whatever the shape: the fit of the shape tells it.
  const shape = shapeMiddle(known, facts)
  if (!shape) return null
  const tangents = withoutLeaps(tangentsOf(known, shape.axis, facts), leapPx * facts.mmPerPx)
  const circle = smallestSweep(tangents)
  // What leaves out a sixth of the frames moves by as much as the edges leave open (the jackknife; Quenouille 1956).
  const others = Array.from({ length: folds }, (_, fold) =>
    smallestSweep(tangents.filter(({ frame }) => frame % folds !== fold)),
  )
  const middle = (of: 'x' | 'y') => others.reduce((sum, other) => sum + other[of], 0) / folds
  const [mx, my] = [middle('x'), middle('y')]
  const spread = others.reduce((sum, { x, y }) => sum + (x - mx) ** 2 + (y - my) ** 2, 0)
  // Between two tangents a corner may stand out unseen: a circle round what they leave is too small by its sagitta.
  const unseen = circle.radiusMm * (1 - Math.cos(largestGap(tangents) / 2))
  const error = Math.hypot(
    2 * Math.sqrt(((folds - 1) / folds) * spread),
    2 * readingErrorPx * facts.mmPerPx,
    unseen,
  )
  return {
    measuredOn: 'swept outline',
    x: circle.x,
    y: circle.y,
    axis: shape.axis,
    error,
    quality: tangents.length / (2 * edges.length),
    radius: circle.radiusMm,
  }
}
