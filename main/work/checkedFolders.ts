import { hasFiles, type ReadFolder } from '../trade/check/turnFrames.ts'
import { countWords } from '../trade/countWords.ts'
import { type FrameFiles, frameName, joinFrames, type SeenFile } from '../trade/frameFiles.ts'
import type { TakeFrame } from '../trade/pack.ts'
import { folderSentence, readFrameFolder } from './frameFolder.ts'

/** What the take itself knows of its files. */
interface FilesOfTake {
  readonly frames: readonly TakeFrame[]
  readonly folders: readonly string[]
}

/** The folders in which a check looks for the frames of its take: what was read in each, and which are away. */
export class CheckedFolders {
  #names: readonly string[]
  readonly #seen = new Map<string, SeenFile>()
  /** What was read in each folder last, also of one that is not there now. */
  readonly #read = new Map<string, readonly FrameFiles[]>()
  /** The folders that cannot be read now, and why. */
  readonly #gone = new Map<string, string>()

  constructor(names: readonly string[]) {
    this.#names = names
  }

  /** In the order in which the take went on in them. */
  get names(): readonly string[] {
    return this.#names
  }

  /** True where these come first, in their order. */
  beginWith(names: readonly string[]): boolean {
    return beginsWith(this.#names, names)
  }

  /** Takes along the folder that the take has gone on in since; false where they are no longer the same folders. */
  goOnIn(names: readonly string[]): boolean {
    if (!beginsWith(names, this.#names)) return false
    this.#names = names
    return true
  }

  /** Reads what lies in them, until it is told to stop; of files that were seen before only the name is read again. */
  async read(take: FilesOfTake, isWanted: () => boolean): Promise<void> {
    for (const [at, folder] of this.#names.entries()) {
      // Reading tells whether the folder is there, also where the take itself knows its files.
      await this.#readOne(folder, hasFiles(take.frames) && at < take.folders.length)
      if (!isWanted()) return
    }
  }

  /** True where each was read once: before that, frames of another could be taken for its own. */
  get areRead(): boolean {
    return this.#names.every((folder) => this.#read.has(folder))
  }

  /** What was read in each last. */
  asRead(): ReadFolder[] {
    return this.#names.map((folder) => ({ folder, frames: this.#read.get(folder) ?? [] }))
  }

  isGone(folder: string): boolean {
    return this.#gone.has(folder)
  }

  wentAway(folder: string, sentence: string): void {
    this.#gone.set(folder, sentence)
  }

  /**
   * The folder that is waited for, and how much of the take lies there; undefined where none is. A card that the take
   * has left, and of which all was looked at, may stay out.
   * @param unheardIn  how many frames of a folder were not looked at yet
   */
  whyGone({ frames, folders }: FilesOfTake, unheardIn: (folder: string) => number): string | undefined {
    const isFiled = hasFiles(frames)
    for (const [at, folder] of this.#names.entries()) {
      const why = this.#gone.get(folder)
      if (why === undefined) continue
      const unheard = isFiled ? unheardIn(folder) : 0
      if (unheard > 0) return `${why} ${liesThere(unheard)}`
      if (!isFiled || at >= folders.length - 1) return why
    }
    return undefined
  }

  async #readOne(folder: string, isTold: boolean): Promise<void> {
    const placeOf = (key: string) => `${folder}\0${key}`
    try {
      const { files } = await readFrameFolder(folder, (key) => isTold || this.#seen.has(placeOf(key)))
      const timed = files.map((file) => {
        const place = placeOf(frameName(file.name)?.key ?? file.name)
        const seen = this.#seen.get(place) ?? file
        this.#seen.set(place, seen)
        return { ...file, modifiedMs: seen.modifiedMs }
      })
      this.#read.set(folder, joinFrames(timed))
      this.#gone.delete(folder)
    } catch (error) {
      this.#gone.set(folder, folderSentence(folder, error))
    }
  }
}

function liesThere(frames: number): string {
  return `${countWords(frames, 'frame')} of this take ${frames === 1 ? 'lies' : 'lie'} there.`
}

function beginsWith(names: readonly string[], start: readonly string[]): boolean {
  return start.every((name, at) => names[at] === name)
}
