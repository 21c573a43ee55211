import type { Db } from '../../db/open.ts'
import type { Who } from './kit.ts'

/** A studio that is open: its store, its folder, its clock. */
export interface OpenStudio {
  readonly db: Db
  readonly folder: string
  /** Who is taken to work where a door does not say: the studio's owner at its first device. */
  readonly owner: Who
  readonly now: () => Date
  /** Closes the store and lets go of the folder. */
  close(): void
}

/** What the windows hear after a change: which call changed something, and a count that only grows. */
export interface Change {
  readonly count: number
  readonly path: string
}

/** Where this program run keeps things. */
export interface HouseOptions {
  /** The folder of the user's own studio. */
  readonly studioFolder: string
  /** The folder of the demo studio. */
  readonly demoFolder: string
  /** The clock; the demo moves it through two years. */
  readonly now: () => Date
  /** Makes the demo studio in a folder; none where this run never offers it. */
  readonly buildDemo?: (folder: string) => Promise<void>
}

/**
 * The house of one program run: at most one open studio, and the listeners that hear of every change.
 * The doors own it; calls only read it.
 */
export class StudioHouse {
  readonly options: HouseOptions
  #studio: OpenStudio | undefined
  #count = 0
  #origin: string | undefined
  readonly #listeners = new Set<(change: Change) => void>()

  constructor(options: HouseOptions) {
    this.options = options
  }

  get studio(): OpenStudio | undefined {
    return this.#studio
  }

  /** Opens the house on a studio; the one before must have been left. */
  enter(studio: OpenStudio): void {
    if (this.#studio) throw new Error('The house already holds an open studio; leave it first.')
    this.#studio = studio
    this.changed('start.enter')
  }

  /** Leaves the studio and returns it, so that the caller closes its store. */
  leave(): OpenStudio | undefined {
    const left = this.#studio
    this.#studio = undefined
    return left
  }

  /** Where the browser door listens, as `http://127.0.0.1:7360`; none while it is closed. */
  get origin(): string | undefined {
    return this.#origin
  }

  /** Told by the browser door as it opens and closes. */
  doorAt(origin: string | undefined): void {
    this.#origin = origin
    this.changed('door')
  }

  changed(path: string): void {
    this.#count += 1
    const change: Change = { count: this.#count, path }
    for (const listener of this.#listeners) listener(change)
  }

  /** Hears every change until the returned function is called. */
  listen(listener: (change: Change) => void): () => void {
    this.#listeners.add(listener)
    return () => this.#listeners.delete(listener)
  }
}
