import { stat } from 'node:fs/promises'
import path from 'node:path'
import type { FrameFacts } from '../trade/check/files/frameFacts.ts'
import type { Turn, TurnFrame } from '../trade/check/turnFrames.ts'
import type { FilesOfFrame } from './checkWorker.ts'

/** Troubles that pass by themselves: the file is still being written, or its drive comes back. */
const passing: readonly string[] = [
  'gone',
  'not readable now',
  'empty',
  'cut short',
  'damaged',
] satisfies NonNullable<FrameFacts['trouble']>['kind'][]

/** Which frames were given to the check's thread, at which of its places, and what was heard of them. */
export class CheckedFrames {
  readonly #folder: string
  readonly #read: (frames: readonly FilesOfFrame[]) => void
  readonly #places = new Map<string, number>()
  readonly #facts = new Map<number, FrameFacts>()
  #given = 0

  /** @param read  gives frames to the thread */
  constructor(folder: string, read: (frames: readonly FilesOfFrame[]) => void) {
    this.#folder = folder
    this.#read = read
  }

  /** Gives the thread what it does not have yet. */
  want(turn: Turn): void {
    const fresh = turn.filter(
      (frame): frame is TurnFrame => frame !== null && this.placeOf(frame) === undefined,
    )
    this.#give(fresh.map(({ files }) => files))
  }

  hear(place: number, facts: FrameFacts): void {
    this.#facts.set(place, facts)
  }

  /** The folder went away: what was not heard of is given again once it is wanted. */
  forgetUnheard(): void {
    for (const [key, place] of this.#places) if (!this.#facts.has(place)) this.#places.delete(key)
  }

  /** Gives those again whose trouble may have passed. Looks at their files alone. */
  async tryAgain(turn: Turn): Promise<void> {
    for (const frame of turn) {
      if (frame && (await this.#mayHavePassed(frame))) this.#give([frame.files])
    }
  }

  placeOf({ files }: TurnFrame): number | undefined {
    return this.#places.get(files.join('\0'))
  }

  factsOf(frame: TurnFrame): FrameFacts | undefined {
    const place = this.placeOf(frame)
    return place === undefined ? undefined : this.#facts.get(place)
  }

  /** How many frames of a turn were looked at. */
  heardOf(turn: Turn): number {
    return turn.filter((frame) => frame !== null && this.factsOf(frame) !== undefined).length
  }

  /** The thread's places of a turn's frames that were looked at; null for the others. */
  places(turn: Turn): (number | null)[] {
    return turn.map((frame) => (frame && this.factsOf(frame) ? (this.placeOf(frame) ?? null) : null))
  }

  #give(frames: readonly FilesOfFrame[]): void {
    if (frames.length === 0) return
    for (const files of frames) this.#places.set(files.join('\0'), this.#given++)
    this.#read(frames)
  }

  async #mayHavePassed(frame: TurnFrame): Promise<boolean> {
    const facts = this.factsOf(frame)
    if (!facts?.trouble || !passing.includes(facts.trouble.kind)) return false
    const file = facts.file === '' ? frame.files[0] : facts.file
    try {
      const { size } = await stat(path.join(this.#folder, file ?? ''))
      return size !== facts.bytes || facts.trouble.kind === 'not readable now'
    } catch {
      return false
    }
  }
}
