import { type Finding, renumberedKey } from './finding.ts'
import type { Turn } from './turnFrames.ts'

/**
 * The analyses count the marks of a turn from 1; a take counts its exposures, void ones too. Gives the number in the
 * take of the frame that stands at a mark; of a mark without a frame, that of the last frame before it.
 */
export function takeNumbers(turn: Turn): (position: number) => number {
  const numbers: number[] = []
  for (const frame of turn) numbers.push(frame?.frame ?? numbers.at(-1) ?? 1)
  const last = numbers.at(-1) ?? 0
  return (position) => numbers[position - 1] ?? last + position - numbers.length
}

/** The numbers of a take, up to its last frame, that are no frame of the turn: void ones, or without a file. */
export function leftOutNumbers(turn: Turn): readonly number[] {
  const there = new Set(turn.flatMap((frame) => frame?.frame ?? []))
  return Array.from({ length: Math.max(0, ...there) }, (_, at) => at + 1).filter((one) => !there.has(one))
}

/** True where every frame's number is that of its mark: there is nothing to put right. */
export function isPlainTurn(turn: Turn): boolean {
  return turn.every((frame, at) => frame === null || frame.frame === at + 1)
}

/** A finding with the take's numbers for those of the marks, in its key and its words too. */
export function renumbered(finding: Finding, number: (position: number) => number): Finding {
  return {
    ...finding,
    key: renumberedKey(finding.key, number),
    frames: finding.frames.map(number),
    sentence: renumberedWords(finding.sentence, number),
  }
}

/** 'frame 12', 'Frames 3, 7 and 12 to 14': the word and the numbers that follow it. */
const framesInWords = /\b([Ff]rames?)([\s\u00a0]+)(\d+(?:(?:, | and | to |–|\u00a0to\u00a0)\d+)*)/gu

/**
 * A sentence with the numbers that follow the word 'frame' put right; every other figure stays. Not for sentences that
 * name files, which may be called 'Frame 7'.
 */
export function renumberedWords(sentence: string, number: (position: number) => number): string {
  return sentence.replace(
    framesInWords,
    (_, word: string, space: string, numbers: string) =>
      `${word}${space}${numbers.replace(/\d+/gu, (one) => String(number(Number(one))))}`,
  )
}
