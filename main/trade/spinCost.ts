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
  /** The step of its rig over the studio's, learned from takes; 1 where it is left out. */
  readonly stepFactor?: number
}

/** A spin's time as a function of the studio's step: fixedMs + frames × step, and what the two chances add. */
export interface Cost {
  readonly fixedMs: number
  /** In steps of the studio: on a rig that takes a tenth longer, a tenth more. */
  readonly frames: number
  readonly restart: number
  /** Frames of each row, in the same steps, from which a restart loses the part already turned. */
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
  const factor = spin.stepFactor ?? 1
  return {
    fixedMs,
    frames: factor * (pace.checkFrames + framesToShoot(spin.rows)),
    restart: pace.restartPpm / 1e6,
    rowFrames: spin.rows.map((row) => factor * (row.frames + row.overlap)),
    reshoot: pace.reshootPpm / 1e6,
    againMs: fixedMs + spin.setChangeMs,
  }
}

/** Mean and variance of the time of several spins, as polynomials of the step: a + b × step + c × step². */
export interface Moments {
  readonly mean: Polynomial
  /** What restarts and reshoots add to the time on average; a part of `mean`. */
  readonly extra: Polynomial
  readonly variance: Polynomial
}

type Polynomial = readonly [number, number, number]

/**
 * The moments of the spins' sum, the chances of different spins independent: worked out once, however many steps
 * they are then read at.
 */
export function momentsOf(costs: readonly Cost[]): Moments {
  let fixed = 0
  let allFrames = 0
  const extra: [number, number, number] = [0, 0, 0]
  const variance: [number, number, number] = [0, 0, 0]
  for (const { fixedMs, frames, restart, rowFrames, reshoot, againMs } of costs) {
    const lost = restart * lostMoment(rowFrames, 1)
    const spread = reshoot * (1 - reshoot)
    fixed += fixedMs
    allFrames += frames
    extra[0] += reshoot * againMs
    extra[1] += lost + reshoot * frames
    variance[0] += spread * againMs ** 2
    variance[1] += 2 * spread * againMs * frames
    variance[2] += restart * lostMoment(rowFrames, 2) - lost ** 2 + spread * frames ** 2
  }
  return { mean: [fixed + extra[0], allFrames + extra[1], 0], extra, variance }
}

/** A polynomial's value at a step. */
export function atStep([a, b, c]: Polynomial, stepMs: number): number {
  return a + (b + c * stepMs) * stepMs
}

/** The frame at which a row is left is uniform, and any frame of the spin is equally likely: moments of the loss. */
function lostMoment(rowFrames: readonly number[], power: 1 | 2): number {
  return sum(rowFrames.map((frames) => frames ** (power + 1))) / ((power + 1) * sum(rowFrames))
}

function sum(values: readonly number[]): number {
  return values.reduce((a, b) => a + b, 0)
}
