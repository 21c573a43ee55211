import type { Plan } from '../../product.ts'
import { median } from '../../quantile.ts'
import type { Finding } from '../finding.ts'
import type { FrameTrace } from '../frameTrace.ts'
import { type OffsetFit, roundMiddle, shapeMiddle } from './centreFit.ts'
import {
  type CentreStanding,
  centreFinding,
  centreSentence,
  centreStanding,
  measuredWords,
  unknownCentre,
} from './centreWords.ts'
import { type Nudge, nudgeOf, type TurnFacts } from './nudge.ts'
import { smallestSweep } from './sweepCircle.ts'
import {
  bandEdges,
  type CentreCamera,
  type EdgePair,
  largestGap,
  outermostEdges,
  type TangentFacts,
  tangentsOf,
  withoutLeaps,
} from './tangents.ts'

/**
 * What is to stand on the axis. 'body': the middle of the body (a base, a neck); a handle or spout does not count.
 * 'least sweep': the middle of the smallest circle that the product stays in as it turns (a shoe, a bag).
 */
export const centreChoices = ['body', 'least sweep'] as const
export type CentreChoice = (typeof centreChoices)[number]

/** The choice for a kind of product, until a person chooses: round goods and boxes by their body, others by their sweep. */
export function defaultChoice(plan: Plan): CentreChoice {
  return plan === 'measured' ? 'least sweep' : 'body'
}

export interface CentreFacts extends TurnFacts {
  /** Where the platter stood for each trace, in degrees; unequal steps as they were. */
  readonly anglesDeg: readonly number[]
  /** Millimetres to a pixel of the small frame at the axis; null where no scale is known: all is told in pixels. */
  readonly mmPerPx: number | null
  readonly choice: CentreChoice
  readonly camera?: CentreCamera
  /** How far off the axis is a fault, in micrometres (`CheckLimits.centreUm`). */
  readonly centreUm: number
}

/** What the offset was measured on. */
export type CentreMeasured = 'round body' | 'body' | 'swept outline'

export interface CentreFound {
  readonly state: 'found'
  readonly choice: CentreChoice
  readonly measuredOn: CentreMeasured
  readonly unit: 'mm' | 'px'
  /** How far off the axis, and the error bar: twice the standard deviation and what the outline cannot tell. */
  readonly offset: number
  readonly error: number
  /** In the pose of 0°: to the right in the picture, and away from the camera. */
  readonly x: number
  readonly y: number
  /** Share of the measured edges that the fit rests on, 0 to 1. */
  readonly quality: number
  /** The radius of the body, or of the circle swept round its own middle. */
  readonly radius: number
  /** The column in which the axis is seen at half height. */
  readonly axisXPx: number
  /** How to bring it to the axis. */
  readonly nudge: Nudge
  readonly measuredWords: string
  /** Against the limit, as far as the error bar tells. */
  readonly standing: CentreStanding
  readonly sentence: string
  readonly findings: readonly Finding[]
}

export interface CentreUnknown {
  readonly state: 'unknown'
  /** Why, and what it waits for. */
  readonly sentence: string
}

/** Fewer frames with an outline tell nothing. */
const leastFrames = 4
/** How much of the turn is needed: what is round shows its middle sooner than what must be seen from all sides. */
const leastArcDeg = { 'round body': 100, body: 200, 'swept outline': 270 } as const
/** An error bar longer than this part of the radius helps nobody. */
const mostOpen = 0.25
/** No two frames next to each other round the turn may lie farther apart, for goods that are not round. */
const mostGapDeg = 100

/**
 * How far the product stands off the axis, from the outlines of some frames at known angles: of a whole take, of a part
 * of it, or of four to eight quick frames. Each edge is an upright plane that touches the product; the planes of all
 * frames give its hull as seen from above, in the perspective of a known camera exactly. An offset is the first harmonic of
 * that hull over the angle (Fourier; what is round or the same from behind has no first harmonic of its own).
 */
