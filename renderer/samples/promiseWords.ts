import type { Answers } from '../../main/api/types.ts'
import { promiseMovedText } from '../../main/trade/promise.ts'
import { dayText } from '../parts/format.ts'

/** What an act made of promises, to be said after it: ' J-2026-0007: due moved from 10 Mar to 14 Mar.' */
export function promiseWords(promises: Answers['samples']['move']['promises'], today: string): string {
  return promises
    .map((moved) => promiseMovedText(moved, (day) => dayText(day, today)))
    .filter((sentence) => sentence !== '')
    .map((sentence) => ` ${sentence}`)
    .join('')
}
