import { statSync } from 'node:fs'
import { parentPort, workerData } from 'node:worker_threads'
import { captureMs } from '../trade/captureTime.ts'
import type { CheckedTake } from '../trade/check/checkedTake.ts'
import { bandProfile } from '../trade/check/edgeMark/edgeMarkSeen.ts'
import type { FrameFacts } from '../trade/check/files/frameFacts.ts'
import { TicketFrames } from '../trade/check/files/ticketFrames.ts'
import { traceOf } from '../trade/check/outline/trace.ts'
import { reportOf, type SeenFrame } from '../trade/check/reportOf.ts'
import type { PictureArea, SmallFrame } from '../trade/check/smallFrame.ts'
import { matchPicture } from '../trade/check/turn/matching.ts'
import type { Turn, TurnFrame } from '../trade/check/turnFrames.ts'
import { type CheckPicture, checkPicture, largePicture } from './checkPicture.ts'
import { contactSheet, type MadeStrip } from './contactSheet.ts'
import { folderSentence } from './frameFolder.ts'
import { readTicketText } from './ticketReading.ts'
import { ViewingPictures } from './viewingPictures.ts'

// A thread of its own: looks at the frames of a take as they come, and says of each what the check needs of it.

/** What the thread is given. */
export interface CheckWork {
  /** How many frames are decoded at once. */
  readonly inFlight: number
  readonly viewingBytes: number
  /** Where the platter's edge with its mark is seen; null where nobody has drawn it. */
  readonly edgeBand: PictureArea | null
}

/** A frame to look at: the files that hold it within their folder, its picture before its raw file. */
export type FilesOfFrame = Pick<TurnFrame, 'folder' | 'files'>

/** What a report is made of: the take, its turn, and the places of the turn's frames that were looked at. */
export interface ReportAsked {
  readonly take: CheckedTake
  readonly turn: Turn
  readonly places: readonly (number | null)[]
}

/** A report as JSON: it is kept and handed on as it is. */
export interface MadeReport {
  readonly json: string
  readonly framesRead: number
}

/** Frames for a sheet of small ones, in their order: their files, and their place where they were given before. */
export interface StripAsked {
  readonly frames: readonly (FilesOfFrame & { readonly place: number | null })[]
}

/** What it is asked. Frames have their places, from 0, in the order in which they were given. */
export type CheckAsked =
  | { readonly ask: 'read'; readonly frames: readonly FilesOfFrame[] }
  | { readonly ask: 'viewing' | 'large' | 'small'; readonly id: number; readonly place: number }
  | ({ readonly ask: 'report'; readonly id: number } & ReportAsked)
  | ({ readonly ask: 'strip'; readonly id: number } & StripAsked)
  /** The band was drawn anew, or taken away: frames that were looked at are looked at again for it. */
  | { readonly ask: 'band'; readonly band: PictureArea | null }
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
  | { readonly told: 'report'; readonly id: number; readonly report: MadeReport }
  | { readonly told: 'strip'; readonly id: number; readonly strip: MadeStrip | null }
  /**
   * More is known of frames that were told: a ticket was read in one, or all were looked at for a band drawn anew. A
   * report made before does not rest on it.
   */
  | { readonly told: 'more' }
  /** A folder is not there any more: frames not told of by now, in whatever folder, are not read. */
  | { readonly told: 'gone'; readonly folder: string; readonly sentence: string }

type Question = CheckAsked & { readonly ask: 'viewing' | 'large' | 'small' | 'strip' }

const { inFlight, viewingBytes, edgeBand } = workerData as CheckWork
/** So many frames may wait for a slower one before them. */
const ahead = 4 * inFlight
/** So many questions are answered while all that read frames are at work. */
const mostBeside = 1

const frames: FilesOfFrame[] = []
const viewing = new ViewingPictures(viewingBytes)
const asked: Question[] = []
const looked = new Map<number, CheckedFrame>()
/** What the take's report is made of, by place. */
const seen = new Map<number, SeenFrame>()
const ticketFrames = new TicketFrames()
let band = edgeBand
/** Frames that were looked at before the band was drawn as it is now. */
let toBand: number[] = []
let banding = 0
let nextToRead = 0
let nextToTell = 0
let running = 0
let beside = 0
let isStopped = false

// Loaded before the first frame comes; where it cannot be, each frame says so.
void import('sharp').catch(() => {})

const tell = (told: CheckTold) => parentPort?.postMessage(told)

parentPort?.on('message', (message: CheckAsked) => {
  if (message.ask === 'stop') return stop()
  if (message.ask === 'report') return report(message)
  if (message.ask === 'read') frames.push(...message.frames)
  else if (message.ask === 'band') drawBand(message.band)
  else asked.push(message)
  // A person waits for a picture: it is not kept waiting by the frames that are being decoded.
  if (message.ask !== 'read' && running >= inFlight && beside < mostBeside) void answerBeside()
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
      else if (toBand.length > 0) await lookForMark(toBand.shift() ?? 0)
      else return
    }
  } finally {
    running -= 1
  }
}

