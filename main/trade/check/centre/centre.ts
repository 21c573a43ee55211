import type { Plan } from '../../product.ts'
import { median } from '../../quantile.ts'
import type { Finding } from '../finding.ts'
import type { FrameTrace } from '../frameTrace.ts'
import { measureBody } from './centreBody.ts'
import { type CentreMeasured, leastFrames, type Measured } from './centreMeasured.ts'
import { measureSweep } from './centreSweep.ts'
import {
  type CentreStanding,
  centreFinding,
  centreSentence,
  centreStanding,
  measuredWords,
  unknownCentre,
} from './centreWords.ts'
import { type Nudge, nudgeOf, type TurnFacts } from './nudge.ts'
import type { CentreCamera, TangentFacts } from './tangents.ts'

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
