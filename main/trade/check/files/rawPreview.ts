/** Reads a range of a file; shorter where the file ends before it. */
export type ReadRange = (from: number, bytes: number) => Uint8Array

/** A JPEG inside another file. */
export interface JpegPart {
  readonly from: number
  readonly bytes: number
  readonly widthPx: number
  readonly heightPx: number
}

/** What a raw file holds that can be looked at. */
export interface RawPreviews {
  /** The largest picture first. */
  readonly jpegs: readonly JpegPart[]
  /** Tag 0x0112 of the raw file's first IFD; a preview often says none of its own. */
  readonly orientation: number
}

/** A file is searched for markers so far; previews stand before the sensor's data. */
const searchedBytes = 1 << 25
const mostIfds = 64
const mostEntries = 512

/**
 * The JPEGs inside a raw file, by its IFDs where it is a TIFF (TIFF 6.0: JPEGInterchangeFormat, SubIFDs, and strips
 * with compression 6 or 7), else, or where those hold none, by the markers of JPEG itself (ITU-T T.81, annex B).
 * Lossless JPEG, in which raw data may be packed, is no picture and is left out. Only ranges are read.
 */
export function rawPreviews(read: ReadRange): RawPreviews {
  const tiff = tiffParts(read)
  const named = (tiff?.parts ?? []).flatMap(({ from, bytes }) => {
    const size = frameSize(new Bytes(read), from)
    return size ? [{ from, bytes, ...size }] : []
  })
  const jpegs = named.length > 0 ? named : markedParts(read)
  return {
    jpegs: [...jpegs].sort((a, b) => b.widthPx * b.heightPx - a.widthPx * a.heightPx),
    orientation: tiff?.orientation ?? 1,
  }
}

interface Part {
  readonly from: number
  readonly bytes: number
}

interface Ifd {
  /** The values of a tag; for one that stands elsewhere, they are read from there. */
  readonly values: (tag: number) => readonly number[]
  readonly next: number
}

/** Tags of TIFF 6.0; of the Exif IFD, CIPA DC-008; 0x002E is one maker's for its preview, from memory. */
const tag = {
  compression: 0x0103,
  stripOffsets: 0x0111,
  orientation: 0x0112,
  stripByteCounts: 0x0117,
  subIfds: 0x014a,
  jpegFrom: 0x0201,
  jpegBytes: 0x0202,
  rawJpeg: 0x002e,
}

function tiffParts(read: ReadRange): { parts: Part[]; orientation: number } | undefined {
  const head = read(0, 8)
  const order = String.fromCharCode(...head.subarray(0, 2))
  if (head.length < 8 || (order !== 'II' && order !== 'MM')) return undefined
  const isLittle = order === 'II'
  const parts: Part[] = []
  const seen = new Set<number>()
  const waiting = [numberAt(head, 4, 4, isLittle)]
  let orientation: number | undefined
  for (let at = waiting.shift(); at !== undefined && seen.size < mostIfds; at = waiting.shift()) {
    if (at < 8 || seen.has(at)) continue
    seen.add(at)
    const ifd = readIfd(read, at, isLittle)
    if (!ifd) continue
    orientation ??= ifd.values(tag.orientation)[0] ?? 1
    parts.push(...partsOf(ifd))
    waiting.push(...ifd.values(tag.subIfds), ifd.next)
  }
  const isTurn = orientation !== undefined && orientation >= 1 && orientation <= 8
  return { parts, orientation: isTurn ? (orientation ?? 1) : 1 }
}

function partsOf({ values }: Ifd): Part[] {
  const parts: Part[] = []
  const add = ([from, ...more]: readonly number[], [bytes]: readonly number[]) => {
    if (from !== undefined && more.length === 0 && bytes !== undefined && bytes > 4)
      parts.push({ from, bytes })
  }
  add(values(tag.jpegFrom), values(tag.jpegBytes))
  const [compression] = values(tag.compression)
  if (compression === 6 || compression === 7) add(values(tag.stripOffsets), values(tag.stripByteCounts))
  const [from, bytes] = values(tag.rawJpeg)
  if (from !== undefined && bytes !== undefined) parts.push({ from, bytes })
  return parts
}

/** Bytes of a value by its type: BYTE, ASCII, SHORT, LONG, RATIONAL, …, UNDEFINED, …, IFD (13, from TIFF tech note 1). */
const typeBytes = [0, 1, 1, 2, 4, 8, 1, 1, 2, 4, 8, 4, 8, 4]

