/** Time that a block gives back once the spins whose goods are not in leave it. */
export interface FreedTime {
  readonly minutes: number
}

/** Spins of one job on one rig that wait with their goods in. Minutes are of one spin, and of the set change to them. */
export interface WaitingWork {
  readonly spins: number
  readonly spinMin: number
  readonly changeMin: number
  readonly dueDay: string | null
}

/** What would fit, and how many spins of it. */
export type Fitting<W extends WaitingWork> = W & { readonly fits: number }

/** What a block frees: the time of the spins that leave it, and all of it where none stays; never more than it has. */
export function freedMinutes(blockMin: number, leavingMin: number, staying: number): number {
  return staying === 0 ? blockMin : Math.min(blockMin, leavingMin)
}

/**
 * What of the work that waits fits whole into freed time, the earliest due first, then the least set change. A spin is
 * never broken: what is left of the time after the set change counts in whole spins. Each work is asked by itself.
 */
export function whatFits<W extends WaitingWork>(
  { minutes }: FreedTime,
  waiting: readonly W[],
): readonly Fitting<W>[] {
  return waiting
    .flatMap((work) => {
      const room = Math.floor((minutes - work.changeMin) / Math.max(1, work.spinMin))
      const fits = Math.min(work.spins, room)
      return fits >= 1 ? [{ ...work, fits }] : []
    })
    .sort((a, b) => (a.dueDay ?? '9999').localeCompare(b.dueDay ?? '9999') || a.changeMin - b.changeMin)
}
