import { createHash } from 'node:crypto'
import type { Sharp } from 'sharp'
import type { FrameFacts } from '../trade/check/files/frameFacts.ts'
import { frameTrouble } from '../trade/check/files/frameTrouble.ts'
import type { SmallFrame } from '../trade/check/smallFrame.ts'
import { noTags } from './exifTags.ts'
import { type FrameBytes, letGo, readFrame, readTags, troubleKind } from './frameBytes.ts'

/** A frame as the check looks at it. The pictures are null where `facts.trouble` says why. */
export interface CheckPicture {
  readonly facts: FrameFacts
  readonly small: SmallFrame | null
  /** The same as a JPEG to look at while the take is turned, upright, without metadata. */
  readonly viewing: Uint8Array | null
}

/** The longest side of the frame that is worked with, and of its JPEG: one size for both spares a second scaling. */
export const smallSidePx = 512
/** Of the picture of a frame that a person stops at. */
const largeSidePx = 1280
/** A ticket is read at this size: half its code's modules would be lost at the small one. */
const ticketSidePx = 1200
const tinySidePx = 64
/** A camera of today writes up to some 200 million pixels; more is a stitched picture, or a trap. */
const mostPixels = 268_402_689

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
  return first ?? withoutPicture({ ...noFacts, file: '', bytes: 0, trouble: frameTrouble('gone', '') })
}

/**
 * A frame as a JPEG large enough to see dust and a soft edge, upright, without metadata.
 * @returns null where no file can be decoded
 */
export async function largePicture(folder: string, files: readonly string[]): Promise<Uint8Array | null> {
  const jpeg = await firstOf(folder, files, (source, turn) =>
    upright(source, turn, largeSidePx).jpeg({ quality: 85 }).toBuffer(),
  )
  return jpeg ? bytesOf(jpeg) : null
}

/**
 * The pixels in which a ticket is looked for, red, green, blue and alpha.
 * @returns undefined where no file can be decoded
 */
export function ticketPixels(folder: string, files: readonly string[]) {
  return firstOf(folder, files, async (source, turn) => {
    const { data, info } = await upright(source, turn, ticketSidePx).ensureAlpha().raw().toBuffer(whole)
    return { rgba: new Uint8ClampedArray(data), widthPx: info.width, heightPx: info.height }
  })
}

/** What is made of the first file that decodes; undefined where none does. */
async function firstOf<T>(
  folder: string,
  files: readonly string[],
  make: (source: Sharp, turnDeg: number) => Promise<T>,
): Promise<T | undefined> {
  for (const file of files) {
    try {
      return await firstDecoded(readFrame(folder, file), make)
    } catch {
      // The frame's trouble is said where its picture is read.
    }
  }
  return undefined
}

/**
 * A frame so small that it only tells whether it is like its neighbour: of the small JPEG that a camera lays beside
 * its picture where there is one, which spares decoding the picture itself.
 * @returns undefined where no file can be decoded
 */
export async function tinyFrame(folder: string, files: readonly string[]): Promise<SmallFrame | undefined> {
  for (const file of files) {
    try {
      const { thumbnail } = readTags(folder, file)
      const bytes = thumbnail ? { ...noBytes, pictures: [Buffer.from(thumbnail)] } : readFrame(folder, file)
      return await firstDecoded(bytes, async (source, turn) => {
        const { data, info } = await upright(source, turn, tinySidePx).raw().toBuffer(whole)
        return { widthPx: info.width, heightPx: info.height, rgb: new Uint8Array(data) }
      })
    } catch {
      // As above.
    }
  }
  return undefined
}

const noBytes = { from: 'picture', tags: noTags, fileBytes: 0 } as const

const noFacts = {
  contentHash: null,
  from: null,
  widthPx: null,
  heightPx: null,
  orientation: 1,
  time: null,
  settings: noTags.settings,
  ticket: null,
} as const

