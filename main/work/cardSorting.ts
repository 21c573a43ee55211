import path from 'node:path'
import { Worker } from 'node:worker_threads'
import type { Db } from '../../db/open.ts'
import type { CardFrame } from '../trade/check/files/takesFound.ts'
import { type FrameFiles, inShootingOrder, joinFrames } from '../trade/frameFiles.ts'
import { timedFrame } from './captureReading.ts'
import type { Card, CardAnswer, CardWork } from './cardWorker.ts'
import { readNamedFolder, refuseFolders } from './frameFolder.ts'
import { endedEarly, tellThreadFault } from './threadFaults.ts'

/** How far the sorting of cards is, or what came of it: `takesFound` makes takes of its frames. */
export type CardSorting =
  | {
      readonly state: 'reading'
      readonly folders: readonly string[]
      readonly done: number
      readonly frames: number
      readonly tickets: number
    }
  | {
      readonly state: 'done'
      readonly folders: readonly string[]
      /** One list for each folder, in the order they were shot. */
      readonly cards: readonly (readonly CardFrame[])[]
    }
  | { readonly state: 'stopped'; readonly folders: readonly string[] }
  | { readonly state: 'failed'; readonly folders: readonly string[]; readonly sentence: string }

interface Running {
  sorting: CardSorting
  readonly flag: Int32Array
}

const sortings = new WeakMap<Db, Map<number, Running>>()

// The bundle has the thread's program beside it; from the sources Node reads the file as it stands.
const program = import.meta.filename.endsWith('.ts') ? 'cardWorker.ts' : 'cardWorker.js'

/**
 * Reads the frames of several cards, when each was shot and which of them show a ticket, in a thread of its own.
 * Nothing on them is changed. Refuses, at once, a folder that is not there or cannot be read, one named twice, none,
 * and more than 20.
 * @param id    for whom it is read, a device: its earlier sorting is stopped
 * @param zone  the studio's time zone, in which a camera that says none is taken to be
 */
export async function startSorting(
  db: Db,
  id: number,
  folders: readonly string[],
  zone: string,
): Promise<void> {
  refuseFolders(folders)
  const frames: FrameFiles[][] = []
  for (const folder of folders)
    frames.push(inShootingOrder(joinFrames((await readNamedFolder(folder)).files)))
  stopSorting(db, id)
  const cards: Card[] = frames.map((ofCard, index) => ({
    folder: folders[index] ?? '',
    frames: ofCard.map(({ files }) => files.map(({ name }) => name)),
  }))
  const work: CardWork = { cards, flag: new Int32Array(new SharedArrayBuffer(4)) }
  const count = frames.reduce((sum, { length }) => sum + length, 0)
  const running: Running = {
    sorting: { state: 'reading', folders, done: 0, frames: count, tickets: 0 },
    flag: work.flag,
  }
  const ofStore = sortings.get(db) ?? new Map<number, Running>()
  sortings.set(db, ofStore.set(id, running))
  follow(running, new Worker(path.join(import.meta.dirname, program), { workerData: work }), {
    folders,
    frames,
    count,
    zone,
  })
}

/** The last sorting for this device since the program was started. */
export function sortingOf(db: Db, id: number): CardSorting | null {
  return sortings.get(db)?.get(id)?.sorting ?? null
}

/** Stops a sorting that is on its way; nothing of it is kept. */
export function stopSorting(db: Db, id: number): void {
  const running = sortings.get(db)?.get(id)
  if (running?.sorting.state !== 'reading') return
  Atomics.store(running.flag, 0, 1)
  running.sorting = { state: 'stopped', folders: running.sorting.folders }
}

interface Followed {
  readonly folders: readonly string[]
  readonly frames: readonly (readonly FrameFiles[])[]
  readonly count: number
  readonly zone: string
}

function follow(running: Running, worker: Worker, { folders, frames, count, zone }: Followed): void {
  const cards: CardFrame[][] = frames.map(() => [])
  worker.on('message', (answer: CardAnswer) => {
    const card = cards[answer.card]
    const frame = frames[answer.card]?.[card?.length ?? 0]
    if (!card || !frame || running.sorting.state !== 'reading') return
    const folder = folders[answer.card] ?? ''
    card.push({ ...timedFrame(frame, answer.time, zone), folder, ticket: answer.ticket })
    const { done, tickets } = running.sorting
    const more = answer.ticket === null ? 0 : 1
    running.sorting = { ...running.sorting, done: done + 1, tickets: tickets + more }
  })
  const end = (error: unknown) => {
    if (running.sorting.state !== 'reading') return
    if (running.sorting.done < count) tellThreadFault('the sorting of cards', error)
    running.sorting =
      running.sorting.done === count
        ? { state: 'done', folders, cards }
        : {
            state: 'failed',
            folders,
            sentence:
              'The cards could not be read to their end. Check that they are still there, and sort again.',
          }
  }
  worker.once('error', end)
  worker.once('exit', (code) => end(endedEarly(code)))
  // After the listeners: one that listens keeps the program alive again.
  worker.unref()
}