export function centreOf(all: readonly FrameTrace[], every: CentreFacts): CentreFound | CentreUnknown {
  const [traces, facts] = thinned(all, every)
  const scaled: TangentFacts = {
    anglesDeg: facts.anglesDeg,
    turns: facts.turns,
    mmPerPx: facts.mmPerPx ?? 1,
    ...(facts.mmPerPx !== null && facts.camera ? { camera: facts.camera } : {}),
  }
  const frames = traces.flatMap(({ silhouette }, i) => (silhouette ? [i] : []))
  if (frames.length < leastFrames) {
    return unknownCentre(
      `The outline of the product was told in ${frames.length} frames; ${leastFrames} are needed.`,
    )
  }
  const seen = coverage(frames.map((frame) => facts.anglesDeg[frame] ?? 0))
  const measured = facts.choice === 'body' ? measureBody(traces, scaled) : measureSweep(traces, scaled)
  if (!measured)
    return unknownCentre(
      'The product’s edges do not tell where its middle is; see that all of it is in the picture.',
    )
  const { measuredOn } = measured
  const isShort = seen.arcDeg < leastArcDeg[measuredOn]
  if (isShort || (measuredOn !== 'round body' && seen.gapDeg > mostGapDeg)) {
    return unknownCentre(
      `Turned ${Math.round(seen.arcDeg)}° so far; its middle is told from ${leastArcDeg[measuredOn]}° on.`,
    )
  }
  return foundCentre(measured, facts, scaled, traces)
}

/** More frames than these tell nothing more: the error bar's floor is reached. */
const mostFrames = 96

function thinned(
  traces: readonly FrameTrace[],
  facts: CentreFacts,
): readonly [readonly FrameTrace[], CentreFacts] {
  if (traces.length <= mostFrames) return [traces, facts]
  const kept = Array.from({ length: mostFrames }, (_, i) => Math.floor((i * traces.length) / mostFrames))
  return [
    kept.map((i) => traces[i] as FrameTrace),
    { ...facts, anglesDeg: kept.map((i) => facts.anglesDeg[i] ?? 0) },
  ]
}

interface Measured {
  readonly measuredOn: CentreMeasured
  readonly x: number
  readonly y: number
  readonly axis: number
  /** Two standard deviations and what the outline cannot tell, in mm. */
  readonly error: number
  readonly quality: number
  readonly radius: number
}

function foundCentre(
  measured: Measured,
  facts: CentreFacts,
  scaled: TangentFacts,
  traces: readonly FrameTrace[],
): CentreFound | CentreUnknown {
  const { x, y, radius, measuredOn, quality } = measured
  const offset = Math.hypot(x, y)
  // Where the camera stands is not known, near things are larger than the scale says: by some hundredths.
  const scaleError = scaled.camera ? 0.01 : 0.04
  const error = Math.hypot(measured.error, scaleError * offset)
  if (!(error < Math.max(mostOpen * radius, 1))) {
    return unknownCentre(
      `The edges of ${traces.length} frames leave its middle open. Take frames at more marks, and see that light and backdrop part it clearly.`,
    )
  }
  const trace = traces[0] as FrameTrace
  const perPx = facts.mmPerPx ?? 1
  const distance = scaled.camera
    ? scaled.camera.distanceMm / Math.cos((scaled.camera.tiltDeg * Math.PI) / 180)
    : 1
  const nudge = nudgeOf(x, y, facts)
  const unit = facts.mmPerPx === null ? 'px' : 'mm'
  const told = { choice: facts.choice, measuredOn, unit, offset, error, quality, nudge } as const
  return {
    state: 'found',
    ...told,
    x,
    y,
    radius,
    axisXPx: trace.widthPx / 2 + (scaled.camera ? Math.tan(measured.axis) * distance : measured.axis) / perPx,
    measuredWords: measuredWords[measuredOn],
    standing: centreStanding(told, facts.centreUm),
    sentence: centreSentence(told, facts.centreUm),
    findings: centreFinding(told, facts.centreUm),
  }
}

/** How far round the turn the frames reach, and the largest gap between two that lie next to each other. */
function coverage(anglesDeg: readonly number[]): { readonly arcDeg: number; readonly gapDeg: number } {
  const places = anglesDeg.map((angle) => ((angle % 360) + 360) % 360).sort((a, b) => a - b)
  const gaps = places.map((place, i) => (places[i + 1] ?? (places[0] ?? 0) + 360) - place)
  const gapDeg = Math.max(...gaps)
  // Frames a usual step apart close the turn: the largest gap is then a step, not a part that was not turned.
  return { arcDeg: gapDeg <= 2.5 * median(gaps) ? 360 : 360 - gapDeg, gapDeg }
}

/** Into so many bands a body is cut, from foot to top, to find the one that turns most evenly. */
const bandCount = 10

function measureBody(traces: readonly FrameTrace[], facts: TangentFacts): Measured | null {
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
    readingError * facts.mmPerPx,
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

/** What remains of an edge's place however many frames there are, in pixels: where in its pixel it falls is not chance. */
const readingError = 0.08

/** How far outwards, in pixels, an edge must leap to be none of the product’s. */
const leapPx = 0.6

const folds = 6

function measureSweep(traces: readonly FrameTrace[], facts: TangentFacts): Measured | null {
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
    2 * readingError * facts.mmPerPx,
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
