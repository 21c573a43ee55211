import path from 'node:path'
import { Worker } from 'node:worker_threads'
import type { ZipEntry, ZipTold, ZipWork } from './zipWorker.ts'

export type ZipWritten = Exclude<ZipTold, { readonly state: 'working' }>

/** An archive being written in a thread of its own. */
export interface ZipRun {
  readonly done: () => number
  readonly stop: () => void
  readonly written: Promise<ZipWritten>
}

// The bundle has the thread's program beside it; from the sources Node reads the file as it stands.
const program = import.meta.filename.endsWith('.ts') ? 'zipWorker.ts' : 'zipWorker.js'

/**
 * Begins to write an archive of files and texts with a manifest of their names, hashes and sizes. A file that is gone
 * or is not what its hash says ends it as 'spoilt'.
 */
export function runZip(target: string, entries: readonly ZipEntry[], writtenAt: string): ZipRun {
  const flag = new Int32Array(new SharedArrayBuffer(4))
  const work: ZipWork = { target, entries, writtenAt, flag }
  const worker = new Worker(path.join(import.meta.dirname, program), { workerData: work })
  let done = 0
  const written = new Promise<ZipWritten>((resolve, reject) => {
    worker.on('message', (told: ZipTold) => {
      if (told.state === 'working') done = told.done
      else resolve(told)
    })
    worker.on('error', reject)
    worker.on('exit', () => reject(new Error('The archive ended without a word.')))
  })
  return { done: () => done, stop: () => Atomics.store(flag, 0, 1), written }
}
