import { readDecimal } from '../../main/trade/decimal.ts'
import { mmFromUm10 } from '../../main/trade/length.ts'
import { Refusal } from '../../main/trade/refusal.ts'
import { frameOfTimecode } from '../../main/trade/turn/timecode.ts'
import { readLength } from '../parts/readLength.ts'
import type { Key, Typed } from './typed.ts'

/** Sentences by the field they belong to. */
export type Refusals = Readonly<Partial<Record<Key, string>>>

/** What a part of the plan comes to, or why not and at which fields. */
export type Outcome<T> =
  | { readonly value: T; readonly refusals?: undefined }
  | { readonly value?: undefined; readonly refusals: Refusals }

/** Bounds of a typed number, in its own unit; both ends included. */
interface Bounds {
  readonly least?: number
  readonly most?: number
  readonly unit?: string
}

/** Reads typed fields; a field that cannot be read is noted with its sentence and read on as NaN. */
export class Reader {
  readonly refusals: Partial<Record<Key, string>> = {}
  private readonly typed: Typed
  constructor(typed: Typed) {
    this.typed = typed
  }

  /** A length in tenths of a micrometre; `12 cm` and `5 in` may be typed. */
  um10(key: Key, what: string): number {
    return this.read(key, () => {
      if (this.typed[key].trim() === '') throw missing(what, 'in mm, such as 12.5')
      return readLength(this.typed[key], 4, what)
    })
  }

  /** A length in mm. */
  mm(key: Key, what: string): number {
    return mmFromUm10(this.um10(key, what))
  }

  /** A number with at most so many places. */
  number(key: Key, what: string, places: number, bounds: Bounds = {}): number {
    return this.read(key, () => {
      const text = this.typed[key].trim().replace(/^f\//iu, '')
      if (text === '') throw missing(what, bounds.unit ? `in ${bounds.unit}` : 'as a number')
      return numberIn(text, what, places, bounds)
    })
  }

  /** Notes what is wrong with a field, unless something is noted there already. */
  refuse(key: Key, refusal: Refusal): void {
    this.refusals[key] ??= refusal.message
  }

  whole(key: Key, what: string, bounds: Bounds = {}): number {
    return this.number(key, what, 0, bounds)
  }

  /** The frame that a timecode names at a rate, or null where what is typed is no timecode. */
  timecodeFrame(key: Key, rate: string): number | null {
    const text = this.typed[key].trim()
    return /[:;]/u.test(text) ? this.read(key, () => frameOfTimecode(text, rate)) : null
  }

  /** A whole number, or null where the field is empty. */
  maybeWhole(key: Key, what: string, bounds: Bounds = {}): number | null {
    return this.typed[key].trim() === '' ? null : this.whole(key, what, bounds)
  }

  /** A shutter time as it is dialled, `1/125` or `2`, as its fraction in seconds. */
  shutter(key: Key, what: string): { readonly num: number; readonly den: number } {
    const text = this.typed[key].trim().replace(/\s*s$/u, '')
    const [, over] = /^1\s*\/\s*(\d+)$/u.exec(text) ?? []
    if (over !== undefined && Number(over) > 0) return { num: 1, den: Number(over) }
    const num = this.read(key, () => {
      if (/\//u.test(text) || text === '') {
        throw new Refusal('bad-shutter', `${what}, '${text}', is no shutter time. Enter it as 1/125 or 2.`)
      }
      const seconds = readDecimal(text, 4, what) / 1e4
      if (seconds <= 0) throw outOfBounds(what, text, { least: 0.0001, unit: 's' })
      return seconds
    })
    return { num, den: 1 }
  }

  private read(key: Key, how: () => number): number {
    try {
      return how()
    } catch (error) {
      if (!(error instanceof Refusal)) throw error
      this.refuse(key, error)
      return Number.NaN
    }
  }
}

/**
 * Reads the typed fields of a part and works it out. Refusals of single fields come together; where all can be
 * read, one of the working itself is put at the field it blames.
 * @param blames  which typed field the names of the trade's own refusals stand for; the first is blamed for the rest
 */
export function workedOut<V, T>(
  typed: Typed,
  blames: Readonly<Record<string, Key>>,
  read: (reader: Reader) => V,
  work: (values: V) => T,
): Outcome<T> {
  const reader = new Reader(typed)
  const values = read(reader)
  if (Object.keys(reader.refusals).length > 0) return { refusals: reader.refusals }
  try {
    return { value: work(values) }
  } catch (error) {
    if (!(error instanceof Refusal)) throw error
    const key = (error.field && blames[error.field]) || Object.values(blames)[0]
    if (key === undefined) throw error
    return { refusals: { [key]: error.message } }
  }
}

function numberIn(text: string, what: string, places: number, bounds: Bounds): number {
  const value = readDecimal(text, places, what) / 10 ** places
  const { least = Number.NEGATIVE_INFINITY, most = Number.POSITIVE_INFINITY } = bounds
  if (value < least || value > most) throw outOfBounds(what, text, bounds)
  return value
}

function missing(what: string, how: string): Refusal {
  return new Refusal('missing', `${what} is missing. Enter it ${how}.`)
}

function outOfBounds(what: string, text: string, { least, most, unit }: Bounds): Refusal {
  const unitText = unit ? ` ${unit}` : ''
  const range =
    least !== undefined && most !== undefined
      ? `from ${least} to ${most}${unitText}`
      : least !== undefined
        ? `${least}${unitText} or more`
        : `${most}${unitText} or less`
  return new Refusal('out-of-bounds', `${what} is ${text}${unitText}. Enter ${range}.`)
}
