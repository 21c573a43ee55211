import { hoursOn, type Stretch } from '../main/trade/bench.ts'
import { addDays, dayOf, instantAt } from '../main/trade/calendar.ts'
import type { FreeWindow, PlanBench, ShutSpan, Span } from '../main/trade/plan/problem.ts'
import { absencesBetween } from './absences.ts'
import { type Bench, type BenchClosure, closuresBetween } from './benches.ts'
import { studioZone } from './calendar.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { prepared } from './statement.ts'

/** A block that stays where it is: the plan lays its work around it. */
export interface StayingBlock {
  readonly benchId: Id<'bench'>
  readonly fromMin: number
  readonly toMin: number
  /** What it leaves standing and expects to find; null for a block without a rig. */
  readonly rig: number | null
  readonly personIds: readonly Id<'person'>[]
}

export interface WindowsRequest {
  readonly benches: readonly Bench[]
  readonly personIds: readonly Id<'person'>[]
  readonly days: number
  readonly now: string
  /** Minutes are counted from here, in ms since 1970. */
  readonly baseMs: number
  readonly staying: readonly StayingBlock[]
}

/**
 * When each bench is free from now on: opening hours less closures, blocks that stay, and times when too few of the
 * people are there (with one of two away, the second bench stays closed that day); and why it is not at other times.
 */
export function benchTimes(
  db: Db,
  request: WindowsRequest,
): readonly Required<Pick<PlanBench, 'windows' | 'shut'>>[] {
  const zone = studioZone(db)
  const today = dayOf(request.now, zone)
  const lastDay = addDays(today, request.days - 1)
  const closures = closuresBetween(db, today, lastDay)
  const away = absencesBetween(db, today, lastDay)
  const nowMin = Math.ceil((Date.parse(request.now) - request.baseMs) / 60_000)
  return request.benches.map((bench, index) => {
    const windows: FreeWindow[] = []
    const shut: ShutSpan[] = []
    for (let day = 0; day < request.days; day += 1) {
      const date = addDays(today, day)
      const there = request.personIds.filter(
        (id) =>
          !away.some(({ personId, fromDay, toDay }) => personId === id && fromDay <= date && date <= toDay),
      ).length
      const whole = minutesOf(date, { fromMinute: 0, toMinute: 1440 }, zone, request.baseMs)
      const why = isClosed(closures, bench, date)
        ? 'closed'
        : there <= Math.min(index, request.personIds.length - 1)
          ? 'nobody there'
          : undefined
      const open = why ? [] : hoursOn(date, bench.openings)
      const hours = open.map((stretch) => minutesOf(date, stretch, zone, request.baseMs))
      shut.push(...between(whole, hours, why ?? 'closed'))
      for (const stretch of hours) windows.push(...cutOut(stretch, day, bench.id, nowMin, request))
    }
    const booked = inTheWay(request, bench.id).map(
      ({ fromMin, toMin }): ShutSpan => ({ fromMin, toMin, why: 'booked' }),
    )
    return { windows, shut: [...shut, ...booked] }
  })
}

/** What of a whole day lies outside its hours. */
function between(whole: Span, hours: readonly Span[], why: ShutSpan['why']): readonly ShutSpan[] {
  const shut: ShutSpan[] = []
  let at = whole.fromMin
  for (const { fromMin, toMin } of hours) {
    if (fromMin > at) shut.push({ fromMin: at, toMin: fromMin, why })
    at = toMin
  }
  return at < whole.toMin ? [...shut, { fromMin: at, toMin: whole.toMin, why }] : shut
}

/** The blocks that stay and take a bench's time: its own, and those that hold all of its people elsewhere. */
function inTheWay({ staying, personIds }: WindowsRequest, benchId: Id<'bench'>): readonly StayingBlock[] {
  return staying.filter((block) => block.benchId === benchId || holdsEveryone(block, personIds))
}

