import { type BackdropSurface, surfaceAt } from './backdropSurface.ts'
import { linearOfCode } from './luminance.ts'
import type { PlatterSeen } from './platterSeen.ts'
import type { SmallFrame } from './smallFrame.ts'

/**
 * What lies behind the product, as codes: the backdrop as a surface, or the frame without the product. `gain` brings the
 * empty frame to this frame's exposure, a factor per channel.
 */
export type Behind =
  | { readonly by: 'surface'; readonly surface: BackdropSurface }
  | {
      readonly by: 'empty frame'
      readonly empty: SmallFrame
      readonly gain: readonly [number, number, number]
    }

/** How a row is read. */
export interface RowReader {
  readonly small: SmallFrame
  readonly behind: Behind
  /** From how many codes off, as a mean of the channels, a pixel is something else. */
  readonly threshold: number
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

const values = new Float64Array(3)

/** The codes of a pixel less those of what lies behind, into `out`. */
export function offBehind({ small, behind }: RowReader, x: number, y: number, out: Float64Array): void {
  const at = (y * small.widthPx + x) * 3
  if (behind.by === 'surface') {
    surfaceAt(behind.surface, x, y, out)
    for (let c = 0; c < 3; c++) out[c] = (small.rgb[at + c] as number) - (out[c] as number)
  } else {
    for (let c = 0; c < 3; c++) {
      const code = Math.min(255, (behind.empty.rgb[at + c] as number) * (behind.gain[c] as number))
      out[c] = (small.rgb[at + c] as number) - code
    }
  }
}

/** Mean size of the three differences, in codes. */
export function sizeOf(off: Float64Array): number {
  return (Math.abs(off[0] as number) + Math.abs(off[1] as number) + Math.abs(off[2] as number)) / 3
}

/**
 * Walks a row inwards from one end to where the product begins, to parts of a pixel. The backdrop lies within the
 * threshold; the platter may grow darker towards the product, but only softly.
 * @param step  1 from the left, −1 from the right
 * @returns     null where the whole row holds nothing but backdrop and platter
 */
export function edgeOfRow(
  reader: RowReader,
  y: number,
  fromX: number,
  toX: number,
  step: 1 | -1,
): number | null {
  const { threshold, jump, platterFromY } = reader
  const hasPlatter = y >= platterFromY
  const first = step === 1 ? fromX : toX - 1
  const end = step === 1 ? toX : fromX - 1
  const level = new Float64Array(3)
  const slope = new Float64Array(3)
  let state: 'backdrop' | 'platter' = 'backdrop'
  // Whether the platter itself was met, or a softness that may be its rim's.
  let isMet = false
  for (let x = first; x !== end; x += step) {
    offBehind(reader, x, y, values)
    if (state === 'backdrop') {
      if (sizeOf(values) <= threshold) {
        follow(level, slope, values, x === first ? 1 : 0.5)
        continue
      }
      if (hasPlatter && sizeFrom(level, slope, values) <= jump) {
        // A shadow begins softly.
        state = 'platter'
        follow(level, slope, values, 0.5)
        continue
      }
      if (!goesOn(reader, x, y, end, step, threshold, null)) continue
      const rim = hasPlatter ? platterBegins(reader, x, y, end, step) : null
      if (rim !== null) {
        offBehind(reader, rim, y, level)
        slope.fill(0)
        state = 'platter'
        isMet = true
        x = rim
        continue
      }
      return refined(reader, x, y, first, end, step)
    }
    if (sizeFrom(level, slope, values) <= jump) {
      follow(level, slope, values, 0.5)
      continue
    }
    if (!goesOn(reader, x, y, end, step, jump, level)) continue
    const rim = isMet ? null : platterBegins(reader, x, y, end, step)
    if (rim !== null) {
      offBehind(reader, rim, y, level)
      slope.fill(0)
      isMet = true
      x = rim
      continue
    }
    const beyond = within(x + 2 * step, end, step)
    offBehind(reader, beyond, y, values)
    if (sizeOf(values) <= threshold) {
      // Over the platter's far end, back to the backdrop (or out of the shadow's hard rim).
      state = 'backdrop'
      level.set(values)
      slope.fill(0)
      x = beyond
      continue
    }
    return refined(reader, x, y, first, end, step)
  }
  return null
}

/** Level and slope of a smooth run, exponentially (Holt 1957). */
function follow(level: Float64Array, slope: Float64Array, to: Float64Array, gain: number): void {
  for (let c = 0; c < 3; c++) {
    const expected = (level[c] as number) + (slope[c] as number)
    const next = expected + gain * ((to[c] as number) - expected)
    slope[c] = gain === 1 ? 0 : 0.7 * (slope[c] as number) + 0.3 * (next - (level[c] as number))
    level[c] = next
  }
}

function sizeFrom(level: Float64Array, slope: Float64Array, to: Float64Array): number {
  let sum = 0
  for (let c = 0; c < 3; c++) {
    sum += Math.abs((to[c] as number) - (level[c] as number) - (slope[c] as number))
  }
  return sum / 3
}

function within(x: number, end: number, step: 1 | -1): number {
  return step === 1 ? Math.min(x, end - 1) : Math.max(x, end + 1)
}

const ahead = new Float64Array(3)

function goesOn(
  reader: RowReader,
  x: number,
  y: number,
  end: number,
  step: 1 | -1,
  least: number,
  from: Float64Array | null,
): boolean {
  for (let i = 1; i < persists; i++) {
    const next = x + i * step
    if (next === end) return true
    offBehind(reader, next, y, ahead)
    if (from) for (let c = 0; c < 3; c++) ahead[c] = (ahead[c] as number) - (from[c] as number)
    if (sizeOf(ahead) <= least) return false
  }
  return true
}

/** How far behind its edge a platter must show its colour, as a part of the width: a rim that lies nearly level is soft. */
const softRim = 0.08

/** Where what begins here shows the platter's colour, a little darker or lighter by shadow or reflection; else null. */
function platterBegins(reader: RowReader, x: number, y: number, end: number, step: 1 | -1): number | null {
  if (!reader.platter || reader.behind.by !== 'surface') return null
  const { box } = reader.behind.surface
  for (let i = 2; i <= softRim * (box.toX - box.fromX); i++) {
    const at = within(x + i * step, end, step)
    const across = (at - box.fromX) / (box.toX - box.fromX)
    if (isPlatter(reader.small, reader.platter, across, at, y)) return at
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
    ahead[c] = (left[c] as number) + across * ((right[c] as number) - (left[c] as number))
    sum += rgb[at + c] as number
    usual += ahead[c] as number
  }
  const ratio = sum / Math.max(usual, 3)
  let off = 0
  for (let c = 0; c < 3; c++) off += Math.abs((rgb[at + c] as number) - ratio * (ahead[c] as number))
  return Math.abs(ratio - 1) <= shade && off / 3 <= 5
}

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
