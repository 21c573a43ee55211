import { median } from '../../quantile.ts'
import type { SmallFrame } from '../smallFrame.ts'
import type { PixelBox } from './backdropSurface.ts'
import type { OffBehind } from './offBehind.ts'

/** The platter as far as a frame shows it against its backdrop. */
export interface PlatterSeen {
  /** The row of its far rim. */
  readonly fromY: number
  /** Its codes (red, green, blue) at the left and right ends of the box: light falls off across a set. */
  readonly left: readonly [number, number, number]
  readonly right: readonly [number, number, number]
}

/** By how much of the picture's width things must widen within a few rows, on both sides, to be a platter's far rim. */
const leastWidening = 0.06
/** How much wider a platter gets below its far rim, unless it leaves the picture at both sides. */
const leastGrowth = 0.06
/** The few rows of that, as a part of the picture's height. */
const rimShare = 0.04
/** How much a platter's codes may differ from its left end to its right. */
const mostAcross = 24

interface Run {
  readonly left: number
  readonly right: number
  readonly leftCodes: readonly number[]
  readonly rightCodes: readonly number[]
}

/**
 * Looks for the platter: in the lower part of the picture something begins that is all at once wider on both sides
 * than what stands above, of one colour at both ends, and widens further as an ellipse does or leaves the picture.
 * A block under a narrow cap has upright sides and is none.
 */
export function platterSeen(small: SmallFrame, off: OffBehind): PlatterSeen | null {
  const { box } = off
  const runs = runsOf(small, off)
  const rimRows = Math.max(3, Math.round(rimShare * runs.length))
  const rim = farRim(runs, box, rimRows)
  if (rim === null) return null
  const below = runs.slice(rim + rimRows).filter((run) => run !== null)
  const first = below[0]
  if (!first || below.length < 4) return null
  const widest = Math.max(...below.map(({ left, right }) => right - left))
  const leaves = below.some(({ left, right }) => left <= box.fromX && right >= box.toX - 1)
  if (!leaves && (widest - (first.right - first.left)) / widest < leastGrowth) return null
  const alike = below.filter(({ leftCodes, rightCodes }) => distance(leftCodes, rightCodes) <= mostAcross)
  if (alike.length < below.length / 2) return null
  const codes = (of: (run: Run) => readonly number[]) => {
    const channel = (c: number) => median(alike.map((run) => of(run)[c] ?? 0))
    return [channel(0), channel(1), channel(2)] as const
  }
  return {
    fromY: box.fromY + rimBegins(runs, rim, rimRows),
    left: codes(({ leftCodes }) => leftCodes),
    right: codes(({ rightCodes }) => rightCodes),
  }
}

function runsOf(small: SmallFrame, { box, isOff }: OffBehind): (Run | null)[] {
  return Array.from({ length: box.toY - box.fromY }, (_, row) => {
    const y = box.fromY + row
    const start = y * small.widthPx
    const left = firstOff(isOff, start, box.fromX, box.toX, 1)
    const right = left === null ? null : firstOff(isOff, start, box.toX - 1, box.fromX - 1, -1)
    if (left === null || right === null || right - left < 8) return null
    return { left, right, leftCodes: codesAt(small, left + 3, y), rightCodes: codesAt(small, right - 3, y) }
  })
}

function firstOff(isOff: Uint8Array, start: number, from: number, end: number, step: number): number | null {
  let run = 0
  for (let x = from; x !== end; x += step) {
    run = isOff[start + x] === 1 ? run + 1 : 0
    if (run === 3) return x - 2 * step
  }
  return null
}

function codesAt({ rgb, widthPx }: SmallFrame, x: number, y: number): readonly number[] {
  const at = (y * widthPx + x) * 3
  return [rgb[at] ?? 0, rgb[at + 1] ?? 0, rgb[at + 2] ?? 0]
}

/** The row, counted in the box, at which things widen most within a few rows; null where they never do. */
function farRim(runs: readonly (Run | null)[], box: PixelBox, rimRows: number): number | null {
  const least = leastWidening * (box.toX - box.fromX)
  let best: number | null = null
  let most = 0
  for (let row = Math.floor(0.3 * runs.length); row + rimRows < runs.length; row++) {
    const below = runs[row + rimRows]
    if (!below) continue
    const above = runs[row - 1]
    const middle = (below.left + below.right) / 2
    const toLeft = (above?.left ?? middle) - below.left
    const toRight = below.right - (above?.right ?? middle)
    if (Math.min(toLeft, toRight) < least || toLeft + toRight <= most) continue
    most = toLeft + toRight
    best = row
  }
  return best
}

/** The far rim begins above where it widens most: up to where one of its sides stands upright. */
function rimBegins(runs: readonly (Run | null)[], rim: number, rimRows: number): number {
  let row = rim
  while (row > 1) {
    const here = runs[row]
    const above = runs[row - 2]
    if (here && above && (above.left - here.left < 1 || here.right - above.right < 1)) break
    row--
    if (!here) break
  }
  return Math.max(0, row - rimRows)
}

function distance(a: readonly number[], b: readonly number[]): number {
  return a.reduce((sum, value, c) => sum + Math.abs(value - (b[c] ?? 0)), 0) / 3
}
