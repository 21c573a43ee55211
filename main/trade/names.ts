import { Refusal } from './refusal.ts'

/** What the placeholders of a name pattern stand for; numbers count from 1. */
export interface NameValues {
  readonly code: string
  readonly name: string
  readonly variant: string
  readonly deliverable: string
  readonly job: string
  readonly row: number
  readonly frame: number
}

const textFields = ['code', 'name', 'variant', 'deliverable', 'job'] as const
const numberFields = ['row', 'frame'] as const
type TextField = (typeof textFields)[number]
type NumberField = (typeof numberFields)[number]

type Piece =
  | { readonly kind: 'fixed'; readonly text: string }
  | { readonly kind: 'text'; readonly field: TextField }
  | { readonly kind: 'number'; readonly field: NumberField; readonly width: number }

/** A name pattern that has been read and found good. */
export type NamePattern = readonly Piece[]

const longestName = 120

/**
 * Reads a pattern such as '{code}_{row}_{frame:3}'. Placeholders are {code}, {name}, {variant},
 * {deliverable}, {job}, and {row} and {frame} with a width to fill with zeros. Outside them stand letters
 * without accents, digits, point, hyphen and underscore, which every system and shop takes.
 */
export function namePattern(pattern: string): NamePattern {
  if (pattern.trim() === '') throw refused(`The name pattern is empty. Enter one such as {code}_{frame:3}.`)
  return pattern.split(/(\{[^{}]*\})/u).flatMap((part): Piece[] => {
    if (part === '') return []
    if (/^\{.*\}$/u.test(part)) return [placeholder(part)]
    const bad = /[^A-Za-z0-9._-]/u.exec(part)
    if (bad) {
      throw refused(
        `The name pattern has '${bad[0]}', which some systems do not take in a file name. Use letters, digits, point, hyphen and underscore.`,
      )
    }
    return [{ kind: 'fixed', text: part }]
  })
}

/**
 * The names of frames in their order, without their file type: row by row, each row with its own number of
 * frames. Characters of codes and names that a file name cannot carry become hyphens.
 * Refuses patterns that give two equal names or names that stop sorting in the order of the frames, and names
 * that a system reserves.
 */
export function frameNames(
  pattern: NamePattern,
  values: Omit<NameValues, 'row' | 'frame'>,
  framesPerRow: readonly number[],
): string[] {
  const names = framesPerRow.flatMap((frames, rowIndex) =>
    Array.from({ length: frames }, (_, index) =>
      fileName(pattern, { ...values, row: rowIndex + 1, frame: index + 1 }),
    ),
  )
  refuseEqualNames(names)
  return names
}

/** One name by the pattern, without its file type; refuses reserved, empty and overlong names. */
export function fileName(pattern: NamePattern, values: NameValues): string {
  const name = pattern.map((piece) => pieceText(piece, values)).join('')
  refuseUnsafe(name)
  return name
}

/** Refuses a list in which two names are equal on a disk that does not tell capitals from small letters. */
export function refuseEqualNames(names: readonly string[]): void {
  const seen = new Set<string>()
  for (const name of names) {
    const key = name.toLowerCase()
    if (seen.has(key)) {
      throw refused(
        `Two files would be named ${name}. Put what tells them apart into the pattern: {code}, {deliverable}, {row} or {frame:3}.`,
      )
    }
    seen.add(key)
  }
}

function placeholder(part: string): Piece {
  const [, field = '', width] = /^\{([a-z]+)(?::(\d))?\}$/u.exec(part) ?? []
  const text = textFields.find((each) => each === field)
  if (text && width === undefined) return { kind: 'text', field: text }
  const number = numberFields.find((each) => each === field)
  if (number) return { kind: 'number', field: number, width: Number(width ?? 1) }
  throw refused(
    `The name pattern has ${part}, which stands for nothing. Use ${[...textFields, ...numberFields].map((each) => `{${each}}`).join(', ')}, or {frame:3} for three digits.`,
  )
}

function pieceText(piece: Piece, values: NameValues): string {
  if (piece.kind === 'fixed') return piece.text
  if (piece.kind === 'text') return safeText(values[piece.field])
  const digits = String(values[piece.field])
  if (piece.width > 1 && digits.length > piece.width) {
    throw refused(
      `{${piece.field}:${piece.width}} has no room for ${digits}, so the names would not sort. Use {${piece.field}:${digits.length}}.`,
    )
  }
  return digits.padStart(piece.width, '0')
}

const spelled: Readonly<Record<string, string>> = {
  ä: 'ae',
  ö: 'oe',
  ü: 'ue',
  Ä: 'Ae',
  Ö: 'Oe',
  Ü: 'Ue',
  ß: 'ss',
  ø: 'o',
  Ł: 'L',
  ł: 'l',
  Ø: 'O',
  æ: 'ae',
  Æ: 'Ae',
}

/** Text as a part of a file name: accents spelled out or dropped, every other character a hyphen, none doubled. */
export function safeText(text: string): string {
  return text
    .normalize('NFC')
    .replace(/[äöüÄÖÜßøØæÆŁł]/gu, (letter) => spelled[letter] ?? '-')
    .normalize('NFD')
    .replace(/\p{M}/gu, '')
    .replace(/[^A-Za-z0-9._-]+/gu, '-')
    .replace(/^-+|-+$/gu, '')
}

function refuseUnsafe(name: string): void {
  // Names reserved by Windows, with or without a file type (Microsoft, Naming Files, Paths and Namespaces).
  if (/^(?:con|prn|aux|nul|com\d|lpt\d)(?:\..*)?$/iu.test(name)) {
    throw refused(
      `A file cannot be named ${name}: Windows keeps that name for itself. Add {code} to the pattern.`,
    )
  }
  if (name === '' || name.startsWith('.') || name.endsWith('.')) {
    throw refused(
      `The pattern gives '${name}' as a name. A name begins and ends with a letter, digit, hyphen or underscore.`,
    )
  }
  if (name.length > longestName) {
    throw refused(
      `The name ${name} has ${name.length} characters; at most ${longestName} are safe. Leave something out of the pattern.`,
    )
  }
}

function refused(sentence: string): Refusal {
  return new Refusal('bad-name-pattern', sentence, { field: 'namePattern' })
}
