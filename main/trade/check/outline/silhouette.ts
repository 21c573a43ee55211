import { median } from '../../quantile.ts'
import type { Silhouette } from '../frameTrace.ts'
import { pixelsOf } from '../light/luminance.ts'
import type { PictureArea, SmallFrame } from '../smallFrame.ts'
import { backdropSurface, borderOf, isSameBox, type PixelBox } from './backdropSurface.ts'
import { type RowFound, type RowSpan, withoutIslands } from './islands.ts'
import { type OffBehind, offBehind } from './offBehind.ts'
import { type PlatterSeen, platterSeen } from './platterSeen.ts'
import { edgesOfRow } from './rowEdges.ts'
import type { RowReader } from './rowReader.ts'

export interface SilhouetteOptions {
  /** The same set before the product was placed, of the same size: the surest way to tell product from platter. */
  readonly emptyFrame?: SmallFrame
  /** Where the product is looked for; what lies outside is left out, stands and clamps too. The whole frame if left out. */
  readonly area?: PictureArea
}

/** What a frame shows where. */
export interface FrameParts {
  /** The product's outline; null where none could be told. */
  readonly silhouette: Silhouette | null
  readonly box: PixelBox
  /** What a pixel of the box belongs to; between two parts, and outside of the box: 'none'. */
  readonly partAt: (x: number, y: number) => FramePart
}

export type FramePart = 'backdrop' | 'platter' | 'product' | 'none'

/** A product is at least so large a part of the picture. */
const leastArea = 0.002
const leastRows = 4
/** An outline whose edges leap about in more of its rows is none. */
const leastKnown = 0.6

/**
 * The product against its backdrop. Without an empty frame the backdrop is the surface that most of the picture's
 * border lies on, and the platter what is wide and of one colour below; shadows are told from edges by being soft.
 * Rows in which the product's edge cannot be told are NaN, as where product and platter look alike.
 * @returns null where no backdrop can be told
 */
export function framePartsOf(small: SmallFrame, options: SilhouetteOptions = {}): FrameParts | null {
  const box = pixelsOf(small, options.area ?? { left: 0, top: 0, right: 1, bottom: 1 })
  if (box.toX - box.fromX < 8 || box.toY - box.fromY < 8) return null
  const empty = options.emptyFrame
  const isSameSize = empty && empty.widthPx === small.widthPx && empty.heightPx === small.heightPx
  const ground = isSameSize ? emptyGround(small, empty, box) : surfaceGround(small, box)
  if (!ground) return null
  const silhouette = outlineOf(ground, box)
  return { silhouette, box, partAt: (x, y) => partOf(ground, box, silhouette, x, y) }
}

/** The product's outline alone, as `framePartsOf` tells it. */
export function silhouetteOf(small: SmallFrame, options: SilhouetteOptions = {}): Silhouette | null {
  return framePartsOf(small, options)?.silhouette ?? null
}

interface Ground extends RowReader {
  /** The empty frame's own, where one shows the platter. */
  readonly empty: EmptySet | null
  readonly hasSurface: boolean
}

function thresholdOf(deviation: number): number {
  // A code of rounding and the noise: by five deviations in every hundred thousandth pixel alone.
  return Math.max(4, 5 * deviation)
}

function jumpOf(deviation: number): number {
  return Math.max(6, 8 * deviation)
}

function surfaceGround(small: SmallFrame, box: PixelBox): Ground | null {
  const surface = backdropSurface(small, box)
  if (!surface) return null
  const off = offBehind(small, { by: 'surface', surface }, box, thresholdOf(surface.deviation))
  const platter = platterSeen(small, off)
  const platterFromY = platter?.fromY ?? Number.POSITIVE_INFINITY
  const jump = jumpOf(surface.deviation)
  return { small, off, jump, platterFromY, platter, empty: null, hasSurface: true }
}

/** Where an empty frame shows its platter. */
interface EmptySet {
  readonly off: OffBehind
  readonly platter: PlatterSeen
}

/** What an empty frame shows is worked out once for all frames of a take. */
const emptySets = new WeakMap<SmallFrame, { readonly box: PixelBox; readonly set: EmptySet | null }>()

function emptySetOf(empty: SmallFrame, box: PixelBox): EmptySet | null {
  const known = emptySets.get(empty)
  if (known && isSameBox(known.box, box)) return known.set
  const ground = surfaceGround(empty, box)
  const set = ground?.platter ? { off: ground.off, platter: ground.platter } : null
  emptySets.set(empty, { box, set })
  return set
}

function emptyGround(small: SmallFrame, empty: SmallFrame, box: PixelBox): Ground | null {
  const set = emptySetOf(empty, box)
  const { pixels } = borderOf(small, box)
  const gainOf = (channel: number) =>
    median(
      Float64Array.from(
        pixels,
        (pixel) => codeAt(small, pixel, channel) / Math.max(1, codeAt(empty, pixel, channel)),
      ),
    )
  const gain = [gainOf(0), gainOf(1), gainOf(2)] as const
  const spread = Float64Array.from(pixels, (pixel) => {
    let sum = 0
    for (let c = 0; c < 3; c++) sum += codeAt(small, pixel, c) - codeAt(empty, pixel, c) * (gain[c] ?? 1)
    return Math.abs(sum / 3)
  })
  const deviation = 1.4826 * median(spread)
  // Half of the border must be the empty frame's: else it shows another set.
  if (deviation > 6) return null
  return {
    small,
    off: offBehind(small, { by: 'empty frame', empty, gain }, box, thresholdOf(deviation)),
    jump: jumpOf(deviation),
    // The product's shadow falls on whatever is below it, found as a platter or not.
    platterFromY: set?.platter.fromY ?? Math.round((box.fromY + box.toY) / 2),
    platter: null,
    empty: set,
    hasSurface: false,
  }
}