function readIfd(read: ReadRange, at: number, isLittle: boolean): Ifd | undefined {
  const count = numberAt(read(at, 2), 0, 2, isLittle)
  if (count === 0 || count > mostEntries) return undefined
  const table = read(at + 2, 12 * count + 4)
  if (table.length < 12 * count) return undefined
  const places = new Map<number, number>()
  for (let entry = 0; entry < count; entry += 1)
    places.set(numberAt(table, 12 * entry, 2, isLittle), 12 * entry)
  return {
    next: numberAt(table, 12 * count, 4, isLittle),
    values(wanted) {
      const place = places.get(wanted)
      if (place === undefined) return []
      const type = numberAt(table, place + 2, 2, isLittle)
      const values = numberAt(table, place + 4, 4, isLittle)
      const size = typeBytes[type] ?? 0
      // What is undefined is told by where it stands and how long it is.
      if (type === 7) return [numberAt(table, place + 8, 4, isLittle), values]
      if ((size !== 2 && size !== 4) || values === 0 || values > mostEntries) return []
      const bytes =
        size * values <= 4
          ? table.subarray(place + 8, place + 12)
          : read(numberAt(table, place + 8, 4, isLittle), size * values)
      if (bytes.length < size * values) return []
      return Array.from({ length: values }, (_, index) => numberAt(bytes, index * size, size, isLittle))
    },
  }
}

function numberAt(bytes: Uint8Array, at: number, size: number, isLittle: boolean): number {
  let number = 0
  for (let k = 0; k < size; k += 1) number = number * 256 + (bytes[at + (isLittle ? size - 1 - k : k)] ?? 0)
  return number
}

/** Bytes of a file by their place, read a window at a time; undefined past its end. */
class Bytes {
  readonly #read: ReadRange
  #from = 0
  #window: Uint8Array = new Uint8Array(0)

  constructor(read: ReadRange) {
    this.#read = read
  }

  at(place: number): number | undefined {
    const within = place - this.#from
    if (within >= 0 && within < this.#window.length) return this.#window[within]
    this.#from = place
    this.#window = this.#read(place, 1 << 16)
    return this.#window[0]
  }

  /** Two bytes, the first the larger, as JPEG writes them. */
  pair(place: number): number {
    return (this.at(place) ?? 0) * 256 + (this.at(place + 1) ?? 0)
  }
}

/** JPEGs from their start marker to their end marker, anywhere in the beginning of a file. */
function markedParts(read: ReadRange): JpegPart[] {
  const bytes = new Bytes(read)
  const parts: JpegPart[] = []
  for (let at = 0; at < searchedBytes && bytes.at(at) !== undefined; at += 1) {
    if (bytes.at(at) !== 0xff || bytes.at(at + 1) !== 0xd8 || bytes.at(at + 2) !== 0xff) continue
    const size = frameSize(bytes, at)
    const end = size ? endOf(bytes, at + 2) : undefined
    if (!size || end === undefined) continue
    parts.push({ from: at, bytes: end - at, ...size })
    at = end - 1
  }
  return parts
}

/** Frames that a picture is decoded from: baseline, extended and progressive with Huffman codes (T.81, table B.1). */
const pictureFrames = new Set([0xc0, 0xc1, 0xc2])
const otherFrames = new Set([0xc3, 0xc5, 0xc6, 0xc7, 0xc9, 0xca, 0xcb, 0xcd, 0xce, 0xcf])

/** Width and height that a JPEG's frame header says; undefined where there is no JPEG, or none that shows a picture. */
function frameSize(bytes: Bytes, from: number): { widthPx: number; heightPx: number } | undefined {
  if (bytes.pair(from) !== 0xffd8) return undefined
  for (let at = from + 2, segments = 0; segments < 1000; segments += 1) {
    if (bytes.at(at) !== 0xff) return undefined
    const marker = bytes.at(at + 1) ?? 0
    if (pictureFrames.has(marker)) {
      const [heightPx, widthPx] = [bytes.pair(at + 5), bytes.pair(at + 7)]
      return bytes.at(at + 4) === 8 && heightPx > 0 && widthPx > 0 ? { widthPx, heightPx } : undefined
    }
    if (otherFrames.has(marker) || marker === 0xda || marker === 0xd9) return undefined
    at = marker === 0xff ? at + 1 : segmentEnd(bytes, at)
  }
  return undefined
}

function segmentEnd(bytes: Bytes, at: number): number {
  return at + 2 + Math.max(2, bytes.pair(at + 2))
}

/** The place after the end marker of the JPEG whose segments begin here; its scans are passed over byte by byte. */
function endOf(bytes: Bytes, from: number): number | undefined {
  for (let at = from; ; ) {
    const byte = bytes.at(at)
    if (byte === undefined) return undefined
    const marker = bytes.at(at + 1) ?? 0
    // Within a scan FF is followed by 00 or a restart marker.
    if (byte !== 0xff || marker === 0 || (marker >= 0xd0 && marker <= 0xd7)) at += 1
    else if (marker === 0xd9) return at + 2
    else at = marker === 0xff ? at + 1 : segmentEnd(bytes, at)
  }
}
