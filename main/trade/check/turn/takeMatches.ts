import type { FrameTrace } from '../frameTrace.ts'
import { type FineSteps, fineStepsOf } from './fineSteps.ts'
import { type FineTake, fineFrom, fineTake } from './fineTake.ts'
import { type MatchPicture, matchPicture, noiseDistance, pictureDistance } from './matching.ts'

/** The pictures of a take ready to be matched with each other. Frames are counted from 0 here. */
export interface TakeMatches {
  readonly frames: number
  /** How far apart two pictures of the very same thing are in this take, by their noise. */
  readonly noise: number
  /**
   * How far two frames are apart once the noise is taken out: 0 where they differ by no more than it. NaN where one
   * of them is not in the take or could not be read.
   */
  distance(a: number, b: number): number
  /** Of a take with so many frames per turn that one step changes too little to be told by distance; else null. */
  readonly fine: { readonly take: FineTake; readonly steps: FineSteps } | null
}

/**
 * Makes a take's frames ready to be matched. A frame that could not be read is null. Each pair is measured once.
 * @param framesPerTurn  as planned; where it is not known, steps are told by distance
 */
export function takeMatches(
  traces: readonly (Pick<FrameTrace, 'thumb'> | null)[],
  framesPerTurn = 0,
): TakeMatches {
  const size = traces.find((trace) => trace !== null)?.thumb
  const pictures = traces.map((trace) => {
    const isLike = trace?.thumb.widthPx === size?.widthPx && trace?.thumb.heightPx === size?.heightPx
    return trace && isLike ? matchPicture(trace.thumb) : null
  })
  const noise = noiseDistance(pictures.filter((picture): picture is MatchPicture => picture !== null))
  const measured = new Map<number, number>()
  const take = framesPerTurn >= fineFrom ? fineTake(pictures) : null
  return {
    fine: take && { take, steps: fineStepsOf(take) },
    frames: traces.length,
    noise,
    distance(a, b) {
      const first = pictures[Math.min(a, b)]
      const second = pictures[Math.max(a, b)]
      if (!first || !second) return Number.NaN
      const key = Math.min(a, b) * pictures.length + Math.max(a, b)
      const known = measured.get(key)
      if (known !== undefined) return known
      const { distance } = pictureDistance(first, second)
      const found = Math.sqrt(Math.max(0, distance ** 2 - noise ** 2))
      measured.set(key, found)
      return found
    },
  }
}
