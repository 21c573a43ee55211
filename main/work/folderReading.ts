import path from 'node:path'
import type { Db } from '../../db/open.ts'
import { Refusal } from '../trade/refusal.ts'
import { type FolderFile, filesOfFolder, hashFile } from './fileHashes.ts'

/** A file that was expected and found. */
export interface FoundFile extends FolderFile {
  readonly sha256: string
}

/** How far the reading of a folder is, or what came of it. */
export type FolderReading =
  | {
      readonly state: 'reading'
      readonly folder: string
      readonly filesDone: number
      readonly files: number
      readonly bytesDone: number
      readonly bytes: number
    }
  | {
      readonly state: 'done'
      readonly folder: string
      readonly found: number
      readonly missing: readonly string[]
      /** Files that nobody expected; at most 500 are named. */
      readonly extra: readonly FolderFile[]
      readonly extraCount: number
    }
  | { readonly state: 'failed'; readonly folder: string; readonly sentence: string }
  | { readonly state: 'stopped'; readonly folder: string }

interface Running {
  reading: FolderReading
  readonly stop: AbortController
}

const namedAtMost = 500
const readings = new WeakMap<Db, Map<number, Running>>()

/**
 * Reads the expected files of a folder in the background: one at a time, so that the disk is not fought over.
 * `keep` gets what was found once all of it is read. Refuses a folder that is not there, at once.
 * @param id  the delivery it is read for; its earlier reading is stopped
 */
export async function startReading(
  db: Db,
  id: number,
  folder: string,
  expected: readonly string[],
  keep: (found: readonly FoundFile[]) => void,
): Promise<void> {
  stopReading(db, id)
  const files = await filesOfFolder(folder)
  const names = new Set(expected)
  const wanted = files.filter(({ name }) => names.has(name))
  const stop = new AbortController()
  const bytes = wanted.reduce((sum, file) => sum + file.bytes, 0)
  const running: Running = {
    reading: { state: 'reading', folder, filesDone: 0, files: wanted.length, bytesDone: 0, bytes },
    stop,
  }
  const ofStore = readings.get(db) ?? new Map<number, Running>()
  readings.set(db, ofStore.set(id, running))
  void readAll(running, folder, wanted)
    .then((found) => {
      if (stop.signal.aborted) return
      keep(found)
      const here = new Set(files.map(({ name }) => name))
      const extra = files.filter(({ name }) => !names.has(name))
      running.reading = {
        state: 'done',
        folder,
        found: found.length,
        missing: expected.filter((name) => !here.has(name)),
        extra: extra.slice(0, namedAtMost),
        extraCount: extra.length,
      }
    })
    .catch((error: unknown) => {
      running.reading = stop.signal.aborted
        ? { state: 'stopped', folder }
        : { state: 'failed', folder, sentence: sentenceOf(error) }
    })
}

/** The last reading for this delivery since the program was started. */
export function readingOf(db: Db, id: number): FolderReading | null {
  return readings.get(db)?.get(id)?.reading ?? null
}

/** Stops a reading; what was kept before stays. */
export function stopReading(db: Db, id: number): void {
  const running = readings.get(db)?.get(id)
  if (running?.reading.state !== 'reading') return
  running.stop.abort()
  running.reading = { state: 'stopped', folder: running.reading.folder }
}

async function readAll(running: Running, folder: string, files: readonly FolderFile[]): Promise<FoundFile[]> {
  const found: FoundFile[] = []
  const advance = (files: number, bytes: number) => {
    const { reading } = running
    if (reading.state !== 'reading') return
    running.reading = {
      ...reading,
      filesDone: reading.filesDone + files,
      bytesDone: reading.bytesDone + bytes,
    }
  }
  for (const { name } of files) {
    const read = await hashFile(path.join(folder, name), {
      signal: running.stop.signal,
      onBytes: (bytes) => advance(0, bytes),
    })
    found.push({ name, ...read })
    advance(1, 0)
  }
  return found
}

function sentenceOf(error: unknown): string {
  if (error instanceof Refusal) return error.message
  const code = (error as { code?: string }).code
  if (code === 'EACCES' || code === 'EPERM')
    return 'A file there may not be read by this program. Check its rights.'
  if (code === 'ENOENT') return 'A file went away while it was read. Read the folder again.'
  return 'The folder could not be read to its end. Read it again.'
}
