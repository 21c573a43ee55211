import { type Day, instantAt } from './calendar.ts'
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

/** What the clocks do on a day: 'The clocks go forward by 60 minutes on this day.'; null on every other day. */
export function clockChange(day: Day, zone: string): string | null {
  const minutes = (instantAt(day, 1440, zone).getTime() - instantAt(day, 0, zone).getTime()) / 60_000
  if (minutes === 1440) return null
  const by = `${Math.abs(minutes - 1440)}\u00a0minutes`
  return minutes < 1440
    ? `The clocks go forward by ${by} on this day.`
    : `The clocks go back by ${by} on this day; of times that come twice the first is meant.`
}
