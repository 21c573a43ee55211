import { median } from '../../quantile.ts'
import type { Finding } from '../finding.ts'
import type { FrameTrace } from '../frameTrace.ts'
import type { Verdict } from '../report.ts'

export type Side = 'left' | 'right' | 'top' | 'bottom'

export interface FramingFacts {
  /** The take's number of each trace's frame, from 1. */
  readonly frames: readonly number[]
  /** The room to keep at every side, in millionths of the picture's longest side (`CheckLimits.marginPpm`). */
  readonly marginPpm: number
  /** Frames of a whole turn: of fewer it is told so far. */
  readonly framesPerTurn: number
}

/** The frames in which the product leaves the picture at a side, or comes nearer to it than the margin. */
export interface SideFraming {
  readonly side: Side
  readonly leaves: readonly number[]
  /** Frames whose outline alone comes to that side, while their neighbours' do not: no finding, to be looked at. */
  readonly alone: readonly number[]
  readonly near: readonly number[]
  /** The least room at that side over all frames, as a part of the picture's longest side; 0 where it leaves. */
  readonly least: number
}

export interface Framing extends Verdict {
  readonly sides: readonly SideFraming[]
  readonly findings: readonly Finding[]
}

const sides: readonly Side[] = ['left', 'right', 'top', 'bottom']
/**
 * A product goes along from frame to frame. Where the outline of one frame alone jumps by more than this part of the
 * picture's longest side, and by several times what it usually goes, the outline has slipped. Common practice, no
 * published source.
 */
const leapPart = 0.03
const leapSteps = 3
/** Nearer than this to the picture's side, in pixels, it is taken to go on outside. */
const touchesPx = 0.75

/**
 * Whether the product stays in the picture at every angle. Frames without an outline say nothing.
 */
export function framingOf(
  traces: readonly FrameTrace[],
  { frames, marginPpm, framesPerTurn }: FramingFacts,
): Framing {
  const rooms = traces.flatMap((trace, i) => {
    const room = roomOf(trace)
    return room ? [{ frame: frames[i] ?? i + 1, room, trace }] : []
  })
  const [first] = rooms
  if (!first) {
    return {
      state: 'unknown',
      sentence:
        traces.length === 0
          ? 'The framing is told from the first frame on.'
          : 'The product’s outline was told in no frame: look yourself whether it stays in the picture.',
      sides: [],
      findings: [],
    }
  }
  const { widthPx, heightPx } = first.trace
  const longest = Math.max(widthPx, heightPx)
  const found = sides.map((side): SideFraming => {
    const px = rooms.map(({ room }) => room[side])
    const goesAlong = alongNeighbours(px, longest)
    const nearPx = Math.max(touchesPx, (marginPpm / 1e6) * longest)
    const framesWhere = (is: (px: number, at: number) => boolean) =>
      rooms.flatMap(({ frame }, at) => (is(px[at] ?? 0, at) ? [frame] : []))
    const leaves = framesWhere((room, at) => goesAlong[at] === true && room <= touchesPx)
    const near = framesWhere((room, at) => goesAlong[at] === true && room > touchesPx && room < nearPx)
    const alone = framesWhere((room, at) => goesAlong[at] !== true && room <= touchesPx)
    const least = leaves.length > 0 ? 0 : leastRoom(px, goesAlong) / longest
    return { side, leaves, alone, near, least }
  })
  const findings = found.flatMap((side) => findingsOf(side, marginPpm))
  return {
    state: findings.length > 0 ? 'found' : 'clean',
    sentence: verdictOf(found, marginPpm, Math.max(0, ...frames) < framesPerTurn),
    sides: found,
    findings,
  }
}

/** Of each frame's room at a side, whether a neighbour round the turn has about the same. */
function alongNeighbours(px: readonly number[], longest: number): readonly boolean[] {
  if (px.length < 3) return px.map(() => true)
  const steps = px.map((room, at) => Math.abs(room - (px[(at + 1) % px.length] ?? room)))
  const leap = Math.max(leapPart * longest, leapSteps * median(steps))
  return px.map((_, at) => Math.min(steps[at] ?? 0, steps.at(at - 1) ?? 0) <= leap)
}

function leastRoom(px: readonly number[], goesAlong: readonly boolean[]): number {
  const kept = px.filter((_, at) => goesAlong[at])
  return Math.min(...(kept.length > 0 ? kept : px))
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
    size: leaves.length,
    frames: leaves,
    sentence: `The product leaves the picture at the ${side} in ${framesInWords(leaves)}. Widen the picture or centre the product.`,
    fault: null,
  }
  const nearing: Finding = {
    key: `near ${side}`,
    size: near.length,
    frames: near,
    sentence: `The product comes within ${percent(least)} of the picture’s ${side} in ${framesInWords(near)}; the margin is ${percent(marginPpm / 1e6)}.`,
    fault: null,
  }
  if (leaves.length > 0) return [leaving]
  return near.length > 0 ? [nearing] : []
}

function verdictOf(found: readonly SideFraming[], marginPpm: number, isSoFar: boolean): string {
  const out = found.filter(({ leaves }) => leaves.length > 0).map(({ side }) => side)
  const odd = aloneWords(found)
  if (out.length > 0) return `The product leaves the picture at the ${out.join(' and the ')}.${odd}`
  const least = found.reduce((a, b) => (b.least < a.least ? b : a))
  const margin = `the margin is ${percent(marginPpm / 1e6)}`
  return `The product stays in the picture${isSoFar ? ' so far' : ''}; the least room is ${percent(least.least)}, at the ${least.side}, and ${margin}.${odd}`
}

/** Outlines that jump to a side in one frame alone are told, and found to be nothing. */
function aloneWords(found: readonly SideFraming[]): string {
  const frames = [...new Set(found.flatMap(({ alone }) => alone))].sort((a, b) => a - b)
  if (frames.length === 0) return ''
  const [its, frame] =
    frames.length === 1 ? ['its outline', 'that frame'] : ['their outlines', 'those frames']
  return ` In ${framesInWords(frames)} ${its} alone, unlike the neighbours’, ${frames.length === 1 ? 'reaches' : 'reach'} the picture’s side: look at ${frame}.`
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
