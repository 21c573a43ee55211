import { type FrameFiles, inShootingOrder, joinFrames, type SeenFile } from './frameFiles.ts'

/** A frame whose file has come and is whole. */
export interface Arrival {
  readonly key: string
  readonly file: string
  /** When it was first seen; the file's own time where it came while nobody looked. */
  readonly atMs: number
}

/** What one reading of the folder told. */
export interface Arrived {
  /** Frames to count now, in the order they were shot. */
  readonly whole: readonly Arrival[]
  /** Frames whose files are still being written. */
  readonly writing: readonly string[]
  /** Known frames whose files were gone at an earlier reading and are there again. */
  readonly returned: readonly string[]
  /** Known frames whose files have gone since the last reading. */
  readonly vanished: readonly string[]
}

interface Pending {
  readonly atMs: number
  readonly seenMs: number
  /** Each file with its size and time, and since when it stands as it is. */
  readonly files: Map<string, { readonly state: string; readonly sinceMs: number }>
}

/** A file that stands still so long is taken to be whole. */
export const steadyMs = 250
/** A file that is not whole after so long no longer keeps those shot after it waiting. */
export const patienceMs = 10_000

/**
 * Tells from readings of a folder, one after the other, which frames have come: each once. A frame counts once
 * one of its files has a size that stands still, so that a slow write or a copy in the making is waited for; a
 * frame shot later waits for the earlier one, but no longer than 10 s.
 */
export class Arrivals {
  readonly #known: Set<string>
  readonly #pending = new Map<string, Pending>()
  readonly #away = new Set<string>()

  /** @param known  keys of the frames that were there before, and of those counted already */
  constructor(known: Iterable<string>) {
    this.#known = new Set(known)
  }

  /** True where nothing needs to be learned of this frame's files but that they are there. */
  isKnown(key: string): boolean {
    return this.#known.has(key)
  }

  /**
   * @param nowMs     the instant of the reading
   * @param tickMs    the same on a clock that nobody sets, by which it is told whether a file stands still
   * @param isMissed  true for a reading after a time in which nobody looked: what is new in it came before
   */
  read(files: readonly SeenFile[], nowMs: number, tickMs: number, isMissed = false): Arrived {
    const frames = joinFrames(files)
    const here = new Set(frames.map(({ key }) => key))
    const vanished = [...this.#known].filter((key) => !here.has(key) && !this.#away.has(key))
    const returned = [...this.#away].filter((key) => here.has(key))
    for (const key of vanished) this.#away.add(key)
    for (const key of returned) this.#away.delete(key)
    for (const key of this.#pending.keys()) if (!here.has(key)) this.#pending.delete(key)

    const fresh = inShootingOrder(frames.filter(({ key }) => !this.#known.has(key)))
    const told = fresh.map((frame) => this.#lookAt(frame, nowMs, tickMs, isMissed))
    const firstWaiting = told.findIndex(
      ({ file, pending }) => file === undefined && tickMs - pending.seenMs < patienceMs,
    )
    const free = firstWaiting < 0 ? told : told.slice(0, firstWaiting)
    return {
      whole: free.flatMap(({ frame, file, pending }) =>
        file === undefined ? [] : [{ key: frame.key, file, atMs: pending.atMs }],
      ),
      writing: told
        .filter(({ file }) => file === undefined)
        .map(({ frame }) => frame.files[0]?.name ?? frame.key),
      returned,
      vanished,
    }
  }

  /** Call when a frame is kept: it will not be told of again. */
  counted(key: string): void {
    this.#known.add(key)
    this.#pending.delete(key)
  }

  /** Lets a frame be told of once more: its file was made void, went away and has come again. */
  forget(key: string): void {
    this.#known.delete(key)
  }

  #lookAt(frame: FrameFiles, nowMs: number, tickMs: number, isMissed: boolean) {
    const own = Math.min(...frame.files.map(({ modifiedMs }) => modifiedMs))
    const pending = this.#pending.get(frame.key) ?? {
      atMs: isMissed ? Math.min(own, nowMs) : nowMs,
      seenMs: tickMs,
      files: new Map(),
    }
    this.#pending.set(frame.key, pending)
    for (const { name, bytes, modifiedMs } of frame.files) {
      const state = `${bytes} ${modifiedMs}`
      if (pending.files.get(name)?.state !== state) pending.files.set(name, { state, sinceMs: tickMs })
    }
    const whole = frame.files.find(
      ({ name, bytes }) => bytes > 0 && tickMs - (pending.files.get(name)?.sinceMs ?? tickMs) >= steadyMs,
    )
    return { frame, pending, file: whole?.name }
  }
}
