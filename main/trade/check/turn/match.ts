import type { FrameTrace, Silhouette } from '../frameTrace.ts'
import { type BackdropLimits, backdropDifference, usualBackdropLimits } from '../light/backdrop.ts'
import { type Lean, leanBetween } from '../outline/horizon.ts'
import { leanText } from '../outline/horizonWords.ts'
import type { StartPose } from './startPose.ts'

/** How the newest frame differs from the approved one, and what to do about it. Lengths as fractions of its width. */
export interface FrameMatch {
  /** In EV; over 0 the newest is brighter. Null where the backdrop does not tell it. */
  readonly exposureEv: number | null
  /** How many times as high the product stands in the picture as approved. Null where no outline was found. */
  readonly scale: number | null
  /** How far the product stands to the right of the approved place, and below it, as fractions of the picture's width. */
  readonly rightPart: number | null
  readonly belowPart: number | null
  /** How the picture leans against the approved one. Null where the outlines do not tell it, as in another pose. */
  readonly lean: Lean | null
  /** In which pose of the approved take it stands; null where the picture does not tell it. */
  readonly pose: StartPose | null
  /** What to do, the first thing first. None: what can be told matches. */
  readonly sentences: readonly string[]
}

export interface MatchLimits extends BackdropLimits {
  readonly scale: number
  readonly placePart: number
  readonly leanDeg: number
}

/** Common practice, no published source. */
export const usualMatchLimits: MatchLimits = {
  ...usualBackdropLimits,
  scale: 0.01,
  placePart: 0.004,
  leanDeg: 0.3,
}

/** A pose between frames of a contact strip is told to some 3°: what is nearer is seen by the ghost. Measured on rendered takes. */
const samePoseDeg = 4

/**
 * The newest frame against the approved one, both of one size.
 * @param pose     where its pose lies in the approved take (`startPoseOf`); null where that is not told
 * @param widthMm  the width that the picture shows at the axis; null where the scale is not known
 */
export function matchFrames(
  approved: FrameTrace,
  newest: FrameTrace,
  pose: StartPose | null,
  widthMm: number | null,
  limits: MatchLimits = usualMatchLimits,
): FrameMatch {
  const backdrop =
    approved.backdropRgb && newest.backdropRgb
      ? backdropDifference(approved.backdropRgb, newest.backdropRgb, limits)
      : null
  const place =
    approved.silhouette && newest.silhouette
      ? placeOf(approved.silhouette, newest.silhouette, approved.widthPx)
      : { scale: null, rightPart: null, belowPart: null }
  const placed = placeSentences(place, widthMm, limitsFor(approved, limits))
  const lean =
    approved.silhouette && newest.silhouette ? leanBetween(approved.silhouette, newest.silhouette) : null
  const leans =
    lean && Math.abs(lean.leanDeg) > Math.max(limits.leanDeg, lean.errorDeg) ? [leanSentence(lean)] : []
  // While the product stands elsewhere, its picture differs whatever its pose.
  const posed =
    placed.length === 0 && pose !== null && Math.abs(pose.aheadDeg) > samePoseDeg ? [poseSentence(pose)] : []
  return {
    exposureEv: backdrop?.isTold ? backdrop.exposureEv : null,
    ...place,
    lean,
    pose,
    sentences: [...placed, ...leans, ...(backdrop?.sentences ?? []), ...posed],
  }
}

/** The match in a few words: what could not be compared is never said to match. */
export function matchWords({
  exposureEv,
  scale,
  rightPart,
  belowPart,
  lean,
  pose,
  sentences,
}: FrameMatch): string {
  if (sentences.length > 0)
    return `${sentences.length}\u00a0thing${sentences.length === 1 ? '' : 's'} to set right`
  const told = [exposureEv, scale, rightPart, belowPart, lean, pose].map((figure) => figure !== null)
  if (!told.includes(true)) return 'It cannot be told by these pictures.'
  return told.includes(false) ? 'What can be told matches.' : 'It matches.'
}

/** Rows are whole: what is less than a row and a half of the small picture cannot be told. */
function limitsFor({ silhouette, widthPx }: FrameTrace, limits: MatchLimits): MatchLimits {
  return {
    ...limits,
    scale: Math.max(limits.scale, 1.5 / (silhouette?.leftPx.length ?? 1)),
    placePart: Math.max(limits.placePart, 1.5 / widthPx),
  }
}

type Place = Pick<FrameMatch, 'scale' | 'rightPart' | 'belowPart'>

/** By height and foot: both hold when an unsymmetrical product stands in another pose, its width does not. */
function placeOf(approved: Silhouette, newest: Silhouette, widthPx: number): Place {
  const footOf = ({ topPx, leftPx }: Silhouette) => topPx + leftPx.length
  return {
    scale: newest.leftPx.length / approved.leftPx.length,
    rightPart: (newest.centroidXPx - approved.centroidXPx) / widthPx,
    belowPart: (footOf(newest) - footOf(approved)) / widthPx,
  }
}

function placeSentences(
  { scale, rightPart, belowPart }: Place,
  widthMm: number | null,
  limits: MatchLimits,
): readonly string[] {
  const far = (part: number) =>
    widthMm === null
      ? `${(100 * Math.abs(part)).toFixed(1)}\u00a0% of the picture’s width`
      : `${Math.round(Math.abs(part) * widthMm)}\u00a0mm`
  const sentences: string[] = []
  if (scale !== null && Math.abs(scale - 1) > limits.scale) {
    const percent = `${(100 * Math.abs(scale - 1)).toFixed(1)}\u00a0%`
    sentences.push(
      scale > 1
        ? `The product is ${percent} larger than approved: move the camera back, or zoom out.`
        : `The product is ${percent} smaller than approved: move the camera closer, or zoom in.`,
    )
  }
  if (rightPart !== null && Math.abs(rightPart) > limits.placePart) {
    const [is, turn] = rightPart > 0 ? ['right', 'right'] : ['left', 'left']
    sentences.push(`The product stands ${far(rightPart)} too far ${is}: pan the camera to the ${turn}.`)
  }
  if (belowPart !== null && Math.abs(belowPart) > limits.placePart) {
    const [is, tilt] = belowPart > 0 ? ['low', 'down'] : ['high', 'up']
    sentences.push(`The product’s foot stands ${far(belowPart)} too ${is}: tilt the camera ${tilt}.`)
  }
  return sentences
}

function leanSentence(lean: Lean): string {
  return `The picture leans ${leanText(lean)} against the approved one: turn the camera by that ${lean.leanDeg > 0 ? 'clockwise' : 'counter-clockwise'}, as seen from behind it, until the horizons fit.`
}

function poseSentence({ aheadDeg, steps }: StartPose): string {
  const [is, turn] = aheadDeg > 0 ? ['on', 'against the way'] : ['back', 'the way']
  const far = `${Math.round(Math.abs(aheadDeg))}°, some ${Math.max(1, Math.round(Math.abs(steps)))}\u00a0steps`
  return `The product stands about ${far}, further ${is} in the turn than approved: turn it by that ${turn} the platter turns, until it fits the approved frame.`
}
