import { linearOfCode } from '../light/luminance.ts'
import type { SmallFrame } from '../smallFrame.ts'
import { type OffBehind, offRow } from './offBehind.ts'
import type { PlatterSeen } from './platterSeen.ts'

/** How a row is read. */
export interface RowReader {
  readonly small: SmallFrame
  readonly off: OffBehind
  /** From how many codes off what its neighbours lead to expect, it is an edge and no shadow. */
  readonly jump: number
  /** The first row in which the platter is seen behind or before the product; infinite where there is no platter. */
  readonly platterFromY: number
  /** The platter's own codes; null where there is none, or the empty frame holds it. */
  readonly platter: PlatterSeen | null
}

/** Pixels that must go on being something else, so that a speck of noise or dust is no edge. */
const persists = 3
/** How much darker or lighter a platter may be at its rim, as a part of its codes. */
const shade = 0.07

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
    const edge = refined(reader, x, y, first, end, step)
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

function within(x: number, end: number, step: 1 | -1): number {
  return step === 1 ? Math.min(x, end - 1) : Math.max(x, end + 1)
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

/** How far behind its edge a platter must show its colour, as a part of the width: a rim that lies nearly level is soft. */
const softRim = 0.08

/** Where what begins here shows the platter's colour, a little darker or lighter by shadow or reflection; else null. */
function platterBegins(reader: RowReader, x: number, y: number, end: number, step: 1 | -1): number | null {
  if (!reader.platter) return null
  const { box } = reader.off
  for (let i = 2; i <= softRim * (box.toX - box.fromX); i++) {
    const at = within(x + i * step, end, step)
    const across = (at - box.fromX) / (box.toX - box.fromX)
    if (isPlatter(reader.small, reader.platter, across, at, y)) return at
  }
  return null
}

/** How wide something may be behind which the platter is looked for, as a part of the width. */
const widestIsland = 0.15

/** Where the platter is seen again behind what begins here; null where it goes on, as a product does. */
function platterResumes(reader: RowReader, x: number, y: number, end: number, step: 1 | -1): number | null {
  if (!reader.platter) return null
  const { box } = reader.off
  const wide = box.toX - box.fromX
  let run = 0
  for (let i = persists; i <= widestIsland * wide; i++) {
    const at = x + i * step
    if (at === end) return null
    run = isPlatter(reader.small, reader.platter, (at - box.fromX) / wide, at, y) ? run + 1 : 0
    if (run === persists) return at
  }
  return null
}

function isPlatter(
  { rgb, widthPx }: SmallFrame,
  { left, right }: PlatterSeen,
  across: number,
  x: number,
  y: number,
): boolean {
  const at = (y * widthPx + x) * 3
  let sum = 0
  let usual = 0
  for (let c = 0; c < 3; c++) {
    sum += rgb[at + c] as number
    usual += (left[c] as number) + across * ((right[c] as number) - (left[c] as number))
  }
  const ratio = sum / Math.max(usual, 3)
  if (Math.abs(ratio - 1) > shade) return false
  let off = 0
  for (let c = 0; c < 3; c++) {
    const code = (left[c] as number) + across * ((right[c] as number) - (left[c] as number))
    off += Math.abs((rgb[at + c] as number) - ratio * code)
  }
  return off / 3 <= 5
}

const ahead = new Float64Array(3)
const outer = new Float64Array(3)
const inner = new Float64Array(3)

/**
 * The edge to parts of a pixel: how much of each pixel round it is covered, in linear light, between what lies two
 * pixels outside and two inside.
 */
function refined(reader: RowReader, x: number, y: number, first: number, end: number, step: 1 | -1): number {
  const { small } = reader
  const out = x - 2 * step
  const isAtBorder = step === 1 ? out < first : out > first
  if (isAtBorder) return step === 1 ? x : x + 1
  const inside = within(x + 2 * step, end, step)
  linearAt(small, out, y, outer)
  linearAt(small, inside, y, inner)
  let whole = 0
  for (let c = 0; c < 3; c++) whole += ((inner[c] as number) - (outer[c] as number)) ** 2
  let covered = 0
  for (let i = -1; i <= 1; i++) {
    linearAt(small, within(x + i * step, end, step), y, ahead)
    let part = 0
    for (let c = 0; c < 3; c++) {
      part += ((ahead[c] as number) - (outer[c] as number)) * ((inner[c] as number) - (outer[c] as number))
    }
    covered += whole > 0 ? Math.min(1, Math.max(0, part / whole)) : 1
  }
  // Inside of the pixel after the edge everything is covered: count back from there.
  return step === 1 ? x + 2 - covered : x - 1 + covered
}

function linearAt({ rgb, widthPx }: SmallFrame, x: number, y: number, out: Float64Array): void {
  const at = (y * widthPx + x) * 3
  for (let c = 0; c < 3; c++) out[c] = linearOfCode[rgb[at + c] as number] as number
}
