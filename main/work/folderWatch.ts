import { type FSWatcher, watch } from 'node:fs'
import path from 'node:path'
import type { Writing } from '../../db/events.ts'
import type { Id } from '../../db/ids.ts'
import type { Db } from '../../db/open.ts'
import { pressFrame } from '../../db/takeActs.ts'
import { type FiledFrame, filedFrames, framesBefore, type TakeWatch } from '../../db/takeWatch.ts'
import { type Arrival, Arrivals, type Arrived, steadyMs } from '../trade/arrivals.ts'
import { baseName, frameName } from '../trade/frameFiles.ts'
import { Refusal } from '../trade/refusal.ts'
import { type FrameFolder, folderSentence, readFrameFolder } from './frameFolder.ts'
import { keepFrameAsPicture } from './framePicture.ts'

/** The open studio, as far as counting needs it. */
export interface WatchedStudio {
  readonly db: Db
  readonly folder: string
  readonly owner: Writing['who']
  readonly now: () => Date
}

/** What the bench shows of a folder that counts. */
export interface FolderStatus {
  readonly folder: string
  /** gone: the folder cannot be read now, and `sentence` says why; it is tried again until it is back. */
  readonly state: 'starting' | 'watching' | 'gone'
  readonly sentence: string | null
  /** Frames of this take that were counted by their files. */
  readonly counted: number
  readonly last: { readonly file: string; readonly at: string } | null
  /** Files that are still being written. */
  readonly writing: readonly string[]
  /** A counted file that is no longer in the folder. */
  readonly deleted: string | null
  /** A file whose name counted already: it was written anew, and its frame is good. */
  readonly again: string | null
}

/** How often a folder is read where the system tells of no change in it, in ms: network shares do not. */
const pollMs = 1000
/** A reading that has taken so long is said to hang, in ms. */
const silentMs = 5000

/**
 * Counts a running take by the files that arrive in its folder, until it is stopped: one frame for each, exactly
 * once, also when the program was killed in between. What counted is known from the store alone: on the way in, the
 * files that lie there and count are those that neither lay there before the take nor stand with one of its frames.
 */
