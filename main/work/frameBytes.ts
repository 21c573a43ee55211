import { closeSync, fstatSync, openSync, readSync } from 'node:fs'
import path from 'node:path'
import type { FrameTrouble } from '../trade/check/files/frameFacts.ts'
import { rawPreviews } from '../trade/check/files/rawPreview.ts'
import { frameName } from '../trade/frameFiles.ts'
import { pictureType } from '../trade/picture.ts'
import { type ExifTags, exifTags, headBytes, noTags } from './exifTags.ts'
import { codeOf } from './frameFolder.ts'
import { giveBack, lentBuffer } from './lentBuffers.ts'

/** A trouble with a frame's file, thrown where it is met. */
export class Troubled extends Error {
  readonly kind: FrameTrouble['kind']
  constructor(kind: FrameTrouble['kind']) {
    super(kind)
    this.kind = kind
  }
}

/** The bytes of a frame's picture, and what its file says beside them. The bytes are lent: see `letGo`. */
export interface FrameBytes {
  /** What can be decoded, the largest picture first: one for a picture, those in a raw file. */
  readonly pictures: readonly Buffer[]
  readonly from: 'picture' | 'raw preview'
  readonly tags: ExifTags
  readonly fileBytes: number
}

const mostBytes = 2 ** 30
/** Cameras may lay more pictures and padding behind the first; each has an end of its own. */
const endBytes = 1 << 16
const endMarker = Buffer.from([0xff, 0xd9])
/** The full-size picture in a raw file, and one smaller where that is spoilt. */
const triedPreviews = 2

/**
 * Reads a picture file, or of a raw file the pictures in it. At once and in this thread: a share that hangs then holds
 * it alone, and none of the threads that the whole program reads files with. Throws `Troubled`, or what the system says.
 * @param heard  gets the size of the file and its tags as soon as they are known, also where it then throws
 */
export function readFrame(
  folder: string,
  file: string,
  heard: (known: { readonly bytes: number; readonly tags: ExifTags }) => void = () => {},
): FrameBytes {
  const handle = openSync(path.join(folder, file), 'r')
  try {
    const found = fstatSync(handle)
    if (!found.isFile()) throw new Troubled('damaged')
    const fileBytes = found.size
    heard({ bytes: fileBytes, tags: noTags })
    if (fileBytes === 0) throw new Troubled('empty')
    if (frameName(file)?.kind === 'raw') {
      const raw = readRaw(handle, fileBytes)
      heard({ bytes: fileBytes, tags: raw.tags })
      if (raw.pictures.length === 0) throw new Troubled('no preview')
      return raw
    }
    if (fileBytes > mostBytes) throw new Troubled('too large')
    const whole = readRange(handle, 0, lentBuffer(fileBytes))
    const tags = exifTags(whole.subarray(0, headBytes)) ?? noTags
    heard({ bytes: fileBytes, tags })
    if (whole.length < fileBytes || lacksEnd(whole)) {
      giveBack(whole)
      throw new Troubled('cut short')
    }
    return { pictures: [whole], from: 'picture', tags, fileBytes }
  } finally {
    closeSync(handle)
  }
}

/** Says that a frame's bytes are done with: other files may be read into their place. */
export function letGo({ pictures }: FrameBytes): void {
  pictures.forEach(giveBack)
}

/** The tags of a frame's file alone, from its beginning: none where they cannot be had. */
export function readTags(folder: string, file: string): ExifTags {
  let handle: number | undefined
  try {
    handle = openSync(path.join(folder, file), 'r')
    return exifTags(readHead(handle)) ?? noTags
  } catch {
    return noTags
  } finally {
    if (handle !== undefined) closeSync(handle)
  }
}

/**
 * True for a JPEG without its end marker FF D9 (ITU-T T.81, annex B) near its end: a card that was drawn may leave the
 * file at its length, filled with zeros, which decodes to a grey lower half.
 */
function lacksEnd(bytes: Buffer): boolean {
  return pictureType(bytes) === 'image/jpeg' && !bytes.subarray(-endBytes).includes(endMarker)
}

function readRaw(handle: number, fileBytes: number): FrameBytes {
  const { jpegs, orientation } = rawPreviews((from, bytes) =>
    readRange(handle, from, Buffer.allocUnsafeSlow(Math.min(bytes, mostBytes))),
  )
  const pictures = jpegs
    .filter(({ from, bytes }) => from + bytes <= fileBytes)
    .slice(0, triedPreviews)
    .map(({ from, bytes }) => readRange(handle, from, lentBuffer(bytes)))
  const [first] = pictures
  const tags = exifTags(readHead(handle)) ?? (first && exifTags(first)) ?? noTags
  return { pictures, from: 'raw preview', tags: { ...tags, orientation }, fileBytes }
}

function readHead(handle: number): Buffer {
  return readRange(handle, 0, Buffer.allocUnsafeSlow(headBytes))
}

/** Fills room with what a file holds from a place on; the part of it that could be filled. */
function readRange(handle: number, from: number, range: Buffer): Buffer {
  let read = 0
  while (read < range.length) {
    const more = readSync(handle, range, read, range.length - read, from + read)
    if (more === 0) break
    read += more
  }
  return range.subarray(0, read)
}

/** What kind of trouble an error of reading or decoding is. */
export function troubleKind(error: unknown): FrameTrouble['kind'] {
  if (error instanceof Troubled) return error.kind
  switch (codeOf(error)) {
    case undefined:
      return kindOfDecoding(error instanceof Error ? error.message : '')
    case 'ENOENT':
    case 'ENOTDIR':
      return 'gone'
    case 'EACCES':
    case 'EPERM':
      return 'not allowed'
    default:
      return 'not readable now'
  }
}

/** What libvips says of a picture that it cannot decode. */
function kindOfDecoding(said: string): FrameTrouble['kind'] {
  if (/pixel limit/iu.test(said)) return 'too large'
  if (/premature|truncat|end of (?:file|image|stream)|read error|not enough/iu.test(said)) return 'cut short'
  return /heif|compression format/iu.test(said) ? 'format' : 'damaged'
}
