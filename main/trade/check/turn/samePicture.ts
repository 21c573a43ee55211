import { type Finding, keyAt } from '../finding.ts'
import { noiseOf, stepScaleAt } from './stepScale.ts'
import type { TakeMatches } from './takeMatches.ts'

/** Two frames of the take, from 1, that show the same picture. */
export interface SamePicture {
  readonly first: number
  readonly again: number
}

/** A step may be still that changed less than this many times the noise, or this part of what both beside it did. */
const nothing = 0.75
const little = 0.52
/** Steps run evenly towards a place where the nearer is at least this part of the farther. */
const evenly = 0.8
/** How far apart the same picture is looked for: a hand turns back a mark. */
const farthest = 2

/**
 * Steps (from frame `step` to the next, from 0) in which the product did not turn. A step is told only where the steps
 * on both sides of it are seen to turn, so that a handle hidden behind its mug is no fault; the first and the last
 * step of a take are therefore not told.
 */
export function stillSteps(matches: TakeMatches): ReadonlySet<number> {
  if (matches.fine) return new Set(matches.fine.steps.still)
  const limit = nothing * noiseOf(matches)
  const quiet = new Set<number>()
  for (let step = 0; step + 1 < matches.frames; step++) {
    const changed = matches.distance(step, step + 1)
    const beside = Math.min(stepOrNaN(matches, step - 1), stepOrNaN(matches, step + 1))
    if (changed < limit || changed < little * beside) quiet.add(step)
  }
  const turnsNear = (step: number, way: 1 | -1) =>
    [1, 2].some((by) => Number.isFinite(stepOrNaN(matches, step + way * by)) && !quiet.has(step + way * by))
  const still = [...quiet].filter((step) => {
    if (!turnsNear(step, -1) || !turnsNear(step, 1)) return false
    const scale = stepScaleAt(matches, step, quiet)
    const isLittle = stepOrNaN(matches, step) < little * scale.ofStep
    return scale.isOverNoise && isLittle && !isEndOfSwing(matches, step)
  })
  return new Set(still)
}

/**
 * Whether the steps before and behind grow less towards this one, so that they come to nothing here by themselves: what
 * swings to and fro, as a can off the axis does, stands still at the ends of its swing.
 */
function isEndOfSwing(matches: TakeMatches, step: number): boolean {
  return [-1, 1].every((way) => {
    const near = stepOrNaN(matches, step + way)
    return !(near > evenly * stepOrNaN(matches, step + 2 * way))
  })
}

function stepOrNaN(matches: TakeMatches, step: number): number {
  return matches.distance(step, step + 1)
}

/**
 * Frames that show a picture again that was shot up to two frames before: the platter was not turned, or was turned
 * back (this is not told of fine steps). Frames between which the product is not seen to turn are never the same
 * picture, only alike.
 * @param doubled  frames shot at the mark of the frame before, from 1, as the steps were judged
 */
export function samePictures(matches: TakeMatches, doubled: readonly number[]): readonly SamePicture[] {
  const still = new Set(doubled.map((frame) => frame - 2))
  const found: SamePicture[] = []
  for (let again = 1; again < matches.frames; again++) {
    if (still.has(again - 1)) found.push({ first: again, again: again + 1 })
    else if (!matches.fine) {
      const first = turnedBackTo(matches, again, still)
      if (first !== null) found.push({ first: first + 1, again: again + 1 })
    }
  }
  return found
}

function turnedBackTo(matches: TakeMatches, again: number, still: ReadonlySet<number>): number | null {
  for (let by = 2; by <= farthest && by <= again; by++) {
    const first = again - by
    const steps = Array.from({ length: by }, (_, k) => first + k)
    const turned = Math.min(...steps.filter((at) => !still.has(at)).map((at) => matches.distance(at, at + 1)))
    const isSeen = Number.isFinite(turned) && turned > 2 * nothing * noiseOf(matches)
    if (isSeen && matches.distance(first, again) < Math.min(nothing * noiseOf(matches), turned / 2))
      return first
  }
  return null
}

/** A frame that was shot twice at its mark is to be known and no fault: one of the two goes, and nothing is lost. */
export const shotTwice: Finding['fault'] = null

/** What was found, in words. */
export function samePictureFindings(same: readonly SamePicture[]): readonly Finding[] {
  return same.map(({ first, again }) => ({
    key: keyAt('same picture', first, again),
    frames: [again, first],
    sentence:
      again === first + 1
        ? `Frame ${again} shows the picture of frame ${first} again: the platter was not turned between them. Take one of the two out, and check that the marks still fit.`
        : `Frame ${again} shows the pose of frame ${first} again: the platter was turned back. Take out what was shot twice, and check that the marks still fit.`,
    fault: shotTwice,
  }))
}