function isClosed(closures: readonly BenchClosure[], bench: Bench, day: string): boolean {
  return closures.some(
    ({ benchId, fromDay, toDay }) =>
      (benchId === null || benchId === bench.id) && fromDay <= day && day <= toDay,
  )
}

function minutesOf(day: string, { fromMinute, toMinute }: Stretch, zone: string, baseMs: number) {
  const at = (minute: number) => Math.round((instantAt(day, minute, zone).getTime() - baseMs) / 60_000)
  return { fromMin: at(fromMinute), toMin: at(toMinute) }
}

/** What is left of opening hours beside the blocks that stay: the bench's own, and those of its people elsewhere. */
function cutOut(
  hours: { readonly fromMin: number; readonly toMin: number },
  day: number,
  benchId: Id<'bench'>,
  nowMin: number,
  request: WindowsRequest,
): readonly FreeWindow[] {
  const blocks = inTheWay(request, benchId)
    .filter(({ fromMin, toMin }) => toMin > hours.fromMin && fromMin < hours.toMin)
    .sort((a, b) => a.fromMin - b.fromMin)
  const windows: FreeWindow[] = []
  let at = Math.max(hours.fromMin, nowMin)
  let before: StayingBlock | undefined
  for (const block of [...blocks, undefined]) {
    const toMin = Math.min(hours.toMin, block?.fromMin ?? hours.toMin)
    if (toMin > at) {
      windows.push({
        fromMin: at,
        toMin,
        day,
        ...rigOf('rigBefore', before, benchId),
        ...rigOf('rigAfter', block, benchId),
      })
      before = undefined
    }
    if (!block) break
    at = Math.max(at, block.toMin)
    if (block.benchId === benchId) before = block
  }
  return windows
}

function rigOf(name: 'rigBefore' | 'rigAfter', block: StayingBlock | undefined, benchId: Id<'bench'>) {
  return block && block.benchId === benchId && block.rig !== null ? { [name]: block.rig } : {}
}

/** True where a block elsewhere takes the only hands there are. */
function holdsEveryone({ personIds }: StayingBlock, all: readonly Id<'person'>[]): boolean {
  return all.length > 0 && all.every((id) => personIds.includes(id))
}

/** The blocks on any bench from now on that are not among those to be planned anew, with what they leave standing. */
export function stayingBlocks(
  db: Db,
  replanned: readonly Id<'booking'>[],
  now: string,
  baseMs: number,
  rigIndex: (rigRevisionId: Id<'rig_revision'>, settingsId: Id<'settings'> | null) => number,
): readonly StayingBlock[] {
  return prepared<
    [string, string],
    {
      benchId: Id<'bench'>
      startsAt: string
      endsAt: string
      rigRevisionId: Id<'rig_revision'> | null
      settingsId: Id<'settings'> | null
      people: string
    }
  >(
    db,
    `SELECT b.bench_id AS benchId, b.starts_at AS startsAt, b.ends_at AS endsAt, b.rig_revision_id AS rigRevisionId,
       (SELECT shoot.settings_id FROM booking_shoot bs JOIN shoot ON shoot.id = bs.shoot_id
        WHERE bs.booking_id = b.id ORDER BY bs.position DESC LIMIT 1) AS settingsId,
       (SELECT json_group_array(person_id) FROM booking_person WHERE booking_id = b.id) AS people
     FROM booking b WHERE b.cancelled_at IS NULL AND b.ends_at > ?
       AND b.id NOT IN (SELECT value FROM json_each(?)) ORDER BY b.starts_at`,
  )
    .all(now, JSON.stringify(replanned))
    .map(({ benchId, startsAt, endsAt, rigRevisionId, settingsId, people }) => ({
      benchId,
      fromMin: Math.floor((Date.parse(startsAt) - baseMs) / 60_000),
      toMin: Math.ceil((Date.parse(endsAt) - baseMs) / 60_000),
      rig: rigRevisionId === null ? null : rigIndex(rigRevisionId, settingsId),
      personIds: JSON.parse(people) as Id<'person'>[],
    }))
}
