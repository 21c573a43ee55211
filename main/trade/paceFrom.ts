import type { Day } from './calendar.ts'

/** What an estimate rests on: how many takes, on one rig or on all, and the day of the last. */
export interface PaceFrom {
  readonly takes: number
  readonly lastDay: Day | null
  readonly rigName: string | null
}

/**
 * Says where a figure comes from: 'from 37 takes on this rig, the last on 3 May', 'studio setting, no takes yet'.
 * @param what    the kind of fact counted, one and many: `['take', 'takes']`
 * @param onRig   'this rig', or its name; left out for all rigs
 * @param sayDay  writes the day as the page does
 */
export function fromSeen(
  seen: { readonly count: number; readonly lastDay: Day | null },
  sayDay: (day: Day) => string,
  [one, many]: readonly [string, string] = ['take', 'takes'],
  onRig?: string,
): string {
  const { count, lastDay } = seen
  const on = onRig === undefined ? '' : ` on ${onRig}`
  if (count === 0) return `studio setting, no ${many}${on} yet`
  const last =
    lastDay === null ? '' : count === 1 ? `, on ${sayDay(lastDay)}` : `, the last on ${sayDay(lastDay)}`
  return `from ${count.toLocaleString('en-GB')} ${count === 1 ? one : many}${on}${last}`
}

/** The same of an estimate: on the one rig that is planned for it, else on all. */
export function fromTakes(from: PaceFrom, sayDay: (day: Day) => string): string {
  const seen = { count: from.takes, lastDay: from.lastDay }
  return fromSeen(seen, sayDay, ['take', 'takes'], from.rigName ?? undefined)
}
