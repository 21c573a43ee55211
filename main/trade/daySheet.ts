import { formatLength } from './length.ts'
import { Refusal } from './refusal.ts'
import { markGaps, turnMarks } from './turn/marks.ts'

/**
 * The marks of a turn as a person at the platter needs them: 'every 5 mm' where the steps are equal, else the
 * two steps that take turns, 'steps of 5 and 6 mm'; the marks themselves stand on the turning screen. Where no
 * marks can be made it says why.
 */
export function marksText(rimUm10: number, framesPerTurn: number, divisionUm10: number): string {
  try {
    const gaps = [...new Set(markGaps(rimUm10, turnMarks(rimUm10, framesPerTurn, divisionUm10)))].sort(
      (a, b) => a - b,
    )
    const [first = 0, ...more] = gaps
    if (more.length === 0) return `every ${formatLength(first)}`
    return `steps of ${gaps.map((gap) => formatLength(gap).replace(/ mm$/u, '')).join(' and ')} mm`
  } catch (error) {
    if (error instanceof Refusal) return error.message
    throw error
  }
}
