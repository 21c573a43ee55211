import type { FaultKind } from '../takes.ts'

/**
 * Something the check found. It is nobody's fault yet: it becomes one of the take's faults when a person agrees, and
 * is heard of no more when a person waves it off.
 */
export interface Finding {
  /** The same in every run that finds the same, so that what a person said of it holds: see `keyAt`. */
  readonly key: string
  /** Frames of the take, counted from 1, that it is about; the first is where its mark stands. Empty: the whole take. */
  readonly frames: readonly number[]
  /** What was found, with its figures and what to do, for the person at the platter. */
  readonly sentence: string
  /** The fault it would be; null for what is to be known, not a fault. */
  readonly fault: FaultKind | null
  /** How large it is, in a unit of its own; left out where it has no size. */
  readonly size?: number
}

/**
 * The key of something that is found at frames, or from one on: it names what was found and where, never a figure that
 * a limit or a later frame changes. `@` marks a frame, so that a report puts the take's number there.
 */
export function keyAt(of: string, ...frames: readonly number[]): string {
  return [of, ...frames.map((frame) => `@${frame}`)].join(' ')
}

/** A key with its frames counted otherwise. */
export function renumberedKey(key: string, number: (position: number) => number): string {
  return key.replace(/@(\d+)/gu, (_, one: string) => `@${number(Number(one))}`)
}

const muchWorse = 2

/** True where something that was waved off at a size has at least doubled: it is heard of again. */
export function isMuchWorse({ size }: Pick<Finding, 'size'>, sizeThen: number | null): boolean {
  return size !== undefined && sizeThen !== null && size >= muchWorse * sizeThen
}
