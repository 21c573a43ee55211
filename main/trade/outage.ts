import { daysBetween } from './calendar.ts'

/** Why a thing is not here, in a sentence: 'The 100 mm macro is in repair until 2026-03-20 (focus ring).' */
export function outageText(
  name: string,
  outage: { readonly kind: 'away' | 'repair'; readonly toDay: string | null; readonly reason: string | null },
): string {
  const where = outage.kind === 'repair' ? 'in repair' : 'away'
  const until = outage.toDay === null ? 'without a known day of return' : `until ${outage.toDay}`
  return `'${name}' is ${where} ${until}${outage.reason ? ` (${outage.reason})` : ''}.`
}

/** Days on which one piece of a kind is not here, both ends counted; without a last day it is open how long. */
export interface OutDays {
  readonly fromDay: string
  readonly toDay: string | null
}

/** How many pieces are away on a day: each outage is of one piece. */
export function piecesOut(outages: readonly OutDays[], day: string): number {
  return outages.filter(({ fromDay, toDay }) => fromDay <= day && (toDay === null || day <= toDay)).length
}

/** A stretch of time by two instants in UTC, and how many pieces are taken in it. */
export interface Taking {
  readonly startsAt: string
  readonly endsAt: string
  readonly needed: number
}

/**
 * The most pieces that others have at one instant within a stretch. Blocks one after the other need one piece, not
 * two; what ends as the stretch begins, or begins as it ends, takes nothing from it.
 */
export function mostTakenAtOnce(
  stretch: Pick<Taking, 'startsAt' | 'endsAt'>,
  others: readonly Taking[],
): number {
  const within = others.filter(
    ({ startsAt, endsAt }) => startsAt < stretch.endsAt && endsAt > stretch.startsAt,
  )
  // The count only rises where one begins, so it is highest at a beginning, or where the stretch itself begins.
  const instants = [stretch.startsAt, ...within.map(({ startsAt }) => startsAt)].filter(
    (at) => at >= stretch.startsAt,
  )
  return Math.max(
    0,
    ...instants.map((at) =>
      within
        .filter(({ startsAt, endsAt }) => startsAt <= at && at < endsAt)
        .reduce((sum, { needed }) => sum + needed, 0),
    ),
  )
}

/** Calendar days that work ends after its due day; 0 where it is in time or nothing is due. */
export function daysLate(day: string, dueDay: string | null): number {
  return dueDay === null ? 0 : Math.max(0, daysBetween(dueDay, day))
}
