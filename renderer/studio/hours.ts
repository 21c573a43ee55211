import { Refusal } from '../../main/trade/refusal.ts'
import { clockText } from '../parts/format.ts'

/** A stretch in which a bench is open, in minutes since midnight. */
export interface Stretch {
  readonly fromMinute: number
  readonly toMinute: number
}

const stretchPattern = /^(\d{1,2})(?:[:.](\d{2}))?\s*(?:-|–|to)\s*(\d{1,2})(?:[:.](\d{2}))?$/u

/**
 * Reads the opening hours of one weekday as a person writes them: '9-12:30, 13:15–17:30'; empty is closed.
 * Refuses what is no time of day, a stretch that ends before it begins and two that overlap, naming them.
 * @param weekday  how the sentence names the day: 'Monday'
 */
export function readHours(text: string, weekday: string): readonly Stretch[] {
  const parts = text
    .split(/[,;]/u)
    .map((part) => part.trim())
    .filter(Boolean)
  const stretches = parts.map((part) => readStretch(part, weekday))
  const inOrder = stretches.toSorted((a, b) => a.fromMinute - b.fromMinute)
  const twice = inOrder.find((one, index) => one.fromMinute < (inOrder[index - 1]?.toMinute ?? 0))
  if (twice) {
    throw new Refusal(
      'bad-hours',
      `${weekday}: ‘${hoursText([twice])}’ begins before the stretch in front of it ends. Change one of them.`,
    )
  }
  return stretches
}

function readStretch(part: string, weekday: string): Stretch {
  const [, fromHour, fromRest = '0', toHour, toRest = '0'] = stretchPattern.exec(part) ?? []
  if (fromHour === undefined || toHour === undefined) {
    throw new Refusal(
      'bad-hours',
      `${weekday}: ‘${part}’ is no stretch of time. Write it as 9:00–12:30, and several with a comma between.`,
    )
  }
  const stretch = {
    fromMinute: minuteOf(Number(fromHour), Number(fromRest), part, weekday),
    toMinute: minuteOf(Number(toHour), Number(toRest), part, weekday),
  }
  if (stretch.toMinute <= stretch.fromMinute) {
    throw new Refusal('bad-hours', `${weekday}: ‘${part}’ ends before it begins. Change one of its times.`)
  }
  return stretch
}

function minuteOf(hour: number, minute: number, part: string, weekday: string): number {
  const ofDay = hour * 60 + minute
  if (minute > 59 || ofDay > 24 * 60) {
    throw new Refusal(
      'bad-hours',
      `${weekday}: ‘${part}’ holds a time that no clock shows. A day ends at 24:00.`,
    )
  }
  return ofDay
}

/** The hours as `readHours` reads them: '09:00–12:30, 13:15–17:30'. */
export function hoursText(stretches: readonly Stretch[]): string {
  return [...stretches]
    .sort((a, b) => a.fromMinute - b.fromMinute)
    .map(({ fromMinute, toMinute }) => `${clockText(fromMinute)}–${clockText(toMinute)}`)
    .join(', ')
}
