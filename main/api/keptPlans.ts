import type { Db } from '../../db/open.ts'
import { Refusal } from '../trade/refusal.ts'

/** How many answers of a kind a studio keeps; an older one is stopped and let go. */
const mostKept = 5

/** A search that was begun: it can be ended, and ends with what it found. */
export interface Search<Found> {
  readonly stop: () => void
  readonly found: Promise<Found>
}

/** A question with its search and, once there, what came of it. */
export interface KeptPlan<Question, Found> {
  readonly question: Question
  readonly search: Search<Found>
  readonly found: Found | undefined
}

type Kept<Question, Found> = { question: Question; search: Search<Found>; found?: Found; failure?: unknown }

/**
 * The last plans of each studio, by number. They are kept in memory: a plan lives no longer than the program, and an
 * accepted one is let go.
 * @param goneSentence  says to the person what to do where a plan is not there any more
 */
export class KeptPlans<Question, Found> {
  readonly #ofStudio = new WeakMap<Db, Map<number, Kept<Question, Found>>>()
  readonly #goneSentence: string
  #last = 0

  constructor(goneSentence: string) {
    this.#goneSentence = goneSentence
  }

  keep(db: Db, question: Question, search: Search<Found>): number {
    const mine = this.#ofStudio.get(db) ?? new Map<number, Kept<Question, Found>>()
    this.#ofStudio.set(db, mine)
    const kept: Kept<Question, Found> = { question, search }
    search.found.then(
      (found) => {
        kept.found = found
      },
      (failure: unknown) => {
        kept.failure = failure
      },
    )
    this.#last += 1
    mine.set(this.#last, kept)
    for (const [id, { search: old }] of mine) {
      if (mine.size <= mostKept) break
      old.stop()
      mine.delete(id)
    }
    return this.#last
  }

  /** The plan of a number. Throws what broke its search, so that it is logged; refuses one that is gone. */
  one(db: Db, id: number): KeptPlan<Question, Found> {
    const kept = this.#ofStudio.get(db)?.get(id)
    if (!kept) throw new Refusal('no-plan', this.#goneSentence)
    if (kept.failure !== undefined) throw kept.failure
    return { question: kept.question, search: kept.search, found: kept.found }
  }

  forget(db: Db, id: number): void {
    const mine = this.#ofStudio.get(db)
    mine?.get(id)?.search.stop()
    mine?.delete(id)
  }
}
