import type { TurnClosing } from './closing.ts'

/** A turn of the take that closes: how many frames it has, how many were planned, and the frame it begins with. */
export interface KnownTurn {
  readonly framesPerTurn: number
  readonly plannedFrames: number
  readonly loopIn: number
}

/** The turn as the steps are judged by: null where the picture does not tell it, or the take does not hold all of it. */
export function knownTurn(closing: TurnClosing, plannedFrames: number): KnownTurn | null {
  const { by, isRough, framesPerTurn, loopIn, loopOut } = closing
  const isWhole = loopOut - loopIn + 1 === framesPerTurn
  return by === 'count' || isRough || !isWhole ? null : { framesPerTurn, plannedFrames, loopIn }
}

/** True for a step (from frame `step` to the next, from 0) of the turn. */
export function isWithin({ loopIn, framesPerTurn }: KnownTurn, step: number): boolean {
  return step >= loopIn - 1 && step < loopIn - 1 + framesPerTurn
}

/** How many of these steps are the turn's. */
export function withinTurn(turn: KnownTurn, steps: Iterable<number>): number {
  return [...steps].filter((step) => isWithin(turn, step)).length
}
