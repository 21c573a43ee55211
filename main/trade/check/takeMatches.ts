import type { FrameTrace } from './frameTrace.ts'
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
}

/** Makes a take's frames ready to be matched. A frame that could not be read is null. Each pair is measured once. */
export function takeMatches(traces: readonly (Pick<FrameTrace, 'thumb'> | null)[]): TakeMatches {
  const size = traces.find((trace) => trace !== null)?.thumb
  const pictures = traces.map((trace) => {
    const isLike = trace?.thumb.widthPx === size?.widthPx && trace?.thumb.heightPx === size?.heightPx
    return trace && isLike ? matchPicture(trace.thumb) : null
  })
  const noise = noiseDistance(pictures.filter((picture): picture is MatchPicture => picture !== null))
  const measured = new Map<number, number>()
  return {
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
