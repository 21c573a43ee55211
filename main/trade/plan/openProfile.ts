import { type PlanItem, type PlanProblem, shortestMin } from './problem.ts'

/** Bench time counted up over all benches: as much work as people can do by an instant, if nothing else held it up. */
export interface OpenProfile {
  /** Minutes of work that fit before an instant. */
  readonly openBefore: (min: number) => number
  /** The first instant by which so many minutes of work fit; infinity where they never do. */
  readonly instantOf: (workMin: number) => number
}

/** At any minute as many work as benches are open, and no more than there are people. */
export function openProfile({ benches, hands }: PlanProblem): OpenProfile {
  const edges = benches
    .flatMap(({ windows }) =>
      windows.flatMap(({ fromMin, toMin }) => [[fromMin, 1] as const, [toMin, -1] as const]),
    )
    .sort((a, b) => a[0] - b[0])
  const fromMin: number[] = []
  const before: number[] = []
  const rate: number[] = []
  let open = 0
  let work = 0
  for (const [min, change] of edges) {
    const last = fromMin.at(-1)
    if (last !== undefined) work += (min - last) * Math.min(open, hands)
    open += change
    fromMin.push(min)
    before.push(work)
    rate.push(Math.min(open, hands))
  }
  return {
    openBefore: (min) => {
      const at = lastWhere(fromMin, (from) => from <= min)
      return at < 0 ? 0 : (before[at] as number) + (min - (fromMin[at] as number)) * (rate[at] as number)
    },
    instantOf: (workMin) => {
      const at = lastWhere(before, (done) => done < workMin)
      if (at < 0) return fromMin[0] ?? Number.POSITIVE_INFINITY
      if (rate[at] === 0) return Number.POSITIVE_INFINITY
      return (fromMin[at] as number) + (workMin - (before[at] as number)) / (rate[at] as number)
    },
  }
}

/** The last place in a rising row for which something holds; -1 for none. */
function lastWhere(row: readonly number[], holds: (value: number) => boolean): number {
  let low = -1
  let high = row.length
  while (high - low > 1) {
    const middle = (low + high) >> 1
    if (holds(row[middle] as number)) low = middle
    else high = middle
  }
  return low
}

/**
 * The soonest instants by which one, two, three … of the items can be done: all hands as one machine that always turns
 * the item with the least work left, broken off where a shorter one comes in (after Schrage 1968, whose rule has the most
 * items done by any instant). No plan of whole turns has so many done sooner.
 */
export function soonestEnds(items: readonly PlanItem[], profile: OpenProfile): readonly number[] {
  const coming = items
    .map((item) => ({ readyMin: profile.openBefore(item.earliestMin), left: shortestMin(item) }))
    .sort((a, b) => a.readyMin - b.readyMin)
  const there: { left: number }[] = []
  const ends: number[] = []
  let at = 0
  let next = 0
  while (ends.length < items.length) {
    for (; next < coming.length && (coming[next]?.readyMin ?? 0) <= at; next += 1) {
      there.push(coming[next] as { left: number })
    }
    const until = coming[next]?.readyMin ?? Number.POSITIVE_INFINITY
    if (there.length === 0) {
      at = until
      continue
    }
    let shortest = 0
    for (let other = 1; other < there.length; other += 1) {
      if ((there[other]?.left ?? 0) < (there[shortest]?.left ?? 0)) shortest = other
    }
    const item = there[shortest] as { left: number }
    if (at + item.left <= until) {
      at += item.left
      there.splice(shortest, 1)
      ends.push(profile.instantOf(at))
    } else {
      item.left -= until - at
      at = until
    }
  }
  return ends
}