/** Answers what was asked beside the frames at work, and reads none itself. */
async function answerBeside(): Promise<void> {
  beside += 1
  try {
    for (let question = asked.shift(); question && !isStopped; question = asked.shift())
      await answer(question)
  } finally {
    beside -= 1
  }
}

async function look(place: number): Promise<void> {
  const picture = await pictureAt(place)
  if (isStopped || place < nextToTell) return
  if (picture.facts.trouble?.kind === 'gone' && isFolderGone(frames[place]?.folder ?? '')) return
  looked.set(place, frameOf(place, picture))
  const { facts, small } = picture
  seen.set(place, { facts, trace: small && traceOf(small), band: small && band && bandProfile(small, band) })
  if (picture.viewing) viewing.set(place, picture.viewing)
  for (let frame = looked.get(nextToTell); frame; frame = looked.get(nextToTell)) {
    looked.delete(nextToTell)
    nextToTell += 1
    tell({ told: 'frame', frame })
    await lookForTicket(frame)
  }
}

/** Frames that may show a ticket are looked at once more, larger. */
async function lookForTicket({ place, facts }: CheckedFrame): Promise<void> {
  const trace = seen.get(place)?.trace ?? null
  const atMs = facts.time && captureMs(facts.time, 'UTC')
  const hint = ticketFrames.hintOf(trace ? matchPicture(trace.thumb) : null, atMs ?? null)
  if (hint === null) return
  const ticket = await readTicketText(frames[place]?.folder ?? '', [facts.file])
  if (isStopped || ticket === null) return
  seen.set(place, { trace, band: seen.get(place)?.band ?? null, facts: { ...facts, ticket } })
  tell({ told: 'more' })
}

/** Profiles of another band are let go at once; those of the new one are read after what waits to be read. */
function drawBand(to: PictureArea | null): void {
  band = to
  for (const [place, one] of seen) seen.set(place, { ...one, band: null })
  toBand = band ? [...seen].flatMap(([place, { trace }]) => (trace ? [place] : [])) : []
}

async function lookForMark(place: number): Promise<void> {
  const drawn = band
  banding += 1
  const { small } = await pictureAt(place)
  banding -= 1
  const one = seen.get(place)
  // It may have been drawn once more meanwhile.
  if (isStopped || drawn !== band || !band) return
  if (one && small) seen.set(place, { ...one, band: bandProfile(small, band) })
  if (isBanded()) tell({ told: 'more' })
}

function isBanded(): boolean {
  return toBand.length === 0 && banding === 0
}

function pictureAt(place: number): Promise<CheckPicture> {
  const { folder, files } = filesAt(place)
  return checkPicture(folder, files)
}

function filesAt(place: number): FilesOfFrame {
  return frames[place] ?? { folder: '', files: [] }
}

function frameOf(place: number, { facts }: CheckPicture): CheckedFrame {
  return { place, facts }
}

/** A card that was drawn takes all its frames with it: that is said once, not of every file. */
function isFolderGone(folder: string): boolean {
  try {
    statSync(folder)
    return false
  } catch (error) {
    nextToRead = frames.length
    nextToTell = frames.length
    looked.clear()
    tell({ told: 'gone', folder, sentence: folderSentence(folder, error) })
    return true
  }
}

/** Made in one go: the analyses of a whole take are quicker than a few frames are read. */
function report({ id, take, turn, places }: CheckAsked & { readonly ask: 'report' }): void {
  const made = reportOf(
    take,
    turn,
    places.map((place) => {
      const one = place === null ? undefined : seen.get(place)
      // A mark that was looked for in half of the frames tells nothing yet.
      return one ? { ...one, band: isBanded() ? one.band : null } : null
    }),
  )
  tell({ told: 'report', id, report: { json: JSON.stringify(made), framesRead: made.framesRead } })
}

async function answer(question: Question): Promise<void> {
  const { ask, id } = question
  if (ask === 'strip') {
    const strip = await contactSheet(
      question.frames.map(({ folder, files, place }) => async () => {
        const kept = place === null ? undefined : viewing.get(place)
        return kept ?? (await checkPicture(folder, files)).viewing
      }),
    )
    if (!isStopped) tell({ told: 'strip', id, strip })
    return
  }
  const { place } = question
  if (ask === 'large') {
    const { folder, files } = filesAt(place)
    const jpeg = await largePicture(folder, files)
    if (!isStopped) tell({ told: 'viewing', id, jpeg })
    return
  }
  const kept = ask === 'viewing' ? viewing.get(place) : undefined
  if (kept) return tell({ told: 'viewing', id, jpeg: kept })
  const picture = await pictureAt(place)
  if (isStopped) return
  if (picture.viewing) viewing.set(place, picture.viewing)
  tell(
    ask === 'viewing'
      ? { told: 'viewing', id, jpeg: picture.viewing }
      : { told: 'small', id, small: picture.small },
  )
}
