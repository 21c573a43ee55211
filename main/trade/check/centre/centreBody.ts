import type { FrameTrace } from '../frameTrace.ts'
import { type OffsetFit, roundMiddle, shapeMiddle } from './centreFit.ts'
import { type CentreMeasured, leastFrames, type Measured, readingErrorPx } from './centreMeasured.ts'
import { bandEdges, type EdgePair, type TangentFacts } from './tangents.ts'

/** Into so many bands a body is cut, from foot to top, to find the one that turns most evenly. */
const bandCount = 10

/**
 * The middle of the body: of the bands that are round, else of the wide ones that turn most evenly. What stands out
 * from them, a handle or a spout, does not count.
 * @returns null where no band tells it
 */
export function measureBody(traces: readonly FrameTrace[], facts: TangentFacts): Measured | null {
  const bands = Array.from({ length: bandCount }, (_, i) => ({
    from: i / bandCount,
    to: (i + 1) / bandCount,
  }))
  const edges = bands.map((band) => bandEdges(traces, band, facts))
  const rounds = edges.flatMap((band) => fitOf(band, roundMiddle(band, facts)))
  const isRound = rounds.filter(
    ({ rmsMm, radiusMm, share }) => share >= leastShare && rmsMm < roundness(facts, radiusMm),
  )
  const roundest = Math.max(0, ...rounds.map(({ radiusMm }) => radiusMm))
  const bodies = isRound.filter(({ radiusMm }) => radiusMm >= bodyWidth * roundest)
  if (bodies.length > 0) return joined('round body', bodies, facts)
  const shapes = edges.flatMap((band) => fitOf(band, shapeMiddle(band, facts)))
  const widest = Math.max(0, ...shapes.map(({ radiusMm }) => radiusMm))
  const wide = shapes.filter(({ radiusMm }) => radiusMm >= bodyWidth * widest)
  return wide.length === 0 ? null : joined('body', wide, facts)
}

/** A band narrower than this part of the widest is a knob or a neck, not the body. */
const bodyWidth = 0.6

/** A band in which fewer edges agree is not the body. */
const leastShare = 0.6

/** How much the edges of a round body may scatter: a pixel in parts, and the body's own roundness. */
function roundness({ mmPerPx }: TangentFacts, radiusMm: number): number {
  return 0.2 * mmPerPx + 0.006 * radiusMm
}

function fitOf(edges: readonly EdgePair[], fit: OffsetFit | null): readonly OffsetFit[] {
  const known = edges.filter(({ left, right }) => left !== null && right !== null).length
  return fit && known >= Math.max(leastFrames, 0.6 * edges.length) ? [fit] : []
}

/** The bands that turn most evenly, taken together; how far they disagree is in the error bar. */
function joined(measuredOn: CentreMeasured, fits: readonly OffsetFit[], facts: TangentFacts): Measured {
  const unevenness = (fit: OffsetFit) =>
    Math.hypot(fit.rmsMm, fit.lopsidedMm, 0.05 * facts.mmPerPx) / fit.share ** 2
  const least = Math.min(...fits.map(unevenness))
  const even = fits.filter((fit) => unevenness(fit) <= 1.7 * least)
  const weights = even.map((fit) => 1 / (fit.deviationMm ** 2 + (0.03 * facts.mmPerPx) ** 2))
  const whole = weights.reduce((sum, weight) => sum + weight, 0)
  const mean = (of: (fit: OffsetFit) => number) =>
    even.reduce((sum, fit, i) => sum + of(fit) * (weights[i] as number), 0) / whole
  const x = mean((fit) => fit.x)
  const y = mean((fit) => fit.y)
  const apart = Math.sqrt(mean((fit) => (fit.x - x) ** 2 + (fit.y - y) ** 2))
  // Neighbouring bands share what is wrong with them: their number does not make the bar shorter.
  const error = Math.hypot(
    2 * mean((fit) => fit.deviationMm),
    2 * apart,
    2 * mean((fit) => fit.lopsidedMm),
    readingErrorPx * facts.mmPerPx,
  )
  const quality = mean((fit) => fit.share)
  return {
    measuredOn,
    x,
    y,
    axis: mean((fit) => fit.axis),
    error,
    quality,
    radius: mean((fit) => fit.radiusMm),
  }
}
