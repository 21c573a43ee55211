import { formatLength } from '../length.ts'
import { Refusal } from '../refusal.ts'

/** 100 m, and more frames than any turn: products of the two stay exact whole numbers. */
const longestUm10 = 1_000_000_000
const mostFrames = 100_000

/** Refuses a rim, step or division that is not a positive length in tenths of a micrometre, up to 100 m. */
export function checkLength(um10: number, what: string, field: string): void {
  if (!Number.isSafeInteger(um10) || um10 <= 0 || um10 > longestUm10) {
    const shown = Number.isSafeInteger(um10) ? formatLength(um10) : String(um10)
    throw new Refusal('bad-length', `${what} is ${shown}. Enter a length over 0 and up to 100 m.`, { field })
  }
}

/** Refuses a count of frames that is not a whole number from `least` to 100,000. */
export function checkFrames(frames: number, what: string, field: string, least = 1): void {
  if (!Number.isSafeInteger(frames) || frames < least || frames > mostFrames) {
    throw new Refusal('bad-frames', `${what} is ${frames}. Enter a whole number from ${least} to 100,000.`, {
      field,
    })
  }
}
