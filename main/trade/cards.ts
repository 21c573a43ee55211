import { Refusal } from './refusal.ts'

export interface FrameFile {
  readonly widthPx: number
  readonly heightPx: number
  /** Bits kept for each pixel: 14 for a raw of one value a pixel, 24 for three colours of 8. */
  readonly bitsPerPixel: number
  /** File ÷ uncompressed picture: 1 for none, 0.5 for half. */
  readonly compression: number
}

/**
 * Bytes of one frame's file: pixels × bits ÷ 8 × compression, whole. A raw file's preview and header come on
 * top, and lossless compression depends on the picture: measure a frame of your own where it counts (common
 * practice, no published source).
 */
export function frameBytes({ widthPx, heightPx, bitsPerPixel, compression }: FrameFile): number {
  checkCount(widthPx, 'The width', 'widthPx', 100_000)
  checkCount(heightPx, 'The height', 'heightPx', 100_000)
  checkCount(bitsPerPixel, 'The bit depth', 'bitsPerPixel', 128)
  if (typeof compression !== 'number' || !(compression > 0 && compression <= 1)) {
    throw new Refusal(
      'bad-compression',
      `The compression is ${compression}. Enter the file's size as a part of the uncompressed one, over 0 and up to 1.`,
      { field: 'compression' },
    )
  }
  return Math.ceil(((widthPx * heightPx * bitsPerPixel) / 8) * compression)
}

export interface CardSpace {
  readonly totalBytes: number
  /** Whole frames that go on one card. */
  readonly framesPerCard: number
  readonly cards: number
}

/** Room that frames take on cards of one size; sold in powers of ten: 64 GB are 64,000,000,000 bytes. */
export function cardSpace(frames: number, bytesPerFrame: number, cardBytes: number): CardSpace {
  checkCount(frames, 'The number of frames', 'frames', 10_000_000)
  checkCount(bytesPerFrame, 'A frame', 'bytesPerFrame', 100_000_000_000)
  checkCount(cardBytes, 'The card', 'cardBytes', 1_000_000_000_000_000)
  const framesPerCard = Math.floor(cardBytes / bytesPerFrame)
  if (framesPerCard === 0) {
    throw new Refusal(
      'card-too-small',
      `A frame of ${bytesPerFrame} bytes does not fit on a card of ${cardBytes} bytes. Use a larger card.`,
      { field: 'cardBytes' },
    )
  }
  return { totalBytes: frames * bytesPerFrame, framesPerCard, cards: Math.ceil(frames / framesPerCard) }
}

/** The two that a copy passes through, each with its speed; the slower decides. */
export interface CopyWay {
  readonly cardBytesPerSecond: number
  readonly readerBytesPerSecond: number
}

/** Time to copy from card to disk, in ms, rounded up, at the slower of card and reader. */
export function copyMs(totalBytes: number, way: CopyWay): number {
  checkCount(totalBytes, 'The size', 'totalBytes', Number.MAX_SAFE_INTEGER)
  checkSpeed(way.cardBytesPerSecond, 'The card', 'cardBytesPerSecond')
  checkSpeed(way.readerBytesPerSecond, 'The reader', 'readerBytesPerSecond')
  return Math.ceil((1000 * totalBytes) / Math.min(way.cardBytesPerSecond, way.readerBytesPerSecond))
}

/** What a card must write, in bytes a second, so that it keeps up with one frame every `stepMs`. */
export function writingBytesPerSecond(bytesPerFrame: number, stepMs: number): number {
  checkCount(bytesPerFrame, 'A frame', 'bytesPerFrame', 100_000_000_000)
  checkSpeed(stepMs, 'The time for a step', 'stepMs', 'ms')
  return (1000 * bytesPerFrame) / stepMs
}

/**
 * Marks on SD cards and the least speed each promises for writing in one stretch, in bytes a second. Reading is
 * mostly faster. Source: the SD Association's classes as quoted by nextorage.net and computerlanguage.com.
 */
export const cardClasses = {
  C2: 2e6,
  C4: 4e6,
  C6: 6e6,
  C10: 10e6,
  U1: 10e6,
  U3: 30e6,
  V6: 6e6,
  V10: 10e6,
  V30: 30e6,
  V60: 60e6,
  V90: 90e6,
} as const

/**
 * The most that a reader's way to the computer carries, in bytes a second; real copies are slower. Sources: SD
 * bus speeds as for `cardClasses`; USB at 5 Gb/s codes 8 bits as 10, at 10 and 20 Gb/s 128 as 132
 * (documentation.truetesting.org, USB 3.x); 480 Mb/s counted as raw bits.
 */
export const readerWays = {
  'UHS-I': 104e6,
  'UHS-II': 312e6,
  'UHS-III': 624e6,
  'USB 480 Mb/s': 60e6,
  'USB 5 Gb/s': 500e6,
  'USB 10 Gb/s': (10e9 * 128) / 132 / 8,
  'USB 20 Gb/s': (20e9 * 128) / 132 / 8,
} as const

function checkCount(value: number, what: string, field: string, most: number): void {
  if (!Number.isSafeInteger(value) || value <= 0 || value > most) {
    throw new Refusal('bad-count', `${what} is ${value}. Enter a whole number from 1 to ${most}.`, { field })
  }
}

function checkSpeed(value: number, what: string, field: string, unit = 'bytes a second'): void {
  if (typeof value !== 'number' || !Number.isFinite(value) || value <= 0) {
    throw new Refusal('bad-speed', `${what} is ${value} ${unit}. Enter a number over 0.`, { field })
  }
}
