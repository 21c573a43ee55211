import { countWords } from '../../countWords.ts'
import { type ExpectedSpin, isWhole } from './expectedSpin.ts'
import type { TakeFound } from './takesFound.ts'

/** A spin that a take without a ticket may be. */
export interface SpinCandidate {
  readonly shootId: number
  /** Whether the count is what the spin wants. */
  readonly fits: boolean
  readonly why: string
}

const shownAtMost = 4

/**
 * The spins that a take without a ticket may be, the likeliest first: those that have no whole take yet, by whether the count fits and by how near they come in the day's order after the take
 * before. Nothing is decided by it.
 */
export function candidatesFor(
  take: TakeFound,
  takes: readonly TakeFound[],
  spins: readonly ExpectedSpin[],
): SpinCandidate[] {
  const open = spins.filter((spin) => spin.place !== null && rowsLeft(spin, takes) > 0)
  const before = placeBefore(take, takes, spins)
  const ranked = open
    .map((spin) => ({
      spin,
      fits: fits(take.frames.length, spin),
      steps: stepsAfter(before, spin.place ?? 0),
    }))
    .sort((a, b) => Number(b.fits) - Number(a.fits) || a.steps - b.steps)
    .map(({ spin, fits, steps }) => ({
      shootId: spin.shootId,
      fits,
      why: whySpin(take, fits, steps),
    }))
  return ranked.slice(0, shownAtMost)
}

function rowsLeft({ shootId, rows }: ExpectedSpin, takes: readonly TakeFound[]): number {
  const whole = takes.filter(
    ({ spin, standing }) => spin?.shootId === shootId && (standing === 'whole' || standing === 'too long'),
  )
  return rows.length - whole.length
}

/** The place in the day's order of the take that was shot last before this one. */
function placeBefore(take: TakeFound, takes: readonly TakeFound[], spins: readonly ExpectedSpin[]): number {
  const earlier = takes
    .filter(({ spin, startMs }) => spin !== null && (startMs ?? 0) < (take.startMs ?? 0))
    .sort((a, b) => (b.startMs ?? 0) - (a.startMs ?? 0))
  const places = earlier.map(({ spin }) => spins.find(({ shootId }) => shootId === spin?.shootId)?.place)
  return places.find((place) => typeof place === 'number') ?? -1
}

/** Forward in the day's order first; what should have come before is farther than all of it. */
function stepsAfter(before: number, place: number): number {
  return place > before ? place - before : 100_000 + before - place
}

function fits(frames: number, { rows }: ExpectedSpin): boolean {
  return rows.some((row) => isWhole(frames, row))
}

function whySpin({ frames }: TakeFound, fits: boolean, steps: number): string {
  const order =
    steps === 1
      ? 'Comes next in the day’s order'
      : steps < 100_000
        ? 'Comes later in the day’s order'
        : 'Comes earlier in the day’s order and has no whole take yet'
  return fits
    ? `${order}, and wants as many frames.`
    : `${order}; its count is another than these ${countWords(frames.length, 'frame')}.`
}
