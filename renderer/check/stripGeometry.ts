import type { TakeReport } from '../../main/trade/check/report.ts'

/** The frames of a take before and after one, void frames passed over; undefined past its ends. */
export function neighboursOf(
  { lastFrame, leftOut }: Pick<TakeReport, 'lastFrame' | 'leftOut'>,
  frame: number,
): { readonly before: number | undefined; readonly after: number | undefined } {
  const next = (by: 1 | -1) => {
    let to = frame + by
    while (leftOut.includes(to)) to += by
    return to >= 1 && to <= lastFrame ? to : undefined
  }
  return { before: next(-1), after: next(1) }
}

/** Something that stands at frames of a take: a finding, or a fault that was agreed to. */
export interface Marked {
  readonly key: string
  /** Counted from 1; empty where it is about the whole take. */
  readonly frames: readonly number[]
}

/** A mark on the strip: what stands there, and where, as a share of the strip's width. */
export interface PlacedMark {
  readonly frame: number
  readonly share: number
  readonly keys: readonly string[]
}

/** Where a frame stands along the strip, as a share of its width: the middle of its own stretch. */
export function shareOf(frame: number, frames: number): number {
  return (frame - 0.5) / Math.max(1, frames)
}

/** The frame at a share of the strip's width. */
export function frameAt(share: number, frames: number): number {
  return Math.min(Math.max(1, Math.ceil(share * frames)), Math.max(1, frames))
}

/**
 * A trace as an SVG path in a box of 1000 by 100, higher values higher. It breaks where a value is missing, a lone
 * value is a short level stroke, and what lies beyond the scale is held at its edge.
 * @param values  one a frame, from frame 1; null or missing where nothing is known
 * @param scale   the values at the bottom and the top
 */
export function tracePath(
  values: readonly (number | null)[],
  frames: number,
  scale: { readonly from: number; readonly to: number },
): string {
  const half = 500 / Math.max(1, frames)
  const span = scale.to - scale.from || 1
  let path = ''
  values.forEach((value, index) => {
    if (value === null) return
    const x = 1000 * shareOf(index + 1, frames)
    const y = round(100 - (100 * Math.min(Math.max(value - scale.from, 0), span)) / span)
    const isOn = index > 0 && values[index - 1] !== null
    const goesOn = values[index + 1] !== null && index + 1 < values.length
    path += isOn ? `L${round(x)} ${y}` : `M${round(goesOn ? x : x - half)} ${y}`
    if (!isOn && !goesOn) path += `L${round(x + half)} ${y}`
  })
  return path
}

/** Ends of scales, each twice the one before and a little: a scale changes seldom while values arrive. */
const scaleEnds = [0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10] as const

/** The end of a scale that holds all values either side of 0, at least `least`; beyond 10 they are held at the edge. */
export function scaleEnd(values: readonly (number | null)[], least: number): number {
  const most = values.reduce<number>((most, value) => Math.max(most, Math.abs(value ?? 0)), least)
  return scaleEnds.find((end) => end >= most) ?? 10
}

/**
 * Marks along the strip, so far from each other that each can be pressed: those too near to the one before join it.
 * What is about the whole take has no place and is left out; each thing stands at its first frame.
 * @param apartPx  least distance of two marks' middles
 */
export function placedMarks(
  marked: readonly Marked[],
  frames: number,
  widthPx: number,
  apartPx: number,
): readonly PlacedMark[] {
  const placed: { frame: number; share: number; keys: string[] }[] = []
  const inOrder = marked
    .flatMap(({ key, frames: [frame] }) => (frame === undefined ? [] : [{ key, frame }]))
    .sort((a, b) => a.frame - b.frame)
  for (const { key, frame } of inOrder) {
    const share = shareOf(frame, frames)
    const last = placed.at(-1)
    if (last && (share - last.share) * widthPx < apartPx) last.keys.push(key)
    else placed.push({ frame, share, keys: [key] })
  }
  return placed
}

/** Runs of numbers in words: `3 to 6, 9, 12`. */
export function runsText(frames: readonly number[]): string {
  const runs: { first: number; last: number }[] = []
  for (const frame of [...frames].sort((a, b) => a - b)) {
    const run = runs.at(-1)
    if (run && frame - run.last <= 1) run.last = frame
    else runs.push({ first: frame, last: frame })
  }
  return runs
    .map(({ first, last }) =>
      first === last ? `${first}` : last === first + 1 ? `${first}, ${last}` : `${first} to ${last}`,
    )
    .join(', ')
}

function round(value: number): number {
  return Math.round(value * 100) / 100
}
