import { Worker } from 'node:worker_threads'
import type { Db } from '../../db/open.ts'
import { captureMs, type ExifTime, saysOffset } from '../trade/captureTime.ts'
import { inTime, type TimedFrame } from '../trade/filedTake.ts'
import { type FrameFiles, inShootingOrder, joinFrames } from '../trade/frameFiles.ts'
import type { CaptureAnswer, CaptureWork } from './captureWorker.ts'
import { readNamedFolder } from './frameFolder.ts'
import { tellThreadFault } from './threadFaults.ts'

/** How far the reading of a folder's frames is, or what came of it. */
export type CaptureReading =
  | { readonly state: 'reading'; readonly folder: string; readonly done: number; readonly frames: number }
  | { readonly state: 'done'; readonly folder: string; readonly found: readonly TimedFrame[] }
  | { readonly state: 'stopped' | 'failed'; readonly folder: string }

interface Running {
  reading: CaptureReading
  readonly worker: Worker
}

const readings = new WeakMap<Db, Map<number, Running>>()

/**
 * Reads the frames of a folder and when each was shot, in a thread of its own: a raw file and its picture are one
 * frame. Refuses, at once, a folder that is not there or cannot be read. `capturesOf` tells how far it is.
 * @param id    for whom it is read, a device: its earlier reading is stopped
 * @param zone  the studio's time zone, in which a camera that says none is taken to be
 */
export async function startCaptures(db: Db, id: number, folder: string, zone: string): Promise<void> {
  const { files } = await readNamedFolder(folder)
  stopCaptures(db, id)
  const frames = inShootingOrder(joinFrames(files))
  const worker = captureWorker({ folder, files: frames.map(({ files: [first] }) => first?.name ?? '') })
  const running: Running = { reading: { state: 'reading', folder, done: 0, frames: frames.length }, worker }
  const times: (ExifTime | null)[] = []
  worker.on('message', (answer: CaptureAnswer) => {
    times.push(...answer.times)
    if (running.reading.state === 'reading') running.reading = { ...running.reading, done: times.length }
  })
  worker.once('error', (error) => {
    tellThreadFault('the reading of when frames were shot', error)
    running.reading = { state: 'failed', folder }
  })
  worker.once('exit', () => {
    if (running.reading.state !== 'reading') return
    const isWhole = times.length === frames.length
    running.reading = isWhole
      ? {
          state: 'done',
          folder,
          found: inTime(frames.map((frame, index) => timedFrame(frame, times[index] ?? null, zone))),
        }
      : { state: 'failed', folder }
  })
  const ofStore = readings.get(db) ?? new Map<number, Running>()
  readings.set(db, ofStore.set(id, running))
}

/** The last reading for this device since the program was started. */
export function capturesOf(db: Db, id: number): CaptureReading | null {
  return readings.get(db)?.get(id)?.reading ?? null
}

/** Stops a reading that is on its way; nothing of it is kept. */
export function stopCaptures(db: Db, id: number): void {
  const running = readings.get(db)?.get(id)
  if (running?.reading.state !== 'reading') return
  running.reading = { state: 'stopped', folder: running.reading.folder }
  void running.worker.terminate()
}

/** The thread's program lies beside this one: as it is written, or as it was built. */
function captureWorker(work: CaptureWork): Worker {
  const isBuilt = import.meta.url.endsWith('.js')
  const worker = new Worker(new URL(`captureWorker.${isBuilt ? 'js' : 'ts'}`, import.meta.url), {
    workerData: work,
  })
  worker.unref()
  return worker
}

/**
 * A frame with the instant it was shot at: by its camera, else by its file's own time.
 * @param zone  the studio's time zone, in which a camera that says none is taken to be
 */
export function timedFrame(frame: FrameFiles, exif: ExifTime | null, zone: string): TimedFrame {
  const { files, ...name } = frame
  const [first] = files
  const fromCamera = exif ? captureMs(exif, zone) : undefined
  return {
    ...name,
    file: first?.name ?? frame.key,
    files: files.length,
    atMs: fromCamera ?? first?.modifiedMs ?? 0,
    clock: fromCamera === undefined || !exif ? 'file' : saysOffset(exif) ? 'camera' : 'camera, local',
  }
}
