import { createHash } from 'node:crypto'
import { closeSync, fstatSync, openSync, readSync } from 'node:fs'
import path from 'node:path'
import type { FrameFacts, FrameTrouble } from '../trade/check/frameFacts.ts'
import { frameTrouble } from '../trade/check/frameTrouble.ts'
import type { SmallFrame } from '../trade/check/smallFrame.ts'
import { frameName } from '../trade/frameFiles.ts'
import { exifTags, headBytes, noTags } from './exifTags.ts'
import { codeOf } from './frameFolder.ts'

/** A frame as the check looks at it. The pictures are null where `facts.trouble` says why. */
export interface CheckPicture {
  readonly facts: FrameFacts
  readonly small: SmallFrame | null
  /** A JPEG to look at, upright, without metadata. */
  readonly viewing: Uint8Array | null
}

/** The longest sides of the frame that is worked with, and of the one that is looked at. */
export const smallSidePx = 512
export const viewingSidePx = 640
/** A camera of today writes up to some 200 million pixels; more is a stitched picture, or a trap. */
const mostPixels = 268_402_689
const mostBytes = 2 ** 30

/**
 * Reads one frame and decodes it once. Whatever its files are, it comes back: with its pictures, or with what is
 * wrong in words. Nothing in the folder is changed.
 * @param files  the files that hold it within the folder, its picture before its raw file: the first that can be read counts
 */
export async function checkPicture(folder: string, files: readonly string[]): Promise<CheckPicture> {
  let first: CheckPicture | undefined
  for (const file of files) {
    const picture = await pictureOfFile(folder, file)
    if (!picture.facts.trouble) return picture
    first ??= picture
  }
  return first ?? without(frameTrouble('gone', ''), { file: '', bytes: 0 })
}

/** A trouble with the file, thrown where it is met. */
class Troubled extends Error {
  readonly kind: FrameTrouble['kind']
  constructor(kind: FrameTrouble['kind']) {
    super(kind)
    this.kind = kind
  }
}

async function pictureOfFile(folder: string, file: string): Promise<CheckPicture> {
  let bytes = 0
  let tags = noTags
  try {
    const whole = readWhole(path.join(folder, file), (found) => {
      bytes = found
    })
    tags = exifTags(whole.subarray(0, headBytes)) ?? noTags
    if (frameName(file)?.kind === 'raw') throw new Troubled('no preview')
    const { small, viewing, widthPx, heightPx } = await decode(whole)
    const facts: FrameFacts = {
      file,
      bytes,
      contentHash: contentHash(whole, small),
      from: 'picture',
      widthPx,
      heightPx,
      orientation: tags.orientation,
      time: tags.time,
      settings: tags.settings,
      trouble: null,
    }
    return { facts, small, viewing }
  } catch (error) {
    return without(frameTrouble(kindOf(error), file), { ...tags, file, bytes })
  }
}

function without(
  trouble: FrameTrouble,
  known: Pick<FrameFacts, 'file' | 'bytes'> & Partial<FrameFacts>,
): CheckPicture {
  const { file, bytes, orientation = 1, time = null, settings = noTags.settings } = known
  const picture = { contentHash: null, from: null, widthPx: null, heightPx: null }
  return {
    facts: { file, bytes, ...picture, orientation, time, settings, trouble },
    small: null,
    viewing: null,
  }
}

/**
 * Read at once and in this thread: a share that hangs then holds it alone, and none of the threads that the whole
 * program reads files with. As bytes, since libvips takes some letters of a name for its own options.
 */
function readWhole(file: string, heard: (bytes: number) => void): Buffer {
  const handle = openSync(file, 'r')
  try {
    const found = fstatSync(handle)
    if (!found.isFile()) throw new Troubled('damaged')
    heard(found.size)
    if (found.size === 0) throw new Troubled('empty')
    if (found.size > mostBytes) throw new Troubled('too large')
    const whole = Buffer.allocUnsafeSlow(found.size)
    let read = 0
    while (read < whole.length) {
      const more = readSync(handle, whole, read, whole.length - read, read)
      if (more === 0) throw new Troubled('cut short')
      read += more
    }
    return whole
  } finally {
    closeSync(handle)
  }
}

async function decode(bytes: Uint8Array) {
  // Loaded on the first picture: a program whose binding is missing still opens the studio.
  const { default: sharp } = await import('sharp')
  sharp.concurrency(1)
  const source = sharp(bytes, { failOn: 'truncated', limitInputPixels: mostPixels })
  const { autoOrient } = await source.metadata()
  const larger = await source
    .autoOrient()
    .resize({ width: viewingSidePx, height: viewingSidePx, fit: 'inside', withoutEnlargement: true })
    .flatten({ background: '#ffffff' })
    .toColourspace('srgb')
    .raw({ depth: 'uchar' })
    .toBuffer({ resolveWithObject: true })
  const pixels = () =>
    sharp(larger.data, {
      raw: { width: larger.info.width, height: larger.info.height, channels: larger.info.channels },
    })
  const longest = Math.max(autoOrient.width, autoOrient.height)
  const part = Math.min(1, smallSidePx / longest)
  const { data, info } = await pixels()
    .resize({
      width: Math.max(1, Math.round(autoOrient.width * part)),
      height: Math.max(1, Math.round(autoOrient.height * part)),
      fit: 'fill',
    })
    .raw()
    .toBuffer({ resolveWithObject: true })
  const small: SmallFrame = { widthPx: info.width, heightPx: info.height, rgb: new Uint8Array(data) }
  const viewing = new Uint8Array(await pixels().jpeg({ quality: 82 }).toBuffer())
  return { small, viewing, widthPx: autoOrient.width, heightPx: autoOrient.height }
}

const sampleBytes = 1 << 16

/** SHA-256 (FIPS 180-4) of what tells files apart: size, beginning, end and the small frame, which reads less than all of it. */
function contentHash(whole: Uint8Array, { rgb }: SmallFrame): string {
  return createHash('sha256')
    .update(`${whole.length} `)
    .update(whole.subarray(0, sampleBytes))
    .update(whole.subarray(-sampleBytes))
    .update(rgb)
    .digest('hex')
}

function kindOf(error: unknown): FrameTrouble['kind'] {
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
  return /heif|unsupported compression/iu.test(said) ? 'format' : 'damaged'
}
