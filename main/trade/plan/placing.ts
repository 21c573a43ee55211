import type { FreeWindow, PlanBench, PlanItem, PlanProblem, Span } from './problem.ts'

/** Where a bench stands after its last item: the window it lies in, and the rig that is up. */
export interface BenchState {
  readonly freeMin: number
  /** Index of the window of the last item; -1 before the first. */
  readonly window: number
  readonly rig: number | null
}

/** When a person is free again, and how long they have turned on their last day. */
export interface HandState {
  readonly freeMin: number
  readonly day: number
  readonly turnedMin: number
}

/** When equipment is on a bench. */
export interface Busy extends Span {
  readonly equipment: number
  readonly bench: number
}

/** What one placement takes, and what it leaves. */
export interface Placement {
  readonly rigBefore: number | null
  readonly change: Span | null
  readonly changeoverMin: number
  readonly parts: readonly Span[]
  readonly startMin: number
  readonly endMin: number
  readonly bench: BenchState
  readonly hand: HandState
}

const nothingBusy: readonly Busy[] = []

/**
 * The earliest place of an item on a bench after what is there: its set change in one stretch, then each part
 * in one stretch, never before its goods are in nor before `notBeforeMin`, with room left for the set change
 * of a fixed block that follows. Undefined where no window is left.
 */
export function placeItem(
  problem: PlanProblem,
  item: PlanItem,
  benchIndex: number,
  standing: BenchState,
  hand: HandState,
  notBeforeMin: number,
  busy: readonly Busy[] = nothingBusy,
): Placement | undefined {
  const bench = problem.benches[benchIndex] as PlanBench
  const parts = item.partsMin[benchIndex]
  if (!parts) return undefined
  const { windows } = bench
  const from = Math.max(standing.freeMin, hand.freeMin)
  const goodsMin = Math.max(item.earliestMin, notBeforeMin)
  for (let first = Math.max(0, standing.window); first < windows.length; first += 1) {
    const window = windows[first] as FreeWindow
    if (window.toMin <= from) continue
    const rig = rigIn(windows, standing, first)
    const changeMin = problem.changeoverMin(rig, item.rig)
    const changeFrom = Math.max(window.fromMin, from)
    if (changeFrom + changeMin > roomEnd(problem, window, item.rig)) continue
    const laid = layParts(
      problem,
      item,
      benchIndex,
      parts,
      first,
      changeFrom + changeMin,
      goodsMin,
      hand,
      busy,
    )
    if (!laid) continue
    return placement(laid, windows, changeFrom, rig, changeMin, item, hand)
  }
  return undefined
}

/** The rig that is up when a window is entered: what a fixed block since the last item left, or the last item's. */
function rigIn(windows: readonly FreeWindow[], standing: BenchState, window: number): number | null {
  for (let at = window; at > standing.window; at -= 1) {
    const left = windows[at]?.rigBefore
    if (left !== undefined) return left
  }
  return standing.rig
}

/** The last minute an item may use in a window, so that the fixed block behind it finds its rig. */
function roomEnd(problem: PlanProblem, window: FreeWindow, rig: number): number {
  return window.rigAfter === undefined
    ? window.toMin
    : window.toMin - problem.changeoverMin(rig, window.rigAfter)
}

interface Laid {
  readonly parts: readonly Span[]
  readonly window: number
  readonly day: number
  readonly turnedMin: number
}

/** Lays the parts one after the other from a window on; undefined where a fixed block with another rig comes between. */
function layParts(
  problem: PlanProblem,
  item: PlanItem,
  benchIndex: number,
  partsMin: readonly number[],
  firstWindow: number,
  fromMin: number,
  goodsMin: number,
  hand: HandState,
  busy: readonly Busy[],
): Laid | undefined {
  const { windows } = problem.benches[benchIndex] as PlanBench
  const parts: Span[] = []
  let at = Math.max(fromMin, goodsMin)
  let { day, turnedMin } = hand
  let window = firstWindow
  for (const lengthMin of partsMin) {
    for (; ; window += 1) {
      const open = windows[window]
      if (!open || (window > firstWindow && !staysUp(open, item, parts.length > 0))) return undefined
      const turned = open.day === day ? turnedMin : (open.turnedMin ?? 0)
      if (problem.turningCapMin !== null && turned + lengthMin > problem.turningCapMin) continue
      const start = freeFrom(item, benchIndex, Math.max(at, open.fromMin), lengthMin, busy)
      if (start + lengthMin > roomEnd(problem, open, item.rig)) continue
      day = open.day
      turnedMin = turned + lengthMin
      at = start + lengthMin
      parts.push({ fromMin: start, toMin: at })
      break
    }
  }
  return { parts, window, day, turnedMin }
}

/** True where a rig is still up when a window is entered: no block lies before it, or, between two parts, one with the same rig. */
function staysUp({ rigBefore }: FreeWindow, { rig }: PlanItem, hasBegun: boolean): boolean {
  return rigBefore === undefined || (hasBegun && rigBefore === rig)
}

/** The first minute from which a stretch meets neither equipment away nor equipment on another bench. */
function freeFrom(
  item: PlanItem,
  bench: number,
  fromMin: number,
  lengthMin: number,
  busy: readonly Busy[],
): number {
  let start = fromMin
  for (let moved = true; moved; ) {
    moved = false
    for (const span of item.away ?? []) {
      if (start < span.toMin && span.fromMin < start + lengthMin) {
        start = span.toMin
        moved = true
      }
    }
    for (const span of busy) {
      if (span.bench === bench || !item.needs?.includes(span.equipment)) continue
      if (start < span.toMin && span.fromMin < start + lengthMin) {
        start = span.toMin
        moved = true
      }
    }
  }
  return start
}

function placement(
  laid: Laid,
  windows: readonly FreeWindow[],
  changeFrom: number,
  rigBefore: number | null,
  changeMin: number,
  item: PlanItem,
  hand: HandState,
): Placement {
  const [first] = laid.parts
  const last = laid.parts.at(-1)
  const startMin = first?.fromMin ?? changeFrom + changeMin
  const endMin = last?.toMin ?? startMin
  const opens = windows.findLast(({ fromMin }) => fromMin <= startMin) as FreeWindow
  const isBeside = startMin - changeMin >= Math.max(opens.fromMin, changeFrom)
  // A set change lies directly before its item where both fit into one window: nobody changes a rig to wait beside it.
  const changeEnd = isBeside ? startMin : changeFrom + changeMin
  return {
    rigBefore,
    change: changeMin === 0 ? null : { fromMin: changeEnd - changeMin, toMin: changeEnd },
    changeoverMin: changeMin,
    parts: laid.parts,
    startMin,
    endMin,
    bench: { freeMin: endMin, window: laid.window, rig: item.rig },
    hand: laid.parts.length === 0 ? hand : { freeMin: endMin, day: laid.day, turnedMin: laid.turnedMin },
  }
}
