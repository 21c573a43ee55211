import { daysBetween } from './calendar.ts'
import type { RightTexts } from './texts/shape.ts'

/** A right of use as it stands on paper. Days are whole and both count; null for from now, and for without end. */
export interface RightOfUse {
  readonly media: string
  readonly territory: string
  readonly fromDay: string | null
  readonly toDay: string | null
  /** It passes to the client once the invoice is paid; otherwise with the delivery. */
  readonly passesOnPayment: boolean
}

/** How long before its end a right counts as ending soon (common practice, no published source). */
export const soonDays = 90

export type RightStanding = 'to come' | 'running' | 'ends soon' | 'ended'

/** How a right stands on a day: it ends with its last day, and a right without end never ends soon. */
export function rightStanding(
  { fromDay, toDay }: Pick<RightOfUse, 'fromDay' | 'toDay'>,
  today: string,
): RightStanding {
  if (toDay !== null && toDay < today) return 'ended'
  if (fromDay !== null && fromDay > today) return 'to come'
  return toDay !== null && daysBetween(today, toDay) <= soonDays ? 'ends soon' : 'running'
}

/** A right as the text of a line that charges for it: the heading of rights, then media, territory and days. */
export function rightLineText(
  right: Omit<RightOfUse, 'passesOnPayment'>,
  words: RightTexts,
  day: (day: string) => string,
): string {
  const [said] = rightLines([{ ...right, passesOnPayment: false }], words, day)
  return `${words.heading}: ${said}`
}

/**
 * The rights as lines of a paper: media, territory, days; then when they pass, once for all where all pass with the
 * payment, else on each that does. No line where there is no right.
 * @param day  writes a day as the client's locale does
 */
export function rightLines(
  rights: readonly RightOfUse[],
  words: RightTexts,
  day: (day: string) => string,
): readonly string[] {
  if (rights.length === 0) return []
  const all = rights.every(({ passesOnPayment }) => passesOnPayment)
  const lines = rights.map(({ media, territory, fromDay, toDay, passesOnPayment }) =>
    [
      media,
      territory,
      ...(fromDay === null ? [] : [words.from(day(fromDay))]),
      toDay === null ? words.withoutEnd : words.to(day(toDay)),
      ...(passesOnPayment && !all ? [words.onPayment] : []),
    ].join(', '),
  )
  return all ? [...lines, words.allOnPayment] : lines
}
