import { closeSync, fstatSync, openSync, readSync } from 'node:fs'
import path from 'node:path'
import { parentPort, workerData } from 'node:worker_threads'
import type { ExifTime } from '../trade/captureTime.ts'
import { exifTags, headBytes } from './exifTags.ts'

// A thread of its own: reads what the camera wrote of the moment of exposure out of many files, and says each.

/** What the thread is given. */
export interface CaptureWork {
  readonly folder: string
  readonly files: readonly string[]
}

/** What it says of some files, in their order; null where a file does not tell. */
export interface CaptureAnswer {
  readonly times: readonly (ExifTime | null)[]
}

/** In PNG, WebP and HEIC the tags may stand at the end. */
const wholeBytes = 1 << 26
const atOnce = 8

const { folder, files } = workerData as CaptureWork
for (let from = 0; from < files.length; from += atOnce) {
  const times = files.slice(from, from + atOnce).map((file) => exifTimeOf(path.join(folder, file)))
  parentPort?.postMessage({ times } satisfies CaptureAnswer)
}

/** A file that cannot be read or holds no such tag tells nothing: it is never a reason to stop. */
function exifTimeOf(file: string): ExifTime | null {
  let handle: number | undefined
  try {
    handle = openSync(file, 'r')
    const { size } = fstatSync(handle)
    const head = readTags(handle, Math.min(size, headBytes))
    if (head || size <= headBytes || size > wholeBytes || /\.jpe?g$/iu.test(file)) return head
    return readTags(handle, size)
  } catch {
    return null
  } finally {
    if (handle !== undefined) closeSync(handle)
  }
}

function readTags(handle: number, bytes: number): ExifTime | null {
  const buffer = Buffer.alloc(bytes)
  const read = readSync(handle, buffer, 0, bytes, 0)
  return exifTags(buffer.subarray(0, read))?.time ?? null
}
