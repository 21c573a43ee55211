import { median } from '../../quantile.ts'
import type { FrameTrace } from '../frameTrace.ts'

/** Where the camera stands, as far as the rig tells it: level distance to the axis, and how far it looks down. */
export interface CentreCamera {
  readonly distanceMm: number
  readonly tiltDeg: number
}

/** What the outlines are read by. */
export interface TangentFacts {
  /** Where the platter stood for each frame, in degrees of the turn; missed steps and edge marks count as they are. */
  readonly anglesDeg: readonly number[]
  /** Seen from above, while the marks rise. */
  readonly turns: 'clockwise' | 'counter-clockwise'
  /** Millimetres to a pixel of the small frame, at the axis. */
  readonly mmPerPx: number
  /** Left out, the camera counts as far away. */
  readonly camera?: CentreCamera
}

/**
 * One side of the product in one frame: an upright plane that touches it. It is told by the direction in which it faces
 * outwards, in the pose of 0° (radians, counter-clockwise from the picture's right seen from above), and by how far it
 * lies from the axis. A product's hull as seen from above is what all its tangents leave.
 */
export interface Tangent {
  readonly frame: number
  readonly side: 1 | -1
  readonly phi: number
  readonly mm: number
}

/** Reads a column of a row as the azimuth of its sight line, in radians to the right; the same for a point at any height. */
export type Azimuth = (xPx: number, rowPx: number) => number

/**
 * The azimuth of what is seen at a place. An upright plane through the camera is one azimuth, whatever the height, so
 * that the outline of the product seen from above is told exactly, in perspective too.
 */
function azimuthOf({ widthPx, heightPx }: FrameTrace, { mmPerPx, camera }: TangentFacts): Azimuth {
  if (!camera) return (x) => (x - widthPx / 2) * mmPerPx
  const tilt = (camera.tiltDeg * Math.PI) / 180
  const focalPx = camera.distanceMm / Math.cos(tilt) / mmPerPx
  return (x, row) =>
    Math.atan((x - widthPx / 2) / (focalPx * Math.cos(tilt) + (heightPx / 2 - row) * Math.sin(tilt)))
}

/** A tangent from the azimuth of an edge, with the axis seen at `axis`. */
function tangentOf(frame: number, side: 1 | -1, azimuth: number, axis: number, facts: TangentFacts): Tangent {
  const turned = (((facts.turns === 'clockwise' ? 1 : -1) * (facts.anglesDeg[frame] ?? 0)) / 180) * Math.PI
  const from = azimuth - axis
  const facing = turned + (side === 1 ? 0 : Math.PI)
  if (!facts.camera) return { frame, side, phi: facing, mm: side * from }
  return { frame, side, phi: facing - from, mm: side * facts.camera.distanceMm * Math.sin(from) }
}

/** Azimuths of the left and right edge of a part of the product in one frame; null where the edge is not known. */
export interface EdgePair {
  readonly frame: number
  readonly left: number | null
  readonly right: number | null
}

/** A part of the product by height, 0 at its foot and 1 at its top. */
export interface Band {
  readonly from: number
  readonly to: number
}

/** The middle of the edges of all rows of a band, frame by frame. */
export function bandEdges(
  traces: readonly FrameTrace[],
  band: Band,
  facts: TangentFacts,
): readonly EdgePair[] {
  return traces.map((trace, frame) => {
    const { silhouette } = trace
    if (!silhouette) return { frame, left: null, right: null }
    const azimuth = azimuthOf(trace, facts)
    const rows = silhouette.leftPx.length
    const first = Math.ceil(rows * (1 - band.to))
    const last = Math.min(rows - 1, Math.floor(rows * (1 - band.from)))
    const of = (edge: Float32Array) => {
      const seen: number[] = []
      for (let row = first; row <= last; row++) {
        const x = edge[row] as number
        if (x > 0.5 && x < trace.widthPx - 0.5) seen.push(azimuth(x, silhouette.topPx + row + 0.5))
      }
      return seen.length < Math.max(1, (last - first + 1) / 2) ? null : median(seen)
    }
    return { frame, left: of(silhouette.leftPx), right: of(silhouette.rightPx) }
  })
}

/** Rows whose edge lies within so many pixels of the outermost belong to it: their middle has less noise than the outermost. */
const outermostPx = 0.6

