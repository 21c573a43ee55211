import { median } from '../../quantile.ts'
import { onlySwings } from './swing.ts'
import type { TakeMatches } from './takeMatches.ts'

/**
 * What a step of the turn looks like at one place of the take. How much of the picture a step changes depends on the
 * pose, so it is told from the steps beside the place, never from the whole take.
 */
export interface StepScale {
  /** Distance of two frames that are one step apart. */
  readonly ofStep: number
  /** The distance of n steps is that of one times n to this power: 1 for soft shapes, ½ for sharp edges. */
  readonly power: number
  /** Whether there are steps on both sides: one side alone does not tell how the steps change with the pose. */
  readonly isBetween: boolean
  /** Whether the steps on both sides are far enough over the noise. */
  readonly isOverNoise: boolean
  /** Whether a step can be judged here: it is over the noise, and two steps look different from one. */
  readonly isSeen: boolean
}

/** Part of a take's steps that have to be seen for the product to be told from one that looks alike all round. */
const leastSeen = 0.9

/** Whether the product is seen to turn: a can, in the middle of the platter or off it, or a plain cup, is not. */
export function turnIsSeen(matches: TakeMatches): boolean {
  return stepsAreSeen(matches) && !onlySwings(matches)
}

function stepsAreSeen(matches: TakeMatches): boolean {
  if (matches.fine) return matches.fine.steps.isSeen
  const steps = Array.from({ length: Math.max(0, matches.frames - 1) }, (_, step) =>
    matches.distance(step, step + 1),
  ).filter(Number.isFinite)
  const seen = steps.filter((distance) => distance > leastOverNoise * noiseOf(matches))
  return seen.length > leastSeen * steps.length
}

/** How far on each side a whole step is looked for. */
const beside = 4
/** A step below this many times the noise is not seen. */
const leastOverNoise = 1.2
/** Noise that is counted with at least: the codes of a picture are rounded. */
const leastNoise = 0.001
/** Below this power two steps look like one: the pictures are as unlike as they can get. */
const leastPower = 0.12
const mostPower = 1

/** The noise of a take as it is counted with. */
export function noiseOf(matches: TakeMatches): number {
  return Math.max(matches.noise, leastNoise)
}

/**
 * The scale for the step from frame `step` to the next (frames from 0): the geometric mean of the nearest step before
 * and the nearest behind it, without those that are known to be faulty.
 */
export function stepScaleAt(matches: TakeMatches, step: number, faulty: ReadonlySet<number>): StepScale {
  const isWhole = (at: number) => !faulty.has(at) && Number.isFinite(matches.distance(at, at + 1))
  const before = places(step, -1).filter(isWhole)
  const behind = places(step, 1).filter(isWhole)
  return scaleOf(matches, [before, behind])
}

/** The scale where the turn closes on frame `start`: by the steps from it and those that lead up to `last`. */
export function seamScale(
  matches: TakeMatches,
  start: number,
  last: number,
  faulty: ReadonlySet<number>,
): StepScale {
  const isWhole = (at: number) => !faulty.has(at) && Number.isFinite(matches.distance(at, at + 1))
  const before = places(last, -1).filter((at) => at >= start && isWhole(at))
  const behind = places(start - 1, 1).filter((at) => at < last && isWhole(at))
  return scaleOf(matches, [before, behind])
}

function places(step: number, way: 1 | -1): number[] {
  return Array.from({ length: beside }, (_, k) => step + way * (k + 1))
}

/** @param sides  whole steps on either side, the nearest first */
function scaleOf(matches: TakeMatches, sides: readonly (readonly number[])[]): StepScale {
  const nearest = sides.flatMap((steps) => steps.slice(0, 1).map((at) => matches.distance(at, at + 1)))
  const isBetween = nearest.length === sides.length
  if (nearest.length === 0) {
    return { ofStep: Number.NaN, power: mostPower, isBetween, isOverNoise: false, isSeen: false }
  }
  const ofStep = Math.exp(nearest.reduce((sum, one) => sum + Math.log(one), 0) / nearest.length)
  const power = powerOf(matches, sides.flat())
  const isOverNoise = Math.min(...nearest) > leastOverNoise * noiseOf(matches)
  return { ofStep, power, isBetween, isOverNoise, isSeen: isOverNoise && power >= leastPower }
}

/** By how two steps in a row compare with the mean of the two. */
function powerOf(matches: TakeMatches, steps: readonly number[]): number {
  const among = new Set(steps)
  const powers = steps
    .filter((step) => among.has(step + 1))
    .map((step) => {
      const one = (matches.distance(step, step + 1) + matches.distance(step + 1, step + 2)) / 2
      return Math.log2(matches.distance(step, step + 2) / one)
    })
    .filter(Number.isFinite)
  return powers.length === 0 ? 0.5 : Math.min(mostPower, median(powers))
}

/** How many steps two frames are apart whose distance this is. Best up to about three. */
export function stepsOfDistance({ ofStep, power }: StepScale, distance: number): number {
  return (distance / ofStep) ** (1 / Math.max(power, leastPower))
}
