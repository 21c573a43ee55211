import { baseName } from '../../frameFiles.ts'
import type { FrameTrouble } from './frameFacts.ts'

/** Says of a frame's file why its picture cannot be had, and what to do. */
export function frameTrouble(kind: FrameTrouble['kind'], file: string): FrameTrouble {
  return { kind, sentence: sentences[kind](shownName(file)) }
}

const sentences: Readonly<Record<FrameTrouble['kind'], (name: string) => string>> = {
  gone: (name) => `${name} is not there any more. Put it back, or shoot its mark again.`,
  'not allowed': (name) => `${name} may not be read by this program. Change its rights, then check again.`,
  'not readable now': (name) =>
    `${name} cannot be read now. Check the card, the drive or the cable, then check again.`,
  empty: (name) => `${name} is empty. Copy it from the card again, or shoot its mark again.`,
  'cut short': (name) =>
    `${name} is cut short: its end is missing. Copy it from the card again, or shoot its mark again.`,
  damaged: (name) =>
    `${name} is damaged: no picture can be made of it. Copy it from the card again, or shoot its mark again.`,
  format: (name) =>
    `${name} is of a kind that cannot be read here, such as HEIC. Let the camera write JPEGs, or a JPEG beside each; the frame counts all the same.`,
  'too large': (name) =>
    `${name} has more than 268 million pixels or takes more than 1 GB. Save it smaller, as a JPEG; the frame counts all the same.`,
  'no preview': (name) =>
    `${name} is a raw file without a picture in it that can be read here. Let the camera write a JPEG beside each; the frame counts all the same.`,
}

const longestShown = 80
/** Line ends and other controls, and the marks that turn the direction of writing, which would garble the sentence. */
const unseen = /[\p{Cc}\p{Zl}\p{Zp}\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069]/gu

/** A file's name as it can stand in a sentence: in one line, in its own order of letters, not longer than one reads. */
export function shownName(file: string): string {
  const name = [...baseName(file).replace(unseen, '\ufffd')]
  if (name.length <= longestShown) return name.join('')
  return `${name.slice(0, longestShown / 2).join('')}…${name.slice(-longestShown / 2 + 1).join('')}`
}
