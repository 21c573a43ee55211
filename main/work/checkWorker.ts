import { statSync } from 'node:fs'
import { parentPort, workerData } from 'node:worker_threads'
import type { FrameFacts } from '../trade/check/frameFacts.ts'
import type { SmallFrame } from '../trade/check/smallFrame.ts'
import { type CheckPicture, checkPicture } from './checkPicture.ts'
import { folderSentence } from './frameFolder.ts'
import { ViewingPictures } from './viewingPictures.ts'

// A thread of its own: looks at the frames of a take as they come, and says of each what the check needs of it.

/** What the thread is given. */
export interface CheckWork {
  readonly folder: string
  /** How many frames are decoded at once. */
  readonly inFlight: number
  readonly viewingBytes: number
}

/** A frame to look at: the files that hold it within the folder, its picture before its raw file. */
export type FilesOfFrame = readonly string[]

/** What it is asked. Frames have their places, from 0, in the order in which they were given. */
export type CheckAsked =
  | { readonly ask: 'read'; readonly frames: readonly FilesOfFrame[] }
  | { readonly ask: 'viewing' | 'small'; readonly id: number; readonly place: number }
  | { readonly ask: 'stop' }

/** A frame that was looked at. */
export interface CheckedFrame {
  readonly place: number
  readonly facts: FrameFacts
}

/** What it tells. */
export type CheckTold =
  | { readonly told: 'frame'; readonly frame: CheckedFrame }
  | { readonly told: 'viewing'; readonly id: number; readonly jpeg: Uint8Array | null }
  | { readonly told: 'small'; readonly id: number; readonly small: SmallFrame | null }
  /** The folder is not there any more: frames not told of by now are not read. */
  | { readonly told: 'gone'; readonly sentence: string }

const { folder, inFlight, viewingBytes } = workerData as CheckWork
/** So many frames may wait for a slower one before them. */
const ahead = 4 * inFlight

const frames: FilesOfFrame[] = []
const viewing = new ViewingPictures(viewingBytes)
const asked: (CheckAsked & { readonly ask: 'viewing' | 'small' })[] = []
const looked = new Map<number, CheckedFrame>()
let nextToRead = 0
let nextToTell = 0
let running = 0
let isStopped = false

const tell = (told: CheckTold) => parentPort?.postMessage(told)

parentPort?.on('message', (message: CheckAsked) => {
  if (message.ask === 'stop') return stop()
  if (message.ask === 'read') frames.push(...message.frames)
  else asked.push(message)
  for (let free = inFlight - running; free > 0; free -= 1) void work()
})

function stop(): void {
  isStopped = true
  parentPort?.close()
}

/** One of the few at work at once: what a person waits for first, then frame after frame. */
async function work(): Promise<void> {
  running += 1
  try {
    while (!isStopped) {
      const question = asked.shift()
      if (question) await answer(question)
      else if (nextToRead < frames.length && nextToRead - nextToTell < ahead) await look(nextToRead++)
      else return
    }
  } finally {
    running -= 1
  }
}

async function look(place: number): Promise<void> {
  const picture = await checkPicture(folder, frames[place] ?? [])
  if (isStopped || place < nextToTell) return
  if (picture.facts.trouble?.kind === 'gone' && isFolderGone()) return
  looked.set(place, frameOf(place, picture))
  if (picture.viewing) viewing.set(place, picture.viewing)
  for (let frame = looked.get(nextToTell); frame; frame = looked.get(nextToTell)) {
    looked.delete(nextToTell)
    nextToTell += 1
    tell({ told: 'frame', frame })
  }
}

function frameOf(place: number, { facts }: CheckPicture): CheckedFrame {
  return { place, facts }
}

/** A card that was drawn takes all its frames with it: that is said once, not of every file. */
function isFolderGone(): boolean {
  try {
    statSync(folder)
    return false
  } catch (error) {
    nextToRead = frames.length
    nextToTell = frames.length
    looked.clear()
    tell({ told: 'gone', sentence: folderSentence(folder, error) })
    return true
  }
}

async function answer({ ask, id, place }: (typeof asked)[number]): Promise<void> {
  const kept = ask === 'viewing' ? viewing.get(place) : undefined
  if (kept) return tell({ told: 'viewing', id, jpeg: kept })
  const picture = await checkPicture(folder, frames[place] ?? [])
  if (isStopped) return
  if (picture.viewing) viewing.set(place, picture.viewing)
  tell(
    ask === 'viewing'
      ? { told: 'viewing', id, jpeg: picture.viewing }
      : { told: 'small', id, small: picture.small },
  )
}
