import type { Handling } from './pace.ts'
import type { Finish, SizeClass } from './product.ts'

/** An ended take of a job, with what stood at its bench before. Times in ms since 1970. */
export interface WorkedTake {
  readonly personId: number
  readonly shootId: number
  readonly row: number
  readonly rigRevisionId: number
  readonly startedMs: number
  readonly endedMs: number
  readonly pausedMs: number
  readonly sizeClass: SizeClass
  readonly finish: Finish
  readonly familyId: number | null
  /** The take before it at the same bench, of whatever job; null for the bench's first. */
  readonly before: {
    readonly shootId: number
    readonly row: number
    readonly rigRevisionId: number
    readonly endedMs: number
  } | null
}

/** The studio's times for what lies between takes, in ms. */
export interface BetweenTakes {
  readonly handling: readonly Handling[]
  readonly rowChangeMs: number
  readonly restartPauseMs: number
  /** Building a whole set. */
  readonly setMs: number
}

/** A person's time at the bench for a job, in ms. */
export interface BenchHours {
  readonly personId: number
  readonly turnedMs: number
  readonly preparedMs: number
}

/** A gap over four times what is expected is a break or a night; then what is expected counts. The same as in learning. */
const breakFrom = 4

/**
 * What people worked at the bench for a job, from its takes: each take from start to end without its pauses, and the
 * preparing before it, which is the gap since the bench's take before. A gap that is a break or a night, and the one
 * before a bench's first take, count as the studio's own times for handling, row change, restart and set change.
 * @param takes  in the order of their start
 */
export function benchHours(takes: readonly WorkedTake[], times: BetweenTakes): readonly BenchHours[] {
  const hours = new Map<number, { turnedMs: number; preparedMs: number }>()
  const families = new Set<number>()
  for (const take of takes) {
    const own = hours.get(take.personId) ?? { turnedMs: 0, preparedMs: 0 }
    own.turnedMs += Math.max(0, take.endedMs - take.startedMs - take.pausedMs)
    const isFirst = take.familyId === null || !families.has(take.familyId)
    own.preparedMs += preparedMs(take, expectedMs(take, isFirst, times))
    hours.set(take.personId, own)
    if (take.familyId !== null) families.add(take.familyId)
  }
  return [...hours].map(([personId, own]) => ({ personId, ...own }))
}

function preparedMs({ before, startedMs }: WorkedTake, expected: number): number {
  const gapMs = before === null ? Number.POSITIVE_INFINITY : startedMs - before.endedMs
  if (gapMs < 0) return 0
  return gapMs > breakFrom * expected ? expected : gapMs
}

function expectedMs(take: WorkedTake, isFirstOfFamily: boolean, times: BetweenTakes): number {
  const { before } = take
  const setMs = before?.rigRevisionId === take.rigRevisionId ? 0 : times.setMs
  if (before?.shootId === take.shootId) {
    return setMs + (before.row === take.row ? times.restartPauseMs : times.rowChangeMs)
  }
  const row = times.handling.find((own) => own.sizeClass === take.sizeClass && own.finish === take.finish)
  return setMs + (row === undefined ? 0 : isFirstOfFamily ? row.firstMs : row.followingMs)
}
