import type { Finding } from './finding.ts'
import type { FrameTrace } from './frameTrace.ts'
import type { Verdict } from './report.ts'

export type Side = 'left' | 'right' | 'top' | 'bottom'

export interface FramingFacts {
  /** The take's number of each trace's frame, from 1. */
  readonly frames: readonly number[]
  /** The room to keep at every side, in millionths of the picture's longest side (`CheckLimits.marginPpm`). */
  readonly marginPpm: number
}

/** The frames in which the product leaves the picture at a side, or comes nearer to it than the margin. */
export interface SideFraming {
  readonly side: Side
  readonly leaves: readonly number[]
  readonly near: readonly number[]
  /** The least room at that side over all frames, as a part of the picture's longest side; 0 where it leaves. */
  readonly least: number
}

export interface Framing extends Verdict {
  readonly sides: readonly SideFraming[]
  /** How much of the picture's width and height the product takes up over the whole turn, 0 to 1. */
  readonly sweptFill: { readonly width: number; readonly height: number } | null
  readonly findings: readonly Finding[]
}

const sides: readonly Side[] = ['left', 'right', 'top', 'bottom']
/** Nearer than this to the picture's side, in pixels, it is taken to go on outside. */
const touchesPx = 0.75

/**
 * Whether the product stays in the picture at every angle. Frames without an outline say nothing.
 */
export function framingOf(traces: readonly FrameTrace[], { frames, marginPpm }: FramingFacts): Framing {
  const rooms = traces.flatMap((trace, i) => {
    const room = roomOf(trace)
    return room ? [{ frame: frames[i] ?? i + 1, room, trace }] : []
  })
  const [first] = rooms
  if (!first) {
    return {
      state: 'unknown',
      sentence: 'The product’s outline was told in no frame: look yourself whether it stays in the picture.',
      sides: [],
      sweptFill: null,
      findings: [],
    }
  }
  const { widthPx, heightPx } = first.trace
  const longest = Math.max(widthPx, heightPx)
  const found = sides.map((side): SideFraming => {
    const atSide = rooms.map(({ frame, room }) => ({ frame, px: room[side] }))
    const leaves = atSide.filter(({ px }) => px <= touchesPx).map(({ frame }) => frame)
    const near = atSide
      .filter(({ px }) => px > touchesPx && px < (marginPpm / 1e6) * longest)
      .map(({ frame }) => frame)
    const least = leaves.length > 0 ? 0 : Math.min(...atSide.map(({ px }) => px)) / longest
    return { side, leaves, near, least }
  })
  const least = (side: Side) => Math.min(...rooms.map(({ room }) => room[side]))
  const sweptFill = {
    width: (widthPx - least('left') - least('right')) / widthPx,
    height: (heightPx - least('top') - least('bottom')) / heightPx,
  }
  const findings = found.flatMap((side) => findingsOf(side, marginPpm))
  return {
    state: findings.length > 0 ? 'found' : 'clean',
    sentence: verdictOf(found, marginPpm),
    sides: found,
    sweptFill,
    findings,
  }
}

/** Pixels between the product and each side of the picture; null without an outline. */
function roomOf({ silhouette, widthPx, heightPx }: FrameTrace): Readonly<Record<Side, number>> | null {
  if (!silhouette) return null
  const { leftPx, rightPx, topPx } = silhouette
  const known = (edge: Float32Array) => Array.from(edge).filter((x) => !Number.isNaN(x))
  const [left, right] = [known(leftPx), known(rightPx)]
  if (left.length === 0 || right.length === 0) return null
  return {
    left: Math.max(0, Math.min(...left)),
    right: Math.max(0, widthPx - Math.max(...right)),
    top: topPx,
    bottom: heightPx - topPx - leftPx.length,
  }
}

function findingsOf({ side, leaves, near, least }: SideFraming, marginPpm: number): readonly Finding[] {
  const leaving: Finding = {
    key: `leaves ${side}`,
    frames: leaves,
    sentence: `The product leaves the picture at the ${side} in ${framesInWords(leaves)}. Widen the picture or centre the product.`,
    fault: null,
  }
  const nearing: Finding = {
    key: `near ${side}`,
    frames: near,
    sentence: `The product comes within ${percent(least)} of the picture’s ${side} in ${framesInWords(near)}; the margin is ${percent(marginPpm / 1e6)}.`,
    fault: null,
  }
  if (leaves.length > 0) return [leaving]
  return near.length > 0 ? [nearing] : []
}

function verdictOf(found: readonly SideFraming[], marginPpm: number): string {
  const out = found.filter(({ leaves }) => leaves.length > 0).map(({ side }) => side)
  if (out.length > 0) return `The product leaves the picture at the ${out.join(' and the ')}.`
  const least = found.reduce((a, b) => (b.least < a.least ? b : a))
  const margin = `the margin is ${percent(marginPpm / 1e6)}`
  return `The product stays in the picture; the least room is ${percent(least.least)}, at the ${least.side}, and ${margin}.`
}

/** 'frame 3', 'frames 3 to 7, 12'. */
export function framesInWords(frames: readonly number[]): string {
  const runs: [number, number][] = []
  for (const frame of frames) {
    const run = runs.at(-1)
    if (run && frame === run[1] + 1) run[1] = frame
    else runs.push([frame, frame])
  }
  const words = runs.map(([from, to]) =>
    from === to ? `${from}` : to === from + 1 ? `${from}, ${to}` : `${from} to ${to}`,
  )
  return `${frames.length === 1 ? 'frame' : 'frames'}\u00a0${words.join(', ')}`
}

function percent(part: number): string {
  return `${(100 * part).toFixed(1)}\u00a0%`
}
