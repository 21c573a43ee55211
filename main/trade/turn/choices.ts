import { formatLength } from '../length.ts'
import { Refusal } from '../refusal.ts'
import { checkFrames, checkLength } from './guard.ts'
import { markGaps, turnMarks } from './marks.ts'

/** A number of frames per turn on a given tape, and how even its steps come out. */
export interface FrameChoice {
  readonly frames: number
  /** True step, rim ÷ frames, in tenths of a micrometre; not always whole. */
  readonly stepUm10: number
  readonly shortestGapUm10: number
  readonly longestGapUm10: number
  /** How many of the turn's gaps are longer than the shortest: each is a jump in the turn. */
  readonly longGaps: number
  /** The worst step jump: longest less shortest gap as a part of the true step. 0 is an even turn. */
  readonly jumpPart: number
  /** Those of the asked frame-set sizes that this number divides into evenly. */
  readonly evenSets: readonly number[]
}

export interface ChoiceRequest {
  readonly rimUm10: number
  readonly divisionUm10: number
  /** The wished frames per turn. */
  readonly frames: number
  /** How far from the wish to look, in frames on either side. */
  readonly within: number
  /** Sizes of the brief's frame sets. */
  readonly setSizes?: readonly number[]
}

/**
 * Numbers of frames per turn near the wished one, best first: by the worst step jump, which neither hand nor
 * eye forgives, then by how many of the brief's frame sets divide them evenly, then by nearness to the wish,
 * then the larger. Numbers whose step is finer than the tape's division are left out.
 */
export function frameChoices(request: ChoiceRequest): FrameChoice[] {
  const { rimUm10, divisionUm10, frames, within, setSizes = [] } = request
  checkLength(rimUm10, 'The rim', 'rim')
  checkLength(divisionUm10, 'The division', 'division')
  checkFrames(frames, 'The number of frames', 'frames', 2)
  checkFrames(within, 'The search', 'within', 0)
  const finest = Math.floor(rimUm10 / divisionUm10)
  const from = Math.max(2, frames - within)
  const to = Math.min(finest, frames + within)
  if (from > to) {
    throw new Refusal(
      'step-under-division',
      `No number of frames near ${frames} has a step of at least ${formatLength(divisionUm10)} on ${formatLength(rimUm10)}. Enter at most ${finest} frames.`,
      { field: 'frames' },
    )
  }
  return Array.from({ length: to - from + 1 }, (_, i) =>
    choice(rimUm10, divisionUm10, from + i, setSizes),
  ).sort(
    (a, b) =>
      a.jumpPart - b.jumpPart ||
      b.evenSets.length - a.evenSets.length ||
      Math.abs(a.frames - frames) - Math.abs(b.frames - frames) ||
      b.frames - a.frames,
  )
}

function choice(
  rimUm10: number,
  divisionUm10: number,
  frames: number,
  setSizes: readonly number[],
): FrameChoice {
  const gaps = markGaps(rimUm10, turnMarks(rimUm10, frames, divisionUm10))
  const shortest = Math.min(...gaps)
  const longest = Math.max(...gaps)
  return {
    frames,
    stepUm10: rimUm10 / frames,
    shortestGapUm10: shortest,
    longestGapUm10: longest,
    longGaps: gaps.filter((gap) => gap > shortest).length,
    jumpPart: ((longest - shortest) * frames) / rimUm10,
    evenSets: setSizes.filter((size) => frames % size === 0),
  }
}
