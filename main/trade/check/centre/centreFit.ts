import { median } from '../../quantile.ts'
import { fittedValue, leastSquares } from './leastSquares.ts'
import { type EdgePair, type Tangent, type TangentFacts, tangentsOf } from './tangents.ts'

/** Where the middle of something stands in the pose of 0°: mm to the right and away from the camera, off the axis. */
export interface OffsetFit {
  readonly x: number
  readonly y: number
  /** The azimuth at which the axis is seen. */
  readonly axis: number
  /** Standard deviation of the place, in mm, from the scatter of the edges alone. */
  readonly deviationMm: number
  /** Scatter of the edges that the fit rests on, in mm. */
  readonly rmsMm: number
  /** How far the shape is from being the same from behind, in mm: what a fit cannot tell from an offset. */
  readonly lopsidedMm: number
  /** Share of the edges the fit rests on. */
  readonly share: number
  readonly radiusMm: number
}

type Terms = (tangent: Tangent) => readonly number[]

/** A round body: its tangents lie at one distance from its middle. Then comes which side sees it, for the axis. */
const round: Terms = ({ phi, side }) => [1, Math.cos(phi), Math.sin(phi), side]

/** A shape with harmonics of its own: even ones are the same from behind, odd ones from the third on are not. */
function shaped(even: number, odd: number): Terms {
  return ({ phi, side }) => {
    const row = [1, Math.cos(phi), Math.sin(phi), side]
    for (let k = 2; k <= even; k += 2) row.push(Math.cos(k * phi), Math.sin(k * phi))
    for (let k = 3; k <= odd; k += 2) row.push(Math.cos(k * phi), Math.sin(k * phi))
    return row
  }
}

/**
 * The middle of a round body. A handle or spout only ever pushes an edge outwards: edges that lie outwards of the rest
 * lose their weight (iteratively reweighted least squares, Tukey's biweight on one side).
 * @returns null where the edges do not tell it
 */
export function roundMiddle(edges: readonly EdgePair[], facts: TangentFacts): OffsetFit | null {
  return withAxis(edges, facts, (tangents) => {
    let weights = tangents.map(() => 1)
    let fit = fitted(tangents, round, weights)
    for (let pass = 0; pass < roundPasses && fit; pass++) {
      const { terms } = fit
      const residuals = tangents.map((tangent) => tangent.mm - fittedValue(terms, round(tangent)))
      // The scatter is told by the inward half: nothing pushes an edge inwards.
      const inward = residuals.filter((residual) => residual < 0).map((residual) => -residual)
      const scale = Math.max(1.4826 * (inward.length > 0 ? median(inward) : 0), 1e-4)
      weights = residuals.map((residual) => outwardWeight(residual / scale))
      fit = fitted(tangents, round, weights)
    }
    return fit && { ...fit, weights, terms: fit.terms, rowOf: round, lopsidedMm: 0 }
  })
}

const roundPasses = 12

function outwardWeight(scaled: number): number {
  if (scaled <= 1) return 1
  const part = scaled / 5
  return part >= 1 ? 0 : (1 - part * part) ** 2
}

/**
 * The middle of a shape that is the same from behind, such as a box: its own harmonics are even and tell nothing of an
 * offset, which is the first. Odd harmonics beside the first show that the shape is not the same from behind.
 * @returns null where the edges do not tell it
 */
export function shapeMiddle(edges: readonly EdgePair[], facts: TangentFacts): OffsetFit | null {
  const frames = edges.filter(({ left, right }) => left !== null && right !== null).length
  const even = frames >= 16 ? 8 : frames >= 8 ? 4 : 2
  return withAxis(edges, facts, (tangents) => {
    const rowOf = shaped(even, 1)
    const weights = tangents.map(() => 1)
    const fit = fitted(tangents, rowOf, weights)
    if (!fit) return null
    const odd = frames >= 12 ? fitted(tangents, shaped(even, 5), weights) : null
    const lopsidedMm = odd ? Math.hypot(...odd.terms.slice(-4)) : 0
    return { ...fit, weights, rowOf, lopsidedMm }
  })
}

interface Solved {
  readonly terms: readonly number[]
  readonly covariance: readonly (readonly number[])[]
  readonly weights: readonly number[]
  readonly rowOf: Terms
  readonly lopsidedMm: number
}

function fitted(tangents: readonly Tangent[], rowOf: Terms, weights: readonly number[]) {
  return leastSquares(
    tangents.map(rowOf),
    tangents.map(({ mm }) => mm),
    { weights },
  )
}

/** Fits, moves the axis to where the two sides say it is seen, and fits again. */
function withAxis(
  edges: readonly EdgePair[],
  facts: TangentFacts,
  solve: (tangents: readonly Tangent[]) => Solved | null,
): OffsetFit | null {
  let axis = axisGuess(edges)
  let found: OffsetFit | null = null
  for (let pass = 0; pass < 3; pass++) {
    const tangents = tangentsOf(edges, axis, facts)
    const solved = tangents.length < 6 ? null : solve(tangents)
    if (!solved) return null
    found = offsetFit(tangents, solved, axis)
    const aside = solved.terms[3] ?? 0
    axis += facts.camera ? aside / facts.camera.distanceMm : aside
  }
  return found
}

/** The middle of all middles: near the axis over a turn, and near enough to begin with over a part of one. */
function axisGuess(edges: readonly EdgePair[]): number {
  const middles = edges.flatMap(({ left, right }) =>
    left === null || right === null ? [] : [(left + right) / 2],
  )
  return middles.length === 0 ? 0 : middles.reduce((sum, middle) => sum + middle, 0) / middles.length
}

/** An edge counts as what the fit rests on from this weight. */
const restsOn = 0.5

function offsetFit(tangents: readonly Tangent[], solved: Solved, axis: number): OffsetFit {
  const { terms, covariance, weights, rowOf } = solved
  let squares = 0
  let held = 0
  tangents.forEach((tangent, i) => {
    if ((weights[i] ?? 0) < restsOn) return
    held++
    squares += (tangent.mm - fittedValue(terms, rowOf(tangent))) ** 2
  })
  const variance = squares / Math.max(1, held - terms.length)
  const [, x = 0, y = 0] = terms
  const spread = (covariance[1]?.[1] ?? 0) + (covariance[2]?.[2] ?? 0)
  return {
    x,
    y,
    axis,
    deviationMm: Math.sqrt(variance * spread),
    rmsMm: Math.sqrt(variance),
    lopsidedMm: solved.lopsidedMm,
    share: held / tangents.length,
    radiusMm: terms[0] ?? 0,
  }
}
