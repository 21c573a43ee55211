import { formatDecimal } from './decimal.ts'

/** How many of what, as it is written on every screen, figure and word held together: `5,000 frames`, `1 frame`. */
export function countWords(count: number, one: string): string {
  return `${formatDecimal(count, 0)}\u00a0${one}${count === 1 ? '' : 's'}`
}
