import { instantAt } from './calendar.ts'

/** What a camera wrote of the moment of exposure: the texts of its Exif tags as they stand in the file. */
export interface ExifTime {
  /** DateTimeOriginal, tag 0x9003: `2026:03:02 09:00:01`, the camera's own clock. */
  readonly dateTime: string
  /** SubSecTimeOriginal, tag 0x9291: the digits after the second. */
  readonly subSeconds: string | null
  /** OffsetTimeOriginal, tag 0x9011: how far that clock stood from UTC, `+01:00`. */
  readonly offset: string | null
}

/**
 * The instant of an exposure in milliseconds (UTC), from what Exif says of it (CIPA DC-008, Exif 2.31 and newer; the
 * tags' numbers as exifreader 4.46 and libexif 0.6.26 name them, their meaning from memory). Without an offset the
 * camera's clock is taken to be local to the studio.
 * @returns undefined where the text is no time: cameras write zeros or blanks while their clock is not set
 */
export function captureMs(exif: ExifTime, zone: string): number | undefined {
  const [, year, month, date, hour, minute, second] =
    /^(\d{4}):(\d\d):(\d\d) (\d\d):(\d\d):(\d\d)/u.exec(exif.dateTime) ?? []
  if (year === undefined) return undefined
  const day = `${year}-${month}-${date}`
  const localMs = Date.parse(`${day}T${hour}:${minute}:${second}Z`)
  if (Number.isNaN(localMs) || new Date(localMs).toISOString().slice(0, 10) !== day) return undefined
  const withinMinuteMs = Number(second) * 1000 + thousandths(exif.subSeconds)
  const offsetMs = offsetOf(exif.offset)
  if (offsetMs !== undefined) return localMs + thousandths(exif.subSeconds) - offsetMs
  return instantAt(day, Number(hour) * 60 + Number(minute), zone).getTime() + withinMinuteMs
}

/** True where the text says how far the camera's clock stood from UTC. */
export function saysOffset({ offset }: ExifTime): boolean {
  return offsetOf(offset) !== undefined
}

function thousandths(subSeconds: string | null): number {
  const digits = /^\d+/u.exec(subSeconds?.trim() ?? '')?.[0] ?? ''
  return Math.floor(Number(`0.${digits.padEnd(1, '0')}`) * 1000 + 1e-9)
}

function offsetOf(text: string | null): number | undefined {
  const [, sign, hours, minutes] = /^([+-])(\d\d):(\d\d)/u.exec(text?.trim() ?? '') ?? []
  if (sign === undefined) return undefined
  return (sign === '-' ? -1 : 1) * (Number(hours) * 60 + Number(minutes)) * 60_000
}
