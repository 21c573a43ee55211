import type { Pace } from './pace.ts'
import type { Finish, SizeClass } from './product.ts'
import { Refusal } from './refusal.ts'
import { lognormal, type Spread } from './spread.ts'
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

/** A spin's time as a function of the studio's step: handling + fixedMs + frames × step, and what the two chances add. */
export interface Cost {
  readonly handling: Spread
  /** Row changes, at their mean. */
  readonly fixedMs: number
  /** In steps of the studio: on a rig that takes a tenth longer, a tenth more. */
  readonly frames: number
  readonly restart: number
  /** Frames of each row, in the same steps, from which a restart loses the part already turned. */
  readonly rowFrames: readonly number[]
  /** From the end of a rejected take to the start of the next, at its mean. */
  readonly pauseMs: number
  readonly reshoot: number
  /** What a reshoot costs beside its frames: set change, row changes and handling, at their means. */
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
  const handlingMs = spin.isFirstOfFamily ? handling.firstMs : handling.followingMs
  const fixedMs = (spin.rows.length - 1) * pace.rowChangeMs
  const factor = spin.stepFactor ?? 1
  return {
    handling: lognormal(handlingMs, (handling.spreadPpm ?? pace.handlingSpreadPpm) / 1e6),
    fixedMs,
    frames: factor * (pace.checkFrames + framesToShoot(spin.rows)),
    restart: pace.restartPpm / 1e6,
    rowFrames: spin.rows.map((row) => factor * (row.frames + row.overlap)),
    pauseMs: pace.restartPauseMs,
    reshoot: pace.reshootPpm / 1e6,
    againMs: handlingMs + fixedMs + spin.setChangeMs,
  }
}

/** The time of several spins but for their handling, as polynomials of the step: a + b × step + c × step². */
export interface Moments {
  /** Row changes and frames, where nothing goes wrong. */
  readonly plain: Polynomial
  /** What restarts and reshoots add to it: their mean and variance. */
  readonly extra: Polynomial
  readonly variance: Polynomial
}

type Polynomial = readonly [number, number, number]

/**
 * The moments of the spins' sum, the chances of different spins independent: worked out once, however many steps
 * they are then read at.
 */
export function momentsOf(costs: readonly Cost[]): Moments {
  const plain: [number, number, number] = [0, 0, 0]
  const extra: [number, number, number] = [0, 0, 0]
  const variance: [number, number, number] = [0, 0, 0]
  for (const { handling, fixedMs, frames, restart, rowFrames, pauseMs, reshoot, againMs } of costs) {
    const lost = lostMoment(rowFrames, 1)
    const again = reshoot * (1 - reshoot)
    plain[0] += fixedMs
    plain[1] += frames
    extra[0] += restart * pauseMs + reshoot * againMs
    extra[1] += restart * lost + reshoot * frames
    const begun = restart * (1 - restart)
    variance[0] += begun * pauseMs ** 2 + again * againMs ** 2 + reshoot * handling.variance
    variance[1] += 2 * (begun * pauseMs * lost + again * againMs * frames)
    variance[2] += restart * lostMoment(rowFrames, 2) - (restart * lost) ** 2 + again * frames ** 2
  }
  return { plain, extra, variance }
}

/** What a restart adds to a spin on average, at a step. */
export function restartMs({ restart, pauseMs, rowFrames }: Cost, stepMs: number): number {
  return restart * (pauseMs + lostMoment(rowFrames, 1) * stepMs)
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
