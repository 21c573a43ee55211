import { addDays, daysBetween } from './calendar.ts'

/** How long something open has been due: not yet, or so many days after its day. */
export const ages = ['not due', 'to 30', '31 to 60', '61 to 90', 'over 90'] as const
export type Age = (typeof ages)[number]

/**
 * How old an open amount is, by the days after the day it was due. What is due today is not late yet.
 * The classes are common practice, no published source.
 */
export function ageOf(dueDay: string, today: string): Age {
  const days = daysBetween(dueDay, today)
  if (days <= 0) return 'not due'
  if (days <= 30) return 'to 30'
  if (days <= 60) return '31 to 60'
  return days <= 90 ? '61 to 90' : 'over 90'
}

/** Open amounts by age, in minor units; the classes add up to the sum of what is open. */
export type Ageing = Readonly<Record<Age, number>>

/** Open amounts of one currency sorted into their ages; what was overpaid counts against its own class. */
export function ageingOf(
  items: readonly { readonly dueDay: string; readonly openMinor: number }[],
  today: string,
): Ageing {
  const sums = { 'not due': 0, 'to 30': 0, '31 to 60': 0, '61 to 90': 0, 'over 90': 0 }
  for (const { dueDay, openMinor } of items) sums[ageOf(dueDay, today)] += openMinor
  return sums
}

/** The first and last day on which something of this age was due; null where there is no such bound. */
export function dueDaysOf(
  age: Age,
  today: string,
): { readonly from: string | null; readonly to: string | null } {
  switch (age) {
    case 'not due':
      return { from: today, to: null }
    case 'to 30':
      return { from: addDays(today, -30), to: addDays(today, -1) }
    case '31 to 60':
      return { from: addDays(today, -60), to: addDays(today, -31) }
    case '61 to 90':
      return { from: addDays(today, -90), to: addDays(today, -61) }
    case 'over 90':
      return { from: null, to: addDays(today, -91) }
  }
}
