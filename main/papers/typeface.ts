import fs from 'node:fs'
import { createRequire } from 'node:module'
import path from 'node:path'
import PDFDocument from 'pdfkit'

/** The weights papers are set in. */
export type Weight = 'regular' | 'medium' | 'semibold'

const files: Record<Weight, string> = {
  regular: '400Regular/HankenGrotesk_400Regular.ttf',
  medium: '500Medium/HankenGrotesk_500Medium.ttf',
  semibold: '600SemiBold/HankenGrotesk_600SemiBold.ttf',
}

/** A font as pdfkit holds it once it is read. */
interface ReadFont {
  readonly characterSet: readonly number[]
  hasGlyphForCodePoint(point: number): boolean
  glyphForCodePoint(point: number): unknown
}

const fonts = new Map<Weight, ReadFont>()

/**
 * A weight of Hanken Grotesk, to be handed to pdfkit as a font. It is the whole static TrueType file: variable
 * and latin-subset files lose letters without a word. Read once and shared by all papers: reading its kerning
 * anew takes longer than drawing a page.
 */
export function typeface(weight: Weight): Buffer {
  let font = fonts.get(weight)
  if (!font) {
    font = readFontOf(new PDFDocument({ autoFirstPage: false, font: fontFile(weight) as unknown as string }))
    // A glyph remembers the letter it was first asked for by. Where that is as a part of another, as the a of ä, it
    // would be of none, and every paper after that would print an a that no search finds.
    for (const point of font.characterSet) font.glyphForCodePoint(point)
    fonts.set(weight, font)
  }
  // pdfkit takes a font that is read already beside the bytes of one; its types know only the bytes.
  return font as unknown as Buffer
}

/** Found through its package, so that it works from the sources, from dist and when packaged. */
function fontFile(weight: Weight): Buffer {
  const folder = path.dirname(
    createRequire(import.meta.url).resolve('@expo-google-fonts/hanken-grotesk/package.json'),
  )
  return fs.readFileSync(path.join(folder, files[weight]))
}

/** pdfkit's own font object, which nothing else gives. */
function readFontOf(document: InstanceType<typeof PDFDocument>): ReadFont {
  return (document as unknown as { _font: { font: ReadFont } })._font.font
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
  const font = readFontOf(document)
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
