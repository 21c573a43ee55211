import { type OffBehind, offRow } from './offBehind.ts'
import { platterBegins, platterResumes } from './platterInRow.ts'
import { persists, type RowReader, within } from './rowReader.ts'
import { edgeInPixel } from './rowSubPixel.ts'

/** Codes of the row that is read, less those of what lies behind. */
let rowOff = new Float64Array(0)

/** Something in a row behind which the platter is seen again, before the product begins: its ends, the outer first. */
export interface RowIsland {
  readonly outer: number
  readonly inner: number
}

/** Where the product begins and ends in a row, to parts of a pixel, and what stands before it on either side. */
export interface RowEdges {
  readonly left: number
  readonly right: number
  /** The outermost first. */
  readonly leftIslands: readonly RowIsland[]
  readonly rightIslands: readonly RowIsland[]
}

interface RowEdge {
  readonly edge: number
  readonly islands: readonly RowIsland[]
}

/**
 * Walks a row of the box inwards from both ends to where the product begins and ends, to parts of a pixel.
 * @returns null where the row holds nothing but backdrop and platter
 */
export function edgesOfRow(reader: RowReader, y: number): RowEdges | null {
  const { box, behind } = reader.off
  if (y >= reader.platterFromY) {
    const length = 3 * (box.toX - box.fromX)
    if (rowOff.length !== length) rowOff = new Float64Array(length)
    offRow(reader.small, behind, box, y, rowOff)
  }
  const left = edgeOfRow(reader, y, 1)
  const right = left === null ? null : edgeOfRow(reader, y, -1)
  if (left === null || right === null) return null
  return { left: left.edge, right: right.edge, leftIslands: left.islands, rightIslands: right.islands }
}

/**
 * The edge of a row from one end. The backdrop lies within the threshold; the platter may grow darker towards the
 * product, but only softly.
 * @param step  1 from the left, −1 from the right
 */
function edgeOfRow(reader: RowReader, y: number, step: 1 | -1): RowEdge | null {
  const { jump } = reader
  const { isOff, box } = reader.off
  const start = y * reader.small.widthPx
  const hasPlatter = y >= reader.platterFromY
  const first = step === 1 ? box.fromX : box.toX - 1
  const end = step === 1 ? box.toX : box.fromX - 1
  // Where the backdrop was entered; null on the platter.
  let backdropFrom: number | null = first
  // Whether the platter itself was met, or a softness that may be its rim's.
  let isMet = false
  let islands: readonly RowIsland[] = noIslands
  for (let x = first; x !== end; x += step) {
    const at = (x - box.fromX) * 3
    if (backdropFrom !== null) {
      if (isOff[start + x] === 0) continue
      if (hasPlatter) {
        followBackdrop(reader.off, start, backdropFrom, x, step)
        if (sizeFromExpected(at) <= jump) {
          // A shadow begins softly.
          backdropFrom = null
          follow(at)
          continue
        }
      }
      if (!goesOn(isOff, start, x, end, step)) continue
    } else {
      if (sizeFromExpected(at) <= jump) {
        follow(at)
        continue
      }
      if (!leapsOn(reader, x, end, step)) continue
    }
    const mayBegin = hasPlatter && (backdropFrom !== null || !isMet)
    const rim = mayBegin ? platterBegins(reader, x, y, end, step) : null
    if (rim !== null) {
      followFrom((rim - box.fromX) * 3)
      backdropFrom = null
      isMet = true
      x = rim
      continue
    }
    const beyond = within(x + 2 * step, end, step)
    if (backdropFrom === null && isOff[start + beyond] === 0) {
      // Over the platter's far end, back to the backdrop (or out of the shadow's hard rim).
      backdropFrom = beyond
      x = beyond
      continue
    }
    const edge = edgeInPixel(reader.small, { x, y, first, end, step })
    const resumed = hasPlatter ? platterResumes(reader, x, y, end, step) : null
    if (resumed === null) return { edge, islands }
    islands = [...islands, { outer: edge, inner: resumed }]
    followFrom((resumed - box.fromX) * 3)
    backdropFrom = null
    isMet = true
    x = resumed
  }
  // Nothing stands behind the last of them: it is the product, or what of it is seen there.
  const last = islands.at(-1)
  return last ? { edge: last.outer, islands: islands.slice(0, -1) } : null
}

const noIslands: readonly RowIsland[] = []

const level = new Float64Array(3)
const slope = new Float64Array(3)

/** Level and slope of a smooth run, exponentially (Holt 1957). */
function follow(at: number): void {
  for (let c = 0; c < 3; c++) {
    const expected = (level[c] as number) + (slope[c] as number)
    const next = expected + 0.5 * ((rowOff[at + c] as number) - expected)
    slope[c] = 0.7 * (slope[c] as number) + 0.3 * (next - (level[c] as number))
    level[c] = next
  }
}

function followFrom(at: number): void {
  for (let c = 0; c < 3; c++) level[c] = rowOff[at + c] as number
  slope.fill(0)
}

/** What lies further back than so many pixels weighs less than a thousandth: 0.5 ** (24 / 2). */
const remembered = 24

/** Level and slope of the backdrop as they lead up to `x`, specks left out. */
function followBackdrop(
  { box, isOff }: OffBehind,
  start: number,
  backdropFrom: number,
  x: number,
  step: 1 | -1,
): void {
  const back = step === 1 ? Math.max(backdropFrom, x - remembered) : Math.min(backdropFrom, x + remembered)
  level.fill(0)
  slope.fill(0)
  if (isOff[start + back] === 0) followFrom((back - box.fromX) * 3)
  for (let near = back; near !== x; near += step) {
    if (isOff[start + near] === 0) follow((near - box.fromX) * 3)
  }
}

function sizeFromExpected(at: number): number {
  let sum = 0
  for (let c = 0; c < 3; c++) {
    sum += Math.abs((rowOff[at + c] as number) - (level[c] as number) - (slope[c] as number))
  }
  return sum / 3
}

/** Whether what is no backdrop goes on. */
function goesOn(isOff: Uint8Array, start: number, x: number, end: number, step: 1 | -1): boolean {
  for (let i = 1; i < persists; i++) {
    const next = x + i * step
    if (next === end) return true
    if (isOff[start + next] === 0) return false
  }
  return true
}

/** Whether what leaps away from the platter stays away from it. */
function leapsOn({ off, jump }: RowReader, x: number, end: number, step: 1 | -1): boolean {
  for (let i = 1; i < persists; i++) {
    const next = x + i * step
    if (next === end) return true
    let sum = 0
    for (let c = 0; c < 3; c++) {
      sum += Math.abs((rowOff[(next - off.box.fromX) * 3 + c] as number) - (level[c] as number))
    }
    if (sum / 3 <= jump) return false
  }
  return true
}