function codeAt({ rgb }: SmallFrame, pixel: number, channel: number): number {
  return rgb[pixel * 3 + channel] as number
}

function outlineOf(ground: Ground, box: PixelBox): Silhouette | null {
  const found: RowFound[] = []
  for (let y = box.fromY; y < box.toY; y++) {
    const edges = edgesOfRow(ground, y)
    if (edges && edges.right - edges.left > 1.5) found.push({ y, ...edges })
  }
  const spans = withoutIslands(found)
  const product = largestPiece(spans)
  const area = product.reduce((sum, { left, right }) => sum + right - left, 0)
  const whole = (box.toX - box.fromX) * (box.toY - box.fromY)
  if (product.length < leastRows || area < leastArea * whole) return null
  const kept = withoutStrayRows(product)
  const known = kept.filter(({ left, right }) => !Number.isNaN(left + right)).length
  const rows = (kept.at(-1)?.y ?? 0) - (kept[0]?.y ?? 0) + 1
  return known < leastKnown * rows ? null : silhouetteFrom(kept)
}

/** Spans that hang together, at most two rows apart and over one another; the piece with the largest area. */
function largestPiece(spans: readonly RowSpan[]): readonly RowSpan[] {
  let best: readonly RowSpan[] = []
  let bestArea = 0
  let piece: RowSpan[] = []
  let area = 0
  for (const span of spans) {
    const last = piece.at(-1)
    const hangsOn = last && span.y - last.y <= 3 && span.left < last.right && span.right > last.left
    if (!hangsOn) {
      piece = []
      area = 0
    }
    piece.push(span)
    area += span.right - span.left
    if (area > bestArea) {
      bestArea = area
      best = piece
    }
  }
  return best
}

/** An edge that leaps out of line for a row or two is no edge of the product: NaN. Only its ends may draw in. */
function withoutStrayRows(spans: readonly RowSpan[]): readonly RowSpan[] {
  const width = median(spans.map(({ left, right }) => right - left))
  const allowed = Math.max(2.5, 0.06 * width)
  const isStray = (outwards: readonly number[]) =>
    outwards.map((value, i) => {
      const near = outwards.slice(Math.max(0, i - 4), i + 5)
      if (near.every((other) => Math.abs(value - other) <= allowed)) return false
      const out = value - median(near)
      return out > allowed || (out < -allowed && i > 0 && i < outwards.length - 1)
    })
  const isStrayLeft = isStray(spans.map(({ left }) => -left))
  const isStrayRight = isStray(spans.map(({ right }) => right))
  return spans.map(({ y, left, right }, i) => ({
    y,
    left: isStrayLeft[i] ? Number.NaN : left,
    right: isStrayRight[i] ? Number.NaN : right,
  }))
}

function silhouetteFrom(spans: readonly RowSpan[]): Silhouette | null {
  const topPx = spans[0]?.y ?? 0
  const rows = (spans.at(-1)?.y ?? topPx) - topPx + 1
  const leftPx = new Float32Array(rows).fill(Number.NaN)
  const rightPx = new Float32Array(rows).fill(Number.NaN)
  let areaPx = 0
  let sumX = 0
  let sumY = 0
  for (const { y, left, right } of spans) {
    leftPx[y - topPx] = left
    rightPx[y - topPx] = right
    if (Number.isNaN(left) || Number.isNaN(right)) continue
    areaPx += right - left
    sumX += ((right - left) * (left + right)) / 2
    sumY += (right - left) * (y + 0.5)
  }
  if (areaPx === 0) return null
  return { topPx, leftPx, rightPx, areaPx, centroidXPx: sumX / areaPx, centroidYPx: sumY / areaPx }
}

function partOf(
  ground: Ground,
  box: PixelBox,
  silhouette: Silhouette | null,
  x: number,
  y: number,
): FramePart {
  if (x < box.fromX || x >= box.toX || y < box.fromY || y >= box.toY) return 'none'
  if (silhouette) {
    const row = y - silhouette.topPx
    const left = silhouette.leftPx[row]
    const right = silhouette.rightPx[row]
    if (left !== undefined && right !== undefined) {
      if (x >= left + 1 && x + 2 <= right) return 'product'
      // A pixel or two along the edge belong to nobody; so does a row whose edge could not be told.
      if (!(x + 3 <= left || x >= right + 2)) return 'none'
    }
  }
  const at = y * ground.small.widthPx + x
  if (ground.hasSurface || y < ground.platterFromY) {
    if (ground.off.isOff[at] === 0) return 'backdrop'
    return ground.platter && y >= ground.platterFromY ? 'platter' : 'none'
  }
  if (!ground.empty) return 'backdrop'
  return ground.empty.off.isOff[at] === 0 ? 'backdrop' : 'platter'
}
