import { addWorkingDays, type Day, daysBetween, type WorkingWeek } from './calendar.ts'

/** A sample that a promise waits for or has waited for. */
export interface PromisedSample {
  readonly code: string
  /** The studio's day on which it came; null while it is not in. */
  readonly arrivedDay: Day | null
  /** The day it is expected, as agreed; null where none is. */
  readonly expectedDay: Day | null
}

/** The day a promise falls on. */
export interface PromisedDay {
  readonly day: Day
  /** True while a sample is still expected: the day then moves with it, and nothing is due yet. */
  readonly isExpected: boolean
}

/**
 * n working days after the latest day on which a needed sample came or is expected. Null where nothing is needed, and
 * while a sample that is not in has no expected day.
 */
export function promisedDay(
  samples: readonly PromisedSample[],
  workingDays: number,
  week: WorkingWeek,
): PromisedDay | null {
  const days = samples.map(({ arrivedDay, expectedDay }) => arrivedDay ?? expectedDay)
  const last = days.reduce<Day | null>(
    (latest, day) => (day !== null && day > (latest ?? '') ? day : latest),
    null,
  )
  if (last === null || days.includes(null)) return null
  return {
    day: addWorkingDays(last, workingDays, week),
    isExpected: samples.some(({ arrivedDay }) => arrivedDay === null),
  }
}

/** Samples whose expected day is past and that are not in, with how many days ago it was; the latest first. */
export function lateSamples<S extends PromisedSample>(
  samples: readonly S[],
  today: Day,
): readonly (S & { readonly daysLate: number })[] {
  return samples
    .flatMap((sample) => {
      const { arrivedDay, expectedDay } = sample
      return arrivedDay === null && expectedDay !== null && expectedDay < today
        ? [{ ...sample, daysLate: daysBetween(expectedDay, today) }]
        : []
    })
    .sort((a, b) => b.daysLate - a.daysLate)
}

/**
 * True where work on a day lies before its goods: a sample that is not in has no day, is late, or is expected on
 * that day or after it. Goods come in the course of a day: only the next one is sure.
 */
export function isBeforeGoods(
  day: Day,
  missing: readonly { readonly expectedDay: Day | null }[],
  today: Day,
): boolean {
  return missing.some(({ expectedDay }) => expectedDay === null || expectedDay < today || expectedDay >= day)
}

/** What a promise was and is. */
export interface PromiseMoved {
  readonly number: string
  readonly before: PromisedDay | null
  readonly after: PromisedDay | null
}

/**
 * Says that a promise moved: 'J-2026-0007: due moved from 10 March to 14 March.' Empty where it stayed.
 * @param dayText  writes a day as it is said
 */
export function promiseMovedText(
  { number, before, after }: PromiseMoved,
  dayText: (day: Day) => string,
): string {
  if (before?.day === after?.day && before?.isExpected === after?.isExpected) return ''
  if (after === null) {
    return `${number}: no due day can be said while a sample without an expected day is out.`
  }
  const tail = after.isExpected ? ', if the samples come as expected' : ''
  if (before === null) return `${number}: due ${dayText(after.day)}${tail}.`
  if (before.day === after.day) {
    return after.isExpected
      ? `${number}: due ${dayText(after.day)}${tail}.`
      : `${number}: due ${dayText(after.day)}, as expected.`
  }
  return `${number}: due moved from ${dayText(before.day)} to ${dayText(after.day)}${tail}.`
}
