import { median } from '../../quantile.ts'
import type { FrameTrace } from '../frameTrace.ts'
import { matchPicture, pictureDistance } from './matching.ts'

type Pictured = Pick<FrameTrace, 'thumb'>

/** A frame of the approved take, and how far the platter had turned since its frame 1. */
export interface PosedFrame {
  readonly trace: Pictured
  readonly angleDeg: number
}

/** In which pose of the approved take the product stands. */
export interface StartPose {
  /** From its frame 1 on, from −180 to 180; over 0 as the platter turns. */
  readonly aheadDeg: number
  readonly steps: number
}

/** Fewer poses lie too far apart to tell one between them. */
const fewestPoses = 12
/** The nearest pose must be so much nearer than half of all poses are, or the goods look alike all round. */
const leastContrast = 1.4

/**
 * The pose of a frame, by where it lies among frames spread over an approved take. Between the nearest pose and its
 * neighbours it is told by how much nearer one of these is: the distance of pictures falls and rises in straight lines
 * (equiangular fit; Shimizu and Okutomi 2001, from memory).
 * @param framesPerTurn  of the approved take
 * @returns null where the pictures do not tell it: too few, of other sides, or goods that look alike all round
 */
export function startPoseOf(
  poses: readonly PosedFrame[],
  newest: Pictured,
  framesPerTurn: number,
): StartPose | null {
  const { widthPx, heightPx } = newest.thumb
  const ofSize = poses
    .filter(({ trace }) => trace.thumb.widthPx === widthPx && trace.thumb.heightPx === heightPx)
    .sort((a, b) => a.angleDeg - b.angleDeg)
  if (ofSize.length < fewestPoses) return null
  const picture = matchPicture(newest.thumb)
  const distances = ofSize.map(({ trace }) => pictureDistance(matchPicture(trace.thumb), picture).distance)
  const nearest = distances.indexOf(Math.min(...distances))
  const here = distances[nearest] ?? 0
  if (median(distances) < leastContrast * here) return null
  const beside = (by: 1 | -1) => {
    const at = (nearest + by + ofSize.length) % ofSize.length
    const away = within180((ofSize[at]?.angleDeg ?? 0) - (ofSize[nearest]?.angleDeg ?? 0))
    return { distance: distances[at] ?? here, gapDeg: Math.abs(away) }
  }
  const [before, after] = [beside(-1), beside(1)]
  const rise = Math.max(before.distance, after.distance) - here
  const share = rise > 0 ? (before.distance - after.distance) / (2 * rise) : 0
  const gapDeg = share > 0 ? after.gapDeg : before.gapDeg
  const aheadDeg = within180((ofSize[nearest]?.angleDeg ?? 0) + share * gapDeg)
  return { aheadDeg, steps: (aheadDeg / 360) * framesPerTurn }
}

function within180(deg: number): number {
  return deg - 360 * Math.round(deg / 360)
}
