import { leastSquares } from '../centre/leastSquares.ts'
import type { Closed, Window } from './closing.ts'
import { type FineSteps, fineSeam } from './fineSteps.ts'
import type { FineTake } from './fineTake.ts'

/** Frames on each side of the likest one that a parabola is laid through. */
const reach = 4
/** Of them at least so many. */
const leastFrames = 6
/** How far past the last frame a closing can be foreseen, in steps. */
const foreseen = 1.6
/** Another frame so many steps from the closing, and farther, is to look as many steps away: then the closing is sure. */
const away = 4

/** A take as fine steps are told by. */
interface Fine {
  readonly take: FineTake
  readonly steps: FineSteps
}

/**
 * Where a turn of fine steps closes, by a parabola: near the pose of the start the squares of the differences from it grow
 * with the square of the turn, over a floor of noise. The foot lies between two frames, and is told to a small part of
 * a step, where the distance of any one frame is mostly noise. Of a take that ends there the pictures come to no foot:
 * its last frames and its first are laid on one smooth course instead. Null where neither tells.
 */
export function closedFinely({ take, steps }: Fine, start: number, { from, to }: Window): Closed | null {
  const curve = Array.from({ length: to - from + 1 }, (_, k) => from + k)
    .map((period) => ({ period, square: take.squareApart(start, start + period) }))
    .filter(({ square }) => Number.isFinite(square))
  const last = curve.at(-1)
  const foot = last && (nearestFoot(curve) ?? (start === 0 ? footAtSeam(take, steps, last.period) : null))
  if (!foot || foot.period > last.period + foreseen || foot.period < from) return null
  const isForeseen = foot.period > last.period
  return { steps: foot.period, confidence: confidenceOf(curve, foot), isForeseen }
}

/** The foot of the parabola through the frames round it; null where there is none, or too few frames are there. */
function nearestFoot(curve: readonly Likeness[]): Foot | null {
  let foot: Foot | null = null
  let near = curve.reduce((best, one) => (one.square < best.square ? one : best), {
    period: 0,
    square: Number.POSITIVE_INFINITY,
  }).period
  for (let round = 0; round < 3; round++) {
    foot = footOf(curve, near)
    if (foot === null || Math.round(foot.period) === near) return foot
    near = Math.round(foot.period)
  }
  return foot
}

/** The last frames and the first may be at most so many times less smooth than any others. */
const mostRough = 3
/** Starts that are asked: the first frames, so that the last one is about a step before one of them. */
const seams = 3

/** The turn by how far the last frame is from one of the first; null where they do not fit each other. */
function footAtSeam(take: FineTake, { noiseSquare }: FineSteps, last: number): Foot | null {
  const told = Array.from({ length: seams }, (_, first) => ({ first, seam: fineSeam(take, first, last) }))
    .flatMap(({ first, seam }) => (seam ? [{ first, ...seam }] : []))
    .filter(({ steps, square }) => steps < 3 && square < mostRough * noiseSquare)
    .sort((a, b) => Math.abs(a.steps - 1) - Math.abs(b.steps - 1))
  const [best] = told
  if (!best) return null
  // Two pictures differ by the noise of both, and by what a step changes.
  const square = 2 * noiseSquare
  const bend = Math.max(0, take.squareApart(0, 4) - square) / 16
  return bend > 0 ? { period: last - best.first + best.steps, square, bend } : null
}

interface Likeness {
  readonly period: number
  readonly square: number
}

interface Foot extends Likeness {
  /** How the square grows with the square of the steps. */
  readonly bend: number
}

function footOf(curve: readonly Likeness[], near: number): Foot | null {
  const frames = curve.filter(({ period }) => Math.abs(period - near) <= reach)
  if (frames.length < leastFrames) return null
  // The nearer a frame looks, the more it says: far from the foot the curve is no parabola, and its noise is larger.
  const lowest = Math.max(Number.MIN_VALUE, Math.min(...frames.map(({ square }) => square)))
  const fit = leastSquares(
    frames.map(({ period }) => [1, period - near, (period - near) ** 2]),
    frames.map(({ square }) => square),
    { weights: frames.map(({ square }) => (lowest / (square + lowest)) ** 2) },
  )
  const [floor = 0, slope = 0, bend = 0] = fit?.terms ?? []
  if (!(bend > 0)) return null
  const shift = -slope / (2 * bend)
  return Math.abs(shift) > reach ? null : { period: near + shift, square: floor - bend * shift ** 2, bend }
}

/** 1 where every frame farther off looks farther off; 0 where another comes as near. */
function confidenceOf(curve: readonly Likeness[], foot: Foot): number {
  const steps = curve
    .filter(({ period }) => Math.abs(period - foot.period) >= away)
    .map(({ square }) => Math.sqrt(Math.max(0, square - foot.square) / foot.bend))
  return Math.max(0, Math.min(1, Math.min(...steps) / (away - 1)))
}
