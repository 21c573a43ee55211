import type { Deliverable } from '../../db/briefs.ts'
import type { QuoteTexts } from '../trade/texts/shape.ts'
import { framesText, type TurnRow } from '../trade/turn/rows.ts'
import { rowLooks } from '../trade/turnLook.ts'
import type { QuoteWriter } from './quoteParts.ts'

/** '9.8 s at 25 frames per second'; from the shortest to the longest where ways or rows differ. */
export function plays(loop: Deliverable, rows: readonly TurnRow[], { words, number }: QuoteWriter): string {
  const perSecond = (loop.fpsNum ?? 1) / (loop.fpsDen ?? 1)
  const frames = rows.map(({ framesPerTurn }) => framesPerTurn)
  const seconds = [...new Set([Math.min(...frames), Math.max(...frames)])].map((count) =>
    number(count / perSecond, 1),
  )
  return words.plays(seconds.join(' – '), number(perSecond, 2))
}

/** How the rows are turned and look, in a sentence. */
export function rowsSentence(rows: readonly TurnRow[], { words, number }: QuoteWriter): string {
  const looks = looksText(rows, words)
  const [first] = rows
  if (first && areFramesAlike(rows)) return words.turn(first.framesPerTurn, looks, rows.length)
  return words.turnInRows(
    rows.map(({ framesPerTurn, viewAngleMdeg }) => [framesPerTurn, `${number(viewAngleMdeg / 1000, 3)}°`]),
    looks,
  )
}

/** Overlap is no matter of the client's: rows that differ in it alone are the same to him. */
export function areFramesAlike(rows: readonly TurnRow[]): boolean {
  return rows.every(({ framesPerTurn }) => framesPerTurn === rows[0]?.framesPerTurn)
}

/** How all rows look. */
export function looksText(rows: readonly TurnRow[], words: QuoteTexts): string {
  return rowLooks(rows)
    .map((look) => words.looks[look])
    .join(` ${words.and} `)
}

/** '244', '2 × 120' or '72 and 36'. */
export function turnsText(rows: readonly TurnRow[], words: QuoteTexts): string {
  const frames = framesText(rows, words.and)
  return rows.length > 1 && areFramesAlike(rows) ? `${rows.length} × ${frames}` : frames
}

/** How long one turn plays, of each row that has its own frames. */
export function secondsText(
  rows: readonly TurnRow[],
  loop: Deliverable,
  number: QuoteWriter['number'],
): string {
  const seconds = (frames: number) => number((frames * (loop.fpsDen ?? 1)) / (loop.fpsNum ?? 1), 1)
  return [...new Set(rows.map(({ framesPerTurn }) => `${seconds(framesPerTurn)} s`))].join(', ')
}
