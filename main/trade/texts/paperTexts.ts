import { de } from './de.ts'
import { en } from './en.ts'
import type { PaperTexts } from './shape.ts'

const texts = { en, de } as const satisfies Record<string, PaperTexts>

/** Languages a client's papers are written in. To add one, write its file beside these, name it above and let the store take it. */
export type PaperLanguage = keyof typeof texts

/** What leaves on paper, by the client's language. */
export const paperTexts: Readonly<Record<PaperLanguage, PaperTexts>> = texts