async function pictureOfFile(folder: string, file: string): Promise<CheckPicture> {
  let facts: FrameFacts = { ...noFacts, file, bytes: 0, trouble: null }
  try {
    const read = readFrame(folder, file, ({ bytes, tags: { orientation, time, settings } }) => {
      facts = { ...facts, bytes, orientation, time, settings }
    })
    const { small, viewing, widthPx, heightPx, contentHash } = await firstDecoded(
      read,
      async (source, turn) => {
        const decoded = await decode(source, turn)
        return { ...decoded, contentHash: hashOf(read, decoded.small) }
      },
    )
    return { facts: { ...facts, contentHash, from: read.from, widthPx, heightPx }, small, viewing }
  } catch (error) {
    return withoutPicture({ ...facts, trouble: frameTrouble(troubleKind(error), file) })
  }
}

function withoutPicture(facts: FrameFacts): CheckPicture {
  return { facts, small: null, viewing: null }
}

/** The largest picture that decodes, with the turn that its raw file gives it. The bytes are done with after it. */
async function firstDecoded<T>(
  read: FrameBytes,
  make: (source: Sharp, turnDeg: number) => Promise<T>,
): Promise<T> {
  try {
    // Loaded on the first picture: a program whose binding is missing still opens the studio.
    const { default: sharp } = await import('sharp')
    sharp.concurrency(1)
    // What libvips remembers of a place in memory is not true of the next file that is read into it.
    sharp.cache(false)
    let trouble: unknown
    for (const bytes of read.pictures) {
      try {
        const source = sharp(bytes, { failOn: 'truncated', limitInputPixels: mostPixels })
        const turn = read.from === 'raw preview' ? await rawTurn(source, read.tags.orientation) : 0
        return await make(source, turn)
      } catch (error) {
        trouble ??= error
      }
    }
    throw trouble
  } finally {
    letGo(read)
  }
}

/** A preview that says its own orientation is turned by that; else by the raw file's. */
async function rawTurn(source: Sharp, orientation: number): Promise<number> {
  const own = (await source.metadata()).orientation ?? 1
  return own > 1 ? 0 : (turnsDeg[orientation] ?? 0)
}

/** Clockwise turn that sets a picture upright, by its orientation (CIPA DC-008, tag 0x0112); a camera mirrors none. */
const turnsDeg: Readonly<Record<number, number>> = { 3: 180, 6: 90, 8: 270 }

const whole = { resolveWithObject: true } as const

/** Upright, sRGB, 8 bit, on white, with this longest side or smaller. */
function upright(source: Sharp, turnDeg: number, longestPx: number): Sharp {
  const turned = turnDeg === 0 ? source.autoOrient() : source.rotate(turnDeg)
  return turned
    .resize({ width: longestPx, height: longestPx, fit: 'inside', withoutEnlargement: true })
    .flatten({ background: '#ffffff' })
    .toColourspace('srgb')
}

async function decode(source: Sharp, turnDeg: number) {
  const { autoOrient } = await source.metadata()
  const isOnSide = turnDeg % 180 !== 0
  const widthPx = isOnSide ? autoOrient.height : autoOrient.width
  const heightPx = isOnSide ? autoOrient.width : autoOrient.height
  const { data, info } = await upright(source, turnDeg, smallSidePx).raw().toBuffer(whole)
  const { width, height, channels } = info
  const small: SmallFrame = { widthPx: width, heightPx: height, rgb: bytesOf(data) }
  const { default: sharp } = await import('sharp')
  const pixels = sharp(data, { raw: { width, height, channels } })
  const viewing = bytesOf(await pixels.jpeg({ quality: 82, optimiseCoding: false }).toBuffer())
  return { small, viewing, widthPx, heightPx }
}

/** The same bytes, not a copy. */
function bytesOf({ buffer, byteOffset, byteLength }: Buffer): Uint8Array {
  return new Uint8Array(buffer, byteOffset, byteLength)
}

const sampleBytes = 1 << 16

/** SHA-256 (FIPS 180-4) of what tells files apart: size, beginning, end and the small frame, which reads less than all of it. */
function hashOf({ fileBytes, pictures }: FrameBytes, { rgb }: SmallFrame): string {
  const hash = createHash('sha256').update(`${fileBytes} `)
  const [picture] = pictures
  if (picture) hash.update(picture.subarray(0, sampleBytes)).update(picture.subarray(-sampleBytes))
  return hash.update(rgb).digest('hex')
}
