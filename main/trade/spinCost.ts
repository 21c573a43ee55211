import type { Pace } from './pace.ts'
import type { Finish, SizeClass } from './product.ts'
import { Refusal } from './refusal.ts'
import { framesToShoot, type RowFrames } from './turn/framesToShoot.ts'

/** What of a spin decides its time at the bench. */
export interface SpinWork {
  readonly sizeClass: SizeClass
  readonly finish: Finish
  readonly isFirstOfFamily: boolean
  readonly rows: readonly RowFrames[]
  /** Building the set again for a reshoot; the set change before the spin itself belongs to the bench plan. */
  readonly setChangeMs: number
}

/** A spin's time as a function of its step: fixedMs + frames × step, and what the two chances add. */
export interface Cost {
  readonly fixedMs: number
  readonly frames: number
  readonly restart: number
  /** Frames of each row, from which a restart loses the part already turned. */
  readonly rowFrames: readonly number[]
  readonly reshoot: number
  readonly againMs: number
}

/** What the spin costs by the studio's figures; refuses a size and finish without a handling time, and no rows. */
export function costOf(spin: SpinWork, pace: Pace): Cost {
  const handling = pace.handling.find((row) => row.sizeClass === spin.sizeClass && row.finish === spin.finish)
  if (!handling) {
    throw new Refusal(
      'no-handling-time',
      `No handling time is set for ${spin.sizeClass} products with a ${spin.finish} finish. Enter one under Studio.`,
    )
  }
  if (spin.rows.length === 0) {
    throw new Refusal('no-rows', 'A spin needs at least one row of frames. Add one to its brief.')
  }
  const fixedMs =
    (spin.isFirstOfFamily ? handling.firstMs : handling.followingMs) +
    (spin.rows.length - 1) * pace.rowChangeMs
  return {
    fixedMs,
    frames: pace.checkFrames + framesToShoot(spin.rows),
    restart: pace.restartPpm / 1e6,
    rowFrames: spin.rows.map((row) => row.frames + row.overlap),
    reshoot: pace.reshootPpm / 1e6,
    againMs: fixedMs + spin.setChangeMs,
  }
}

/** The frame at which a row is left is uniform, and any frame of the spin is equally likely: moments of the loss. */
function lostMoment(rowFrames: readonly number[], power: 1 | 2): number {
  return sum(rowFrames.map((frames) => frames ** (power + 1))) / ((power + 1) * sum(rowFrames))
}

/** The mean time of all spins at that step, over restarts and reshoots. */
export function meanAt(costs: readonly Cost[], stepMs: number): number {
  return sum(
    costs.map(
      (cost) =>
        cost.fixedMs +
        cost.frames * stepMs +
        cost.restart * lostMoment(cost.rowFrames, 1) * stepMs +
        cost.reshoot * (cost.againMs + cost.frames * stepMs),
    ),
  )
}

/** The variance of the time of all spins at that step; the chances of different spins are independent. */
export function varianceAt(costs: readonly Cost[], stepMs: number): number {
  return sum(
    costs.map((cost) => {
      const lostMean = cost.restart * lostMoment(cost.rowFrames, 1) * stepMs
      const lostSquare = cost.restart * lostMoment(cost.rowFrames, 2) * stepMs ** 2
      const again = cost.againMs + cost.frames * stepMs
      return lostSquare - lostMean ** 2 + cost.reshoot * (1 - cost.reshoot) * again ** 2
    }),
  )
}

function sum(values: readonly number[]): number {
  return values.reduce((a, b) => a + b, 0)
}
