import path from 'node:path'
import { Worker } from 'node:worker_threads'
import type { PictureArea, SmallFrame } from '../trade/check/smallFrame.ts'
import type {
  CheckAsked,
  CheckedFrame,
  CheckTold,
  CheckWork,
  FilesOfFrame,
  MadeReport,
  ReportAsked,
  StripAsked,
} from './checkWorker.ts'
import type { MadeStrip } from './contactSheet.ts'
import { endedEarly, tellThreadFault } from './threadFaults.ts'

/** Who listens to a check. Nothing is heard any more once it was stopped. */
export interface CheckHearer {
  /** Of each frame once, in the order in which they were given. */
  readonly onFrame: (frame: CheckedFrame) => void
  /** More is known of frames that were heard of: a ticket in one, or the mark in a band that was drawn anew. */
  readonly onMore?: () => void
  /**
   * A folder is not there any more, in words. Frames that were not heard of, in whatever folder, are to be given again:
   * those in it once it is back.
   */
  readonly onGone: (gone: { readonly folder: string; readonly sentence: string }) => void
  /** The thread died; what was heard stays true. */
  readonly onFailed: (sentence: string) => void
}

/** A check of a take's frames in a thread of its own. It lives until it is stopped, to answer for its pictures. */
export interface CheckRun {
  /** Gives it frames, or more of them as they arrive. */
  readonly read: (frames: readonly FilesOfFrame[]) => void
  readonly progress: () => { readonly done: number; readonly frames: number }
  /** A frame's JPEG to look at, made anew where it was let go; null where the picture cannot be had. */
  readonly viewing: (place: number) => Promise<Uint8Array | null>
  /** The same large enough to look for dust in; made anew each time. */
  readonly large: (place: number) => Promise<Uint8Array | null>
  readonly small: (place: number) => Promise<SmallFrame | null>
  /** The take's report by the frames that were heard of; null where the check was stopped. */
  readonly report: (of: ReportAsked) => Promise<MadeReport | null>
  /** Frames small on one sheet, also of files that were not given to it; null where none can be read. */
  readonly strip: (frames: StripAsked['frames']) => Promise<MadeStrip | null>
  /** The band in which the mark on the platter's edge is looked for; it was drawn anew, or taken away. */
  readonly look: (band: PictureArea | null) => void
  /** Ends it at once; what it was asked and has not answered is null. */
  readonly stop: () => void
}

type Answer = Uint8Array | SmallFrame | MadeReport | MadeStrip

/**
 * sharp decodes best in one thread with several pictures at once, each on one thread of libvips. With six some are at work
 * while the thread looks at another: on two cores 0.84 of bare decoding, with four 0.76, measured one after the other.
 */
export const framesInFlight = 6
const viewingBytes = 64 * 2 ** 20
/** A thread that waits for a share that hangs is ended by force after so long, in ms. */
const patienceMs = 5000

// The bundle has the thread's program beside it; from the sources Node reads the file as it stands.
const program = import.meta.filename.endsWith('.ts') ? 'checkWorker.ts' : 'checkWorker.js'

/**
 * Starts a check of frames. Nothing in their folders is changed.
 * @param of.edgeBand  where the mark on the platter's edge is looked for; none where it is not given
 */
export function runCheck(
  hearer: CheckHearer,
  of: { readonly inFlight?: number; readonly edgeBand?: PictureArea | null } = {},
): CheckRun {
  const { inFlight = framesInFlight, edgeBand = null } = of
  const work: CheckWork = { inFlight, viewingBytes, edgeBand }
  const worker = new Worker(path.join(import.meta.dirname, program), { workerData: work })
  const waiting = new Map<number, (answer: Answer | null) => void>()
  const progress = { done: 0, frames: 0 }
  let lastId = 0
  let isOver = false

  const end = () => {
    isOver = true
    for (const settle of waiting.values()) settle(null)
    waiting.clear()
    worker.unref()
  }
  const settle = (id: number, answer: Answer | null) => {
    waiting.get(id)?.(answer)
    waiting.delete(id)
    if (waiting.size === 0) worker.unref()
  }
  const fail = (error: unknown) => {
    if (isOver) return
    end()
    tellThreadFault('the check of a take’s frames', error)
    hearer.onFailed(
      'The check ended by a fault of the program. Start it again; the frames themselves are safe.',
    )
  }
  worker.on('message', (message: CheckTold) => {
    if (isOver) return
    if (message.told === 'viewing') settle(message.id, message.jpeg)
    else if (message.told === 'small') settle(message.id, message.small)
    else if (message.told === 'report') settle(message.id, message.report)
    else if (message.told === 'strip') settle(message.id, message.strip)
    else if (message.told === 'more') hearer.onMore?.()
    else if (message.told === 'gone') {
      progress.frames = progress.done
      hearer.onGone(message)
    } else {
      progress.done += 1
      hearer.onFrame(message.frame)
    }
  })
  worker.once('error', fail)
  worker.once('exit', (code) => fail(endedEarly(code)))
  // After the listeners: one that listens keeps the program alive again.
  worker.unref()

  const say = (asked: CheckAsked) => worker.postMessage(asked)
  const ask = <T extends Answer>(question: (id: number) => CheckAsked) =>
    new Promise<T | null>((resolve) => {
      if (isOver) return resolve(null)
      // Whoever waits for an answer gets it: the program stays until then.
      worker.ref()
      lastId += 1
      waiting.set(lastId, (answer) => resolve(answer as T | null))
      say(question(lastId))
    })
  return {
    read(frames) {
      if (isOver) return
      progress.frames += frames.length
      say({ ask: 'read', frames })
    },
    progress: () => ({ ...progress }),
    viewing: (place) => ask<Uint8Array>((id) => ({ ask: 'viewing', id, place })),
    large: (place) => ask<Uint8Array>((id) => ({ ask: 'large', id, place })),
    small: (place) => ask<SmallFrame>((id) => ({ ask: 'small', id, place })),
    report: (of) => ask<MadeReport>((id) => ({ ask: 'report', id, ...of })),
    look(band) {
      if (!isOver) say({ ask: 'band', band })
    },
    strip: (frames) => ask<MadeStrip>((id) => ({ ask: 'strip', id, frames })),
    stop() {
      if (isOver) return
      end()
      say({ ask: 'stop' })
      const force = setTimeout(() => void worker.terminate(), patienceMs)
      force.unref()
      worker.once('exit', () => clearTimeout(force))
    },
  }
}
