import type { FaultKind } from '../takes.ts'

/**
 * Something the check found. It is nobody's fault yet: it becomes one of the take's faults when a person agrees, and
 * is heard of no more when a person waves it off.
 */
export interface Finding {
  /** The same in every run that finds the same, so that what a person said of it holds. */
  readonly key: string
  /** Frames of the take, counted from 1, that it is about; the first is where its mark stands. Empty: the whole take. */
  readonly frames: readonly number[]
  /** What was found, with its figures and what to do, for the person at the platter. */
  readonly sentence: string
  /** The fault it would be; null for what is to be known, not a fault. */
  readonly fault: FaultKind | null
}

/**
 * The key of a finding that has a size: it changes each time the size doubles over its limit, so that what was waved
 * off is heard of again once it has become much worse.
 */
export function keyOfSize(of: string, size: number, limit: number): string {
  return `${of}:${Math.max(0, Math.floor(Math.log2(size / limit)))}`
}
