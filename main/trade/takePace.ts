import { type MedianRange, medianRange } from './medianInterval.ts'
import type { TakeFrame } from './pack.ts'
import { type FaultKind, type Pause, stepGaps } from './takes.ts'

/** A stretch of a turn and how long a step took on it. Marks from 0, the last without. */
export interface PaceStretch {
  readonly fromMark: number
  readonly toMark: number
  /** In ms; null where no step of it was timed. */
  readonly step: MedianRange | null
}

/** How a take went along its turn. */
export interface TakePace {
  readonly framesPerTurn: number
  readonly overlapFrames: number
  readonly stretches: readonly PaceStretch[]
  readonly pauses: readonly { readonly mark: number; readonly ms: number; readonly reason: string | null }[]
  /** Faults at the mark where they were told; those of the whole take are in `faultsOfAll`. */
  readonly faults: readonly {
    readonly mark: number
    readonly kind: FaultKind
    readonly note: string | null
  }[]
  readonly faultsOfAll: readonly FaultKind[]
}

interface Told {
  readonly framesPerTurn: number
  readonly overlapFrames: number
  readonly frames: readonly TakeFrame[]
  readonly pauses: readonly (Pause & { readonly reason: string | null })[]
  readonly faults: readonly {
    readonly frame: number | null
    readonly kind: FaultKind
    readonly note: string | null
  }[]
}

/** A turn in twelve, as the hours of a clock; few enough that each holds some twenty steps of a usual turn. */
const stretchesOfTurn = 12

/**
 * The pace over a take: the median step of each twelfth of its turn, and of its overlap, with the pauses and the
 * faults at the marks where they happened. Gaps beside void frames and over pauses are no steps, as for the take's own
 * median. A pause that was never resumed has no length and is left out.
 */
export function takePace({ framesPerTurn, overlapFrames, frames, pauses, faults }: Told): TakePace {
  const gaps = stepGaps(frames, pauses)
  const parts = Math.min(stretchesOfTurn, framesPerTurn)
  const edges = Array.from({ length: parts + 1 }, (_, part) => Math.round((part * framesPerTurn) / parts))
  const last = frames.reduce((most, { mark }) => Math.max(most, mark + 1), framesPerTurn)
  if (last > framesPerTurn) edges.push(last)
  const markAt = (frame: number) => frames[frame - 1]?.mark ?? null
  return {
    framesPerTurn,
    overlapFrames,
    stretches: edges.slice(1).map((toMark, index) => {
      const fromMark = edges[index] ?? 0
      const here = gaps.filter(({ mark }) => mark >= fromMark && mark < toMark)
      return { fromMark, toMark, step: medianRange(here.map(({ ms }) => ms)) }
    }),
    pauses: pauses.flatMap(({ fromMs, toMs, reason }) =>
      toMs === null ? [] : [{ mark: markBefore(frames, fromMs), ms: toMs - fromMs, reason }],
    ),
    faults: faults.flatMap(({ frame, kind, note }) => {
      const mark = frame === null ? null : markAt(frame)
      return mark === null ? [] : [{ mark, kind, note }]
    }),
    faultsOfAll: faults.flatMap(({ frame, kind }) =>
      frame === null || markAt(frame) === null ? [kind] : [],
    ),
  }
}

/** The mark of the last frame shot by then; 0 before the first. */
function markBefore(frames: readonly TakeFrame[], atMs: number): number {
  return frames.findLast(({ offsetMs }) => offsetMs <= atMs)?.mark ?? 0
}
