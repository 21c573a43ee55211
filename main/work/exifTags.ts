import ExifReader, { type ExpandedTags } from 'exifreader'
import type { ExifTime } from '../trade/captureTime.ts'
import { type ExifSettings, noSettings } from '../trade/check/files/exifSettings.ts'

/** What a camera wrote beside its picture. */
export interface ExifTags {
  readonly time: ExifTime | null
  readonly settings: ExifSettings
  readonly orientation: number
  /** The small JPEG that a camera lays beside its picture (Exif's first IFD); null where there is none. */
  readonly thumbnail: Uint8Array | null
}

export const noTags: ExifTags = { time: null, settings: noSettings, orientation: 1, thumbnail: null }

/** A camera writes these tags near the beginning of a file. */
export const headBytes = 1 << 18

/**
 * The Exif tags (CIPA DC-008) in the beginning of a file, or in the whole of it.
 * @returns undefined where it holds none, or none that can be read
 */
export function exifTags(bytes: Uint8Array): ExifTags | undefined {
  try {
    const { exif, Thumbnail } = ExifReader.load(asTiff(bytes), { expanded: true })
    if (!exif) return undefined
    const orientation = exif.Orientation?.value
    return {
      time: timeOf(exif),
      settings: settingsOf(exif),
      orientation: typeof orientation === 'number' && orientation >= 1 && orientation <= 8 ? orientation : 1,
      thumbnail: Thumbnail?.image ? new Uint8Array(Thumbnail.image as ArrayBuffer) : null,
    }
  } catch {
    return undefined
  }
}

type Tags = NonNullable<ExpandedTags['exif']>

function timeOf(tags: Tags): ExifTime | null {
  const dateTime = textOf(tags.DateTimeOriginal)
  if (dateTime === null) return null
  return {
    dateTime,
    subSeconds: textOf(tags.SubSecTimeOriginal),
    offset: textOf(tags.OffsetTimeOriginal),
  }
}

function settingsOf(tags: Tags): ExifSettings {
  const whiteBalance = numberOf(tags.WhiteBalance, 0)
  return {
    shutterSeconds: numberOf(tags.ExposureTime),
    fNumber: numberOf(tags.FNumber),
    iso: numberOf(tags.ISOSpeedRatings),
    whiteBalance: whiteBalance === 0 ? 'auto' : whiteBalance === 1 ? 'manual' : null,
    lightSource: numberOf(tags.LightSource, 0),
    focalLengthMm: numberOf(tags.FocalLength),
  }
}

/** A number or a fraction, `least` or more; a camera writes 0, or 0/0, for what it does not know. */
function numberOf(tag: { readonly value: unknown } | undefined, least = Number.MIN_VALUE): number | null {
  const [over, under = 1] = Array.isArray(tag?.value) ? tag.value : [tag?.value]
  if (typeof over !== 'number' || typeof under !== 'number') return null
  const number = over / under
  return Number.isFinite(number) && number >= least ? number : null
}

function textOf(tag: { readonly value: unknown } | undefined): string | null {
  const value = Array.isArray(tag?.value) ? tag.value[0] : tag?.value
  return typeof value === 'string' && value.trim() !== '' ? value : null
}

/** Some raw files are TIFF but for the number after the byte order, by which their makers tell them: IIRO, IIRS, IIU. From memory. */
function asTiff(bytes: Uint8Array): Buffer {
  const order = String.fromCharCode(...bytes.subarray(0, 2))
  const isLittle = order === 'II'
  if ((!isLittle && order !== 'MM') || bytes.length < 8) {
    return Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength)
  }
  const copy = Buffer.from(bytes)
  copy.set(isLittle ? [0x2a, 0] : [0, 0x2a], 2)
  return copy
}
