import { countText, durationText, numberText } from '../parts/format.ts'

const dayMinutes = 1440

/** How late something is: lateness runs through nights and weekends, so that from a day on it is told in days: `2.5 days`. */
export function lateText(minutes: number): string {
  if (minutes < dayMinutes) return durationText(minutes)
  const days = minutes / dayMinutes
  return days >= 10
    ? countText(Math.round(days), 'day')
    : `${numberText(days, 1)}\u00a0${days === 1 ? 'day' : 'days'}`
}