/**
 * The outermost edges of all rows, frame by frame; three rows must agree, so that a stray pixel is no edge. A frame in
 * which the product touches the picture's side tells nothing.
 */
export function outermostEdges(traces: readonly FrameTrace[], facts: TangentFacts): readonly EdgePair[] {
  return traces.map((trace, frame) => {
    const { silhouette } = trace
    const isCut =
      silhouette?.leftPx.some((x) => x <= 0.5) || silhouette?.rightPx.some((x) => x >= trace.widthPx - 0.5)
    if (!silhouette || isCut) return { frame, left: null, right: null }
    const azimuth = azimuthOf(trace, facts)
    const pixel =
      azimuth(trace.widthPx / 2 + 1, trace.heightPx / 2) - azimuth(trace.widthPx / 2, trace.heightPx / 2)
    const outermost = (edge: Float32Array, side: 1 | -1) => {
      const seen = Array.from(edge, (x, row) => side * azimuth(x, silhouette.topPx + row + 0.5))
      const known = seen.filter((value) => !Number.isNaN(value))
      if (known.length < 3) return null
      let most = Number.NEGATIVE_INFINITY
      for (let i = 0; i + 2 < known.length; i++) most = Math.max(most, median(known.slice(i, i + 3)))
      const near = known.filter((value) => Math.abs(value - most) <= outermostPx * pixel)
      return side * median(near)
    }
    return { frame, left: outermost(silhouette.leftPx, -1), right: outermost(silhouette.rightPx, 1) }
  })
}

/** The tangents of edges, with the axis seen at `axis`. */
export function tangentsOf(
  edges: readonly EdgePair[],
  axis: number,
  facts: TangentFacts,
): readonly Tangent[] {
  return edges.flatMap(({ frame, left, right }) => [
    ...(left === null ? [] : [tangentOf(frame, -1, left, axis, facts)]),
    ...(right === null ? [] : [tangentOf(frame, 1, right, axis, facts)]),
  ])
}

/** Beside a tangent so far round, in radians, others are looked at that bound it. */
const besideAngle = (25 * Math.PI) / 180

/**
 * Leaves out tangents that no point of a product can touch, since those beside it on both sides leave none there: of a
 * hull h over the direction φ, h(φ)·sin(a + b) ≤ h(φ − a)·sin b + h(φ + b)·sin a (its support function is convex). A mark
 * on the platter seen beside the product leaps so for some frames. By the middle of all pairs that bound it, so that
 * others which leap, or lie too far inwards, do not decide.
 * Where tangents lie more than 7.5° apart nothing can be said, and all stay.
 * @param least  by how much one must leap at least, in mm
 */
export function withoutLeaps(tangents: readonly Tangent[], least: number): readonly Tangent[] {
  const sorted = tangents
    .map((tangent) => ({ tangent, phi: full(tangent.phi) }))
    .sort((a, b) => a.phi - b.phi)
  const count = sorted.length
  if (count < leastForLeaps) return tangents
  const at = (i: number) => sorted[(i + count) % count] as (typeof sorted)[number]
  return sorted.flatMap(({ tangent, phi }, i) => {
    const leaps: number[] = []
    for (let k = 1; k < count / 4; k++) {
      const [before, after] = [at(i - k), at(i + k)]
      const [a, b] = [full(phi - before.phi), full(after.phi - phi)]
      if (k > 1 && Math.max(a, b) > besideAngle) break
      if (a + b === 0) continue
      const bound = (before.tangent.mm * Math.sin(b) + after.tangent.mm * Math.sin(a)) / Math.sin(a + b)
      leaps.push(tangent.mm - bound)
    }
    return leaps.length === 0 || median(leaps) <= least ? [tangent] : []
  })
}

const leastForLeaps = 48

/** The largest angle, in radians, between the directions of two tangents that lie next to each other. */
export function largestGap(tangents: readonly Tangent[]): number {
  const places = tangents.map(({ phi }) => full(phi)).sort((a, b) => a - b)
  return Math.max(...places.map((place, i) => (places[i + 1] ?? (places[0] ?? 0) + 2 * Math.PI) - place))
}

function full(phi: number): number {
  return ((phi % (2 * Math.PI)) + 2 * Math.PI) % (2 * Math.PI)
}