export class FolderWatch {
  readonly #studio: WatchedStudio
  readonly #takeId: Id<'take'>
  readonly #folder: string
  readonly #changed: () => void
  readonly #arrivals: Arrivals
  #filed: readonly FiledFrame[]
  #status: Pick<FolderStatus, 'state' | 'sentence' | 'writing' | 'deleted' | 'again'> = {
    state: 'starting',
    sentence: null,
    writing: [],
    deleted: null,
    again: null,
  }
  #drive: number | undefined
  /** Counted frames whose files went away and were written anew. */
  readonly #cameAgain = new Set<string>()
  /** Nobody has looked since the program began, or since the folder went away. */
  #isMissed = true
  #isStopped = false
  #isReading = false
  #isCalled = false
  #isKeepingPicture = false
  /** A program that died over the picture must not die of it at every frame: only the first run of a take tries. */
  readonly #isFromTheStart: boolean
  #timer: NodeJS.Timeout | undefined
  #watcher: FSWatcher | undefined

  constructor(studio: WatchedStudio, { takeId, folder }: TakeWatch, changed: () => void) {
    this.#studio = studio
    this.#takeId = takeId
    this.#folder = folder
    this.#changed = changed
    this.#filed = filedFrames(studio.db, takeId)
    this.#isFromTheStart = this.#filed.length === 0
    this.#arrivals = new Arrivals([
      ...(framesBefore(studio.db, takeId) ?? []),
      ...this.#filedHere().map(({ file }) => keyOf(file)),
    ])
    void this.#round()
  }

  get folder(): string {
    return this.#folder
  }

  status(): FolderStatus {
    const last = this.#filed.at(-1)
    return {
      ...this.#status,
      folder: this.#folder,
      counted: this.#filed.length,
      last: last ? { file: baseName(last.file), at: last.at } : null,
    }
  }

  stop(): void {
    this.#isStopped = true
    clearTimeout(this.#timer)
    this.#watcher?.close()
  }

  /** One reading, then the next: never two at once, so that a share that hangs holds one thread and no more. */
  async #round(): Promise<void> {
    if (this.#isReading) {
      this.#isCalled = true
      return
    }
    this.#isReading = true
    this.#isCalled = false
    clearTimeout(this.#timer)
    const silence = setTimeout(
      () => this.#isGone(`${this.#folder} does not answer. Check the network or the cable.`),
      silentMs,
    )
    silence.unref()
    let found: FrameFolder | undefined
    try {
      found = await readFrameFolder(this.#folder, (key) => this.#arrivals.isKnown(key))
    } catch (error) {
      if (!this.#isStopped) this.#isGone(folderSentence(this.#folder, error))
    }
    clearTimeout(silence)
    this.#isReading = false
    // A studio that was closed has its watches stopped; a store that is closed all the same counts nothing.
    if (!this.#studio.db.open) this.stop()
    if (this.#isStopped) return
    if (found) this.#take(found)
    this.#again()
  }

  #again(): void {
    if (this.#isStopped) return
    const soon = this.#isCalled || this.#status.writing.length > 0
    this.#timer = setTimeout(() => void this.#round(), soon ? steadyMs / 2 : pollMs)
    this.#timer.unref()
  }

  #take({ files, drive }: FrameFolder): void {
    if (
      this.#isAnotherDrive(
        files.map(({ name }) => keyOf(name)),
        drive,
      )
    ) {
      this.#isGone(
        `None of the frames counted is in ${this.#folder}: another card or drive stands in its place. Put the first one back, or choose the folder anew.`,
      )
      return
    }
    this.#drive = drive
    const now = this.#studio.now()
    const before = this.#told()
    const arrived = this.#arrivals.read(files, now.getTime(), performance.now(), this.#isMissed)
    this.#isMissed = false
    this.#look()
    const sentence = this.#count(arrived.whole, now)
    this.#note(arrived, sentence)
    if (this.#told() !== before) this.#changed()
  }

  /** What the screens should hear of when it changes. */
  #told(): string {
    return JSON.stringify({ ...this.status(), writing: [] })
  }

  /** The frames counted in this folder: the take may have been in another before. */
  #filedHere(): readonly FiledFrame[] {
    return this.#filed.filter(({ folder }) => folder === this.#folder)
  }

  /** A folder that nothing is mounted in is empty: it must not be taken for one whose files were thrown away. */
  #isAnotherDrive(keys: readonly string[], drive: number): boolean {
    if (this.#drive === undefined || this.#drive === drive) return false
    return this.#filedHere().length > 0 && !keys.some((key) => this.#arrivals.isKnown(key))
  }

  /** Counts what has come. Where the store will not have it now, the sentence says so, and it is tried again. */
  #count(whole: readonly Arrival[], now: Date): string | null {
    const { db, owner } = this.#studio
    const before = this.#filed.length
    let sentence: string | null = null
    try {
      for (const { key, file, atMs } of whole) {
        // A name counts once; a second frame of that name, whose first was made void, has a key of its own.
        // Another card, or the camera's next folder, may hold the same name: it is another frame.
        const times = this.#filedHere().filter((frame) => keyOf(frame.file) === key).length
        const at = new Date(Math.min(atMs, now.getTime())).toISOString()
        const pressKey = `file ${times + 1} ${path.join(this.#folder, key)}`
        const press = { takeId: this.#takeId, pressKey, file: { name: file, folder: this.#folder } }
        pressFrame({ db, who: owner, now: at }, press)
        this.#arrivals.counted(key)
        this.#filed = filedFrames(db, this.#takeId)
      }
    } catch (error) {
      if (error instanceof Refusal && ['take-ended', 'not-its-folder'].includes(error.code)) this.stop()
      else
        sentence =
          'The studio cannot keep the frames now: is its drive full? They are counted as soon as it can.'
    }
    if (this.#filed.length > before && this.#isFromTheStart) void this.#keepPicture()
    return sentence
  }

  async #keepPicture(): Promise<void> {
    if (this.#isKeepingPicture) return
    this.#isKeepingPicture = true
    const isKept = await keepFrameAsPicture(this.#studio, this.#takeId, this.#filed)
    this.#isKeepingPicture = false
    if (isKept) this.#changed()
  }

  #note({ writing, returned, vanished }: Arrived, sentence: string | null): void {
    this.#filed = filedFrames(this.#studio.db, this.#takeId)
    const filed = new Map(this.#filedHere().map((frame) => [keyOf(frame.file), frame]))
    let { deleted } = this.#status
    for (const key of vanished) deleted = nameOf(filed.get(key)) ?? deleted
    for (const key of returned) {
      if (deleted === nameOf(filed.get(key))) deleted = null
      if (filed.has(key)) this.#cameAgain.add(key)
    }
    for (const key of this.#cameAgain) {
      if (!filed.get(key)?.isVoid) continue
      // Its frame is void: the name is free for the one shot in its place.
      this.#cameAgain.delete(key)
      this.#arrivals.forget(key)
    }
    const again = nameOf(filed.get([...this.#cameAgain].at(-1) ?? ''))
    this.#status = { state: 'watching', sentence, writing: writing.map(baseName), deleted, again }
  }

  #isGone(sentence: string): void {
    this.#watcher?.close()
    this.#watcher = undefined
    this.#isMissed = true
    if (this.#status.state === 'gone' && this.#status.sentence === sentence) return
    this.#status = { ...this.#status, state: 'gone', sentence, writing: [] }
    this.#changed()
  }

  /** The system's own word of a change brings the next reading forward; where it gives none, the poll does. */
  #look(): void {
    if (this.#watcher) return
    try {
      this.#watcher = watch(this.#folder, { persistent: false }, () => void this.#round())
      this.#watcher.on('error', () => {
        this.#watcher?.close()
        this.#watcher = undefined
      })
    } catch {
      this.#watcher = undefined
    }
  }
}

function keyOf(file: string): string {
  return frameName(file)?.key ?? file.toLowerCase()
}

function nameOf(frame: FiledFrame | undefined): string | null {
  return frame ? baseName(frame.file) : null
}
