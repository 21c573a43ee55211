import fs from 'node:fs'
import { createRequire } from 'node:module'
import path from 'node:path'
import type PDFDocument from 'pdfkit'

/** The weights papers are set in. */
export type Weight = 'regular' | 'medium' | 'semibold'

const files: Record<Weight, string> = {
  regular: '400Regular/HankenGrotesk_400Regular.ttf',
  medium: '500Medium/HankenGrotesk_500Medium.ttf',
  semibold: '600SemiBold/HankenGrotesk_600SemiBold.ttf',
}

const loaded = new Map<Weight, Buffer>()

/**
 * A weight of Hanken Grotesk as the whole static TrueType file: variable and latin-subset files lose letters
 * without a word. Found through its package, so that it works from the sources, from dist and when packaged.
 */
export function fontFile(weight: Weight): Buffer {
  const known = loaded.get(weight)
  if (known) return known
  const folder = path.dirname(
    createRequire(import.meta.url).resolve('@expo-google-fonts/hanken-grotesk/package.json'),
  )
  const file = fs.readFileSync(path.join(folder, files[weight]))
  loaded.set(weight, file)
  return file
}

/** What stands on paper for a letter that the typeface lacks. */
export const missingLetter = '?'

/** Letters that look the same under another number which the typeface has. */
const twins: ReadonlyMap<string, string> = new Map([
  ['\u202f', '\u00a0'],
  ['\u2009', '\u00a0'],
  ['\u2007', '\u00a0'],
  ['\u2011', '-'],
  ['\u200b', ''],
  ['\ufeff', ''],
  ['\t', ' '],
  ['\r', ''],
])

/** A document's text made fit for its typeface, and the letters that could not be. */
export interface Letters {
  /** The text with twins in place and `missingLetter` for every letter that the typeface lacks. */
  fit(text: string): string
  /** The letters replaced so far, each once, in order of appearance. */
  replaced(): readonly string[]
}

/** Reads which letters the document's current font has. */
export function lettersOf(document: InstanceType<typeof PDFDocument>): Letters {
  // pdfkit draws an empty box for a letter it lacks and says nothing; its font object is the one place to ask.
  const { font } = (
    document as unknown as { _font: { font: { hasGlyphForCodePoint(point: number): boolean } } }
  )._font
  const lacking = new Set<string>()
  return {
    fit: (text) =>
      Array.from(text.normalize('NFC'), (letter) => {
        const twin = twins.get(letter)
        if (twin !== undefined) return twin
        if (letter === '\n' || font.hasGlyphForCodePoint(letter.codePointAt(0) ?? 0)) return letter
        lacking.add(letter)
        return missingLetter
      }).join(''),
    replaced: () => [...lacking],
  }
}
