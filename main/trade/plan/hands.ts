import type { Span } from './problem.ts'

/** A stretch at a bench that needs somebody: a block, or a set change that lies apart from its block. */
export interface HandsNeeded extends Span {
  readonly bench: number
  /** Numbers the local day it lies in. */
  readonly day: number
  /** Minutes of it that count towards the day's cap on turning. */
  readonly turnMin: number
  /** Its job and rig: who begins one goes on with it where that can be. */
  readonly group: string
  /** Who is booked for its work today, if anyone. */
  readonly bookedFor: readonly number[]
  /** True where it lies as it is booked: who is booked for it stays. */
  readonly isKept: boolean
}

/** Somebody who may turn. */
export interface Turner {
  readonly id: number
  /** When they are away, or at a block that stays. */
  readonly away: readonly Span[]
  /** Minutes by day that they turn in blocks that stay. */
  readonly turnedMin: ReadonlyMap<number, number>
}

/** Ways tried for one day, before it counts as one that cannot be shared out. */
const mostTried = 20_000

/**
 * Shares the stretches of a plan among people, so that nobody is at two benches at once, away, or past the day's cap on
 * turning minutes. Who is booked stays at what is kept, and elsewhere where that can be; then who last had the job and rig,
 * who last stood at the bench, and who has turned least that day.
 * @param isOneBench  at the only bench there is, all who can be there stand together
 * @returns who stands at each stretch; for all stretches of a day that cannot be shared out, nobody
 */
export function sharedHands(
  needed: readonly HandsNeeded[],
  people: readonly Turner[],
  turningCapMin: number | null,
  isOneBench: boolean,
): readonly (readonly number[])[] {
  const ground: Ground = { needed, people, turningCapMin, isOneBench, shared: needed.map(() => []) }
  const order = [...needed.keys()].sort((a, b) => {
    const [one, other] = [needed[a] as HandsNeeded, needed[b] as HandsNeeded]
    return one.fromMin - other.fromMin || one.bench - other.bench || a - b
  })
  const earlier: number[] = []
  for (const today of Map.groupBy(order, (at) => needed[at]?.day).values()) {
    const isShared = [true, false].some((keepsBooked) =>
      shareDay(
        {
          ...ground,
          today: keepsBooked ? today.toSorted((a, b) => keptFirst(needed, b) - keptFirst(needed, a)) : today,
          earlier,
          keepsBooked,
          tried: { count: 0 },
        },
        0,
      ),
    )
    if (isShared) earlier.push(...today)
    else for (const at of today) ground.shared[at] = []
  }
  return ground.shared
}

/** 1 where somebody stays at what is kept: nothing else is to take them before. */
function keptFirst(needed: readonly HandsNeeded[], at: number): 0 | 1 {
  const { isKept, bookedFor } = needed[at] as HandsNeeded
  return isKept && bookedFor.length > 0 ? 1 : 0
}

interface Ground {
  readonly needed: readonly HandsNeeded[]
  readonly people: readonly Turner[]
  readonly turningCapMin: number | null
  readonly isOneBench: boolean
  readonly shared: (readonly number[])[]
}

interface Day extends Ground {
  /** Indexes in the order in which they are shared out. */
  readonly today: readonly number[]
  /** Those of the days before. */
  readonly earlier: readonly number[]
  readonly keepsBooked: boolean
  readonly tried: { count: number }
}

/** Fills `shared` from one stretch of the day on; false where that cannot be. */
function shareDay(day: Day, from: number): boolean {
  const at = day.today[from]
  if (at === undefined) return true
  for (const chosen of choices(day, from, day.needed[at] as HandsNeeded)) {
    day.tried.count += 1
    if (day.tried.count > mostTried) return false
    day.shared[at] = chosen
    if (shareDay(day, from + 1)) return true
  }
  return false
}

/** Who may stand at a stretch, what is liked best first. */
function choices(day: Day, from: number, stretch: HandsNeeded): readonly (readonly number[])[] {
  const before = day.today.slice(0, from)
  const minutes = new Map(day.people.map((one) => [one.id, minutesOf(day, before, one, stretch.day)]))
  const able = day.people
    .filter((one) => canStand(day, before, one, stretch, minutes.get(one.id) ?? 0))
    .map(({ id }) => id)
  const { bookedFor } = stretch
  const canStay = bookedFor.length > 0 && bookedFor.every((id) => able.includes(id))
  if (canStay && (day.isOneBench || (day.keepsBooked && stretch.isKept))) return [bookedFor]
  if (day.isOneBench) return able.length === 0 ? [] : [able]
  const past = [...day.earlier, ...before]
  const last = (isSame: (other: HandsNeeded) => boolean) =>
    day.shared[past.findLast((at) => isSame(day.needed[at] as HandsNeeded)) ?? -1] ?? []
  const ofGroup = last(({ group }) => group === stretch.group)
  const ofBench = last(({ bench }) => bench === stretch.bench)
  const rank = (id: number) => (ofGroup.includes(id) ? 0 : ofBench.includes(id) ? 1 : 2)
  const single = able
    .toSorted((a, b) => rank(a) - rank(b) || (minutes.get(a) ?? 0) - (minutes.get(b) ?? 0))
    .map((id) => [id])
  return canStay ? [bookedFor, ...single] : single
}

function minutesOf({ needed, shared }: Day, before: readonly number[], one: Turner, day: number): number {
  return before.reduce(
    (sum, at) => sum + (shared[at]?.includes(one.id) ? (needed[at]?.turnMin ?? 0) : 0),
    one.turnedMin.get(day) ?? 0,
  )
}

function canStand(
  { needed, shared, turningCapMin }: Day,
  before: readonly number[],
  { id, away }: Turner,
  stretch: HandsNeeded,
  turnedMin: number,
): boolean {
  if (turningCapMin !== null && stretch.turnMin > 0 && turnedMin + stretch.turnMin > turningCapMin)
    return false
  return (
    !away.some((span) => meets(span, stretch)) &&
    !before.some((at) => {
      const other = needed[at] as HandsNeeded
      return shared[at]?.includes(id) && other.bench !== stretch.bench && meets(other, stretch)
    })
  )
}

function meets(a: Span, b: Span): boolean {
  return a.fromMin < b.toMin && b.fromMin < a.toMin
}
