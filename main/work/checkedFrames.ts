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
  readonly #read: (frames: readonly FilesOfFrame[]) => void
  readonly #places = new Map<string, number>()
  readonly #facts = new Map<number, FrameFacts>()
  /** Size and time of the files in trouble when they were looked at last, by frame. */
  readonly #lookedAt = new Map<string, string>()
  #given = 0

  /** @param read  gives frames to the thread */
  constructor(read: (frames: readonly FilesOfFrame[]) => void) {
    this.#read = read
  }

  /** Gives the thread what it does not have yet; nothing of folders that are not there. */
  want(turn: Turn, folders: { isGone(folder: string): boolean }): void {
    const fresh = turn.filter(
      (frame): frame is TurnFrame =>
        frame !== null && !folders.isGone(frame.folder) && this.placeOf(frame) === undefined,
    )
    this.#give(fresh.map(({ folder, files }) => ({ folder, files })))
  }

  hear(place: number, facts: FrameFacts): void {
    this.#facts.set(place, facts)
  }

  /** A folder went away: what was not heard of is given again once it is wanted. */
  forgetUnheard(): void {
    for (const [key, place] of this.#places) if (!this.#facts.has(place)) this.#places.delete(key)
  }

  /** Gives those again whose trouble may have passed. Looks at their files alone. */
  async tryAgain(turn: Turn): Promise<void> {
    for (const frame of turn) {
      if (frame && (await this.#mayHavePassed(frame)))
        this.#give([{ folder: frame.folder, files: frame.files }])
    }
  }

  placeOf(frame: FilesOfFrame): number | undefined {
    return this.#places.get(keyOf(frame))
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
    for (const frame of frames) this.#places.set(keyOf(frame), this.#given++)
    this.#read(frames)
  }

  async #mayHavePassed(frame: TurnFrame): Promise<boolean> {
    const facts = this.factsOf(frame)
    if (!facts?.trouble || !passing.includes(facts.trouble.kind)) return false
    const file = facts.file === '' ? frame.files[0] : facts.file
    try {
      const { size, mtimeMs } = await stat(path.join(frame.folder, file ?? ''))
      // A copy may have its whole length from the start: only its time tells that it was filled. Since it may have
      // been written on while it was read, it is read once more in any case.
      const state = `${size} ${mtimeMs}`
      const isAnother = this.#lookedAt.get(keyOf(frame)) !== state
      this.#lookedAt.set(keyOf(frame), state)
      return isAnother || facts.trouble.kind === 'not readable now'
    } catch {
      return false
    }
  }
}

/** A name may stand in two folders. */
function keyOf({ folder, files }: FilesOfFrame): string {
  return [folder, ...files].join('\0')
}
