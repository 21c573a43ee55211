import { quantile } from '../../quantile.ts'
import type { TakeMatches } from './takeMatches.ts'

/**
 * Part of the distance of any two frames as far apart that frames on both ways may differ by: drawn cans off the axis
 * came to 0.7 at most, since they also come nearer and go away, and solids with a front and a back to 0.8 at least.
 */
const sameWay = 0.75
/** Pairs of frames that are compared round one middle. */
const pairs = 8
/** Middles that are tried: in a long take each stands for its neighbours. */
const mostMiddles = 80
/** Of fewer frames no swing is told. */
const leastFrames = 16

/**
 * Whether the pictures run to and fro: from some middle on, each frame is like the one as far before it. So a can or a
 * bottle off the axis is seen, which only swings from side to side; what has a front and a back never looks the same
 * on both ways. Its steps differ from nothing at the ends of the swing to most between them, and tell of no mark.
 */
export function onlySwings({ frames, distance }: TakeMatches): boolean {
  if (frames < leastFrames) return false
  // An end of the swing comes every half turn: with a quarter on both sides of it one always lies between.
  const from = Math.ceil(frames / 10)
  const to = Math.floor(frames / 4)
  const reaches = Array.from({ length: pairs }, (_, k) => Math.round(from + (k * (to - from)) / (pairs - 1)))
  const starts = spread(0, frames - 2 * to - 1)
  // Two frames as far apart, wherever they are.
  const any = quantileOf(
    starts.flatMap((start) => reaches.map((reach) => distance(start, start + 2 * reach))),
    0.5,
  )
  // The sum of both frames' places: an odd one is a middle between two frames.
  return spread(2 * to, 2 * (frames - to - 1)).some((sum) => {
    const [before, behind] = [Math.ceil(sum / 2), Math.floor(sum / 2)]
    return (
      quantileOf(
        reaches.map((reach) => distance(before - reach, behind + reach)),
        0.9,
      ) <
      sameWay * any
    )
  })
}

/** Whole numbers from the first to the last, at most `mostMiddles` of them, evenly. */
function spread(first: number, last: number): readonly number[] {
  const every = Math.max(1, Math.ceil((last - first) / mostMiddles))
  return Array.from({ length: Math.floor((last - first) / every) + 1 }, (_, k) => first + k * every)
}

function quantileOf(values: readonly number[], part: number): number {
  const told = values.filter(Number.isFinite)
  return told.length === 0 ? Number.NaN : quantile(told, part)
}
