import { leastSquares } from '../centre/leastSquares.ts'
import type { Closed, Window } from './closing.ts'
import type { FineTake } from './fineTake.ts'

/** Frames on each side of the likest one that a parabola is laid through. */
const reach = 4
/** Of them at least so many. */
const leastFrames = 6
/** How far past the last frame a closing can be foreseen, in steps. */
const foreseen = 1.6
/** Another frame so many steps from the closing, and farther, is to look as many steps away: then the closing is sure. */
const away = 4

/**
 * Where a turn of fine steps closes, by a parabola: near the pose of the start the squares of the differences from it grow
 * with the square of the turn, over a floor of noise. The foot lies between two frames, and is told to a small part of
 * a step, where the distance of any one frame is mostly noise. Null where the pictures come to no foot.
 */
export function closedFinely(take: FineTake, start: number, { from, to }: Window): Closed | null {
  const curve = Array.from({ length: to - from + 1 }, (_, k) => from + k)
    .map((period) => ({ period, square: take.squareApart(start, start + period) }))
    .filter(({ square }) => Number.isFinite(square))
  let foot: Foot | null = null
  let near = curve.reduce((best, one) => (one.square < best.square ? one : best), {
    period: 0,
    square: Number.POSITIVE_INFINITY,
  }).period
  for (let round = 0; round < 3; round++) {
    foot = footOf(curve, near)
    if (foot === null) return null
    if (Math.round(foot.period) === near) break
    near = Math.round(foot.period)
  }
  const last = curve.at(-1)
  if (!foot || !last || foot.period > last.period + foreseen || foot.period < from) return null
  const isForeseen = foot.period > last.period
  return { steps: foot.period, confidence: confidenceOf(curve, foot), isForeseen }
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
