import { median } from '../../quantile.ts'
import { fittedValue, leastSquares } from '../centre/leastSquares.ts'
import type { Silhouette } from '../frameTrace.ts'

/** How far a picture leans, clockwise as it is looked at, and the error bar: twice the standard deviation. */
export interface Lean {
  readonly leanDeg: number
  readonly errorDeg: number
}

const degrees = 180 / Math.PI
/** Neighbouring rows share their errors: so many count as one. */
const rowsAsOne = 6
const leastRows = 24
/** Nearer than this to the picture's side, in pixels, the product may go on outside. */
const touchesPx = 1
/** Slopes are taken over so many rows to either side; a nearly level edge says nothing of left and right. */
const reach = 3
const steepest = 1
/** What perspective adds to the lean of an axis some way off the middle column, in degrees; measured on rendered takes. */
const leastErrorDeg = 0.25

/**
 * How far the axis of the turn leans in the picture. What a turn sweeps is a solid of revolution, and its outline is
 * symmetrical about the axis: the middles between its outermost edges, row by row, lie on it, whatever the product.
 * Where the axis is far from the middle column of a camera that looks down, it leans by perspective too: rows of one
 * set-up share that.
 * @param outlines  of the frames of one whole turn, in their order; null where a frame has none
 * @returns         null where too few rows show both sides
 */
export function axisLeanOf(outlines: readonly (Silhouette | null)[], widthPx: number): Lean | null {
  const seen = outlines.filter((outline) => outline !== null)
  if (seen.length < 8) return null
  const top = Math.min(...seen.map(({ topPx }) => topPx))
  const bottom = Math.max(...seen.map(({ topPx, leftPx }) => topPx + leftPx.length))
  const swept = Array.from({ length: bottom - top }, (_, row) => {
    const y = top + row
    const left = Math.min(...steadied(seen.map(({ topPx, leftPx }) => leftPx[y - topPx] ?? Number.NaN)))
    const right = Math.max(...steadied(seen.map(({ topPx, rightPx }) => rightPx[y - topPx] ?? Number.NaN)))
    const isSeen = touchesPx < left && left < right && right < widthPx - touchesPx
    return isSeen ? { middle: (left + right) / 2, radius: (right - left) / 2 } : null
  })
  const rows: number[][] = []
  const middles: number[] = []
  swept.forEach((here, row) => {
    const [above, below] = [swept[row - reach], swept[row + reach]]
    if (!here || !above || !below) return
    const slope = (below.radius - above.radius) / (2 * reach)
    if (Math.abs(slope) >= steepest) return
    // A lean lifts one side and lowers the other: where the outline slants, that moves the middle too.
    rows.push([1, (bottom - top) / 2 - row - slope * here.radius])
    middles.push(here.middle)
  })
  const lean = leanOf(rows, middles, 1)
  // Between two frames the outermost point goes unseen, by so much at most, at one height and not at another.
  const radius = Math.max(...swept.map((row) => row?.radius ?? 0))
  const unseen = radius * (1 - Math.cos(Math.PI / seen.length))
  const coarse = Math.atan((2 * unseen) / swept.length) * degrees
  return lean && { ...lean, errorDeg: Math.max(lean.errorDeg, leastErrorDeg) + coarse }
}

/** An edge that one frame alone shows is none: the middle one of three neighbours. Frames without the row are left out. */
function steadied(edges: readonly number[]): readonly number[] {
  const known = edges.filter((edge) => !Number.isNaN(edge))
  if (known.length < 8) return []
  return known.map((edge, i) => {
    const before = known[(i + known.length - 1) % known.length] ?? edge
    const after = known[(i + 1) % known.length] ?? edge
    return Math.max(Math.min(before, after), Math.min(Math.max(before, after), edge))
  })
}

/**
 * How far the newest outline leans against the approved one, in the same pose: both edges of every row, fitted by a
 * shift, a change of size and a turn about the middle, each as far as the edge's own slope lets it be seen.
 * @returns null where the outlines do not show it, as of another pose
 */
export function leanBetween(approved: Silhouette, newest: Silhouette): Lean | null {
  const scale = newest.leftPx.length / approved.leftPx.length
  const middleY = newest.topPx + newest.leftPx.length / 2
  const rows: number[][] = []
  const offs: number[] = []
  for (const side of ['leftPx', 'rightPx'] as const) {
    const edgeAt = (row: number) => {
      const at = row / scale
      const [before, after] = [approved[side][Math.floor(at)], approved[side][Math.floor(at) + 1]]
      if (before === undefined || after === undefined) return Number.NaN
      const edge = before + (at - Math.floor(at)) * (after - before)
      return newest.centroidXPx + (edge - approved.centroidXPx) * scale
    }
    newest[side].forEach((edge, row) => {
      const expected = edgeAt(row)
      const slope = (edgeAt(row + reach) - edgeAt(row - reach)) / (2 * reach)
      const off = edge - expected
      if (Number.isNaN(off) || !(Math.abs(slope) < steepest)) return
      const [x, y] = [expected - newest.centroidXPx, newest.topPx + row - middleY]
      rows.push([1, -y - slope * x, -slope, x - slope * y])
      offs.push(off)
    })
  }
  const lean = leanOf(rows, offs, 2)
  return lean && lean.errorDeg < mostUnsureDeg ? lean : null
}

/** An outline in another pose fits badly: then nothing is told. */
const mostUnsureDeg = 0.5

/** The second term of a fit is the lean, as a tangent; rows that lie far out are left out. */
function leanOf(rows: readonly (readonly number[])[], values: readonly number[], edges: number): Lean | null {
  let kept = rows.map((_, i) => i)
  for (let round = 0; ; round++) {
    if (kept.length < edges * leastRows) return null
    const design = kept.map((i) => rows[i] ?? [])
    const fit = leastSquares(
      design,
      kept.map((i) => values[i] ?? 0),
    )
    if (!fit) return null
    const size = (i: number) => Math.abs((values[i] ?? 0) - fittedValue(fit.terms, rows[i] ?? []))
    if (round === 3) {
      const spread = Math.sqrt((rowsAsOne * fit.squares * (fit.covariance[1]?.[1] ?? 0)) / kept.length)
      return {
        leanDeg: Math.atan(fit.terms[1] ?? 0) * degrees,
        errorDeg: 2 * Math.atan(spread) * degrees,
      }
    }
    const allowed = Math.max(0.5, 4 * median(kept.map(size)))
    kept = rows.map((_, i) => i).filter((i) => size(i) <= allowed)
  }
}
