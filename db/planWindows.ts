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
  /** True for spins, whose minutes count towards the cap on turning. */
  readonly isTurning: boolean
}

export interface WindowsRequest {
  readonly benches: readonly Bench[]
  readonly personIds: readonly Id<'person'>[]
  readonly days: number
  readonly now: string
  /** Minutes are counted from here, in ms since 1970. */
  readonly baseMs: number
  readonly staying: readonly StayingBlock[]
  readonly turningCapMin: number | null
}

/**
 * When each bench is free from now on: opening hours less closures, blocks that stay, and times when nobody is there for it
 * (with one of two away, one of two benches stays closed that day); and why it is not at other times. What is free can
 * always be shared out among the people: see `standingOn`.
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
  const times = request.benches.map(() => ({ windows: [] as FreeWindow[], shut: [] as ShutSpan[] }))
  for (let day = 0; day < request.days; day += 1) {
    const date = addDays(today, day)
    const whole = minutesOf(date, { fromMinute: 0, toMinute: 1440 }, zone, request.baseMs)
    const there = request.personIds.filter(
      (id) =>
        !away.some(({ personId, fromDay, toDay }) => personId === id && fromDay <= date && date <= toDay),
    )
    const staying = request.staying.filter(
      ({ fromMin, toMin }) => toMin > whole.fromMin && fromMin < whole.toMin,
    )
    const isOpen = request.benches.map((bench) => !isClosed(closures, bench, date))
    const standing = standingOn(request, there, staying, isOpen)
    for (const [index, bench] of request.benches.entries()) {
      const { windows, shut } = times[index] as (typeof times)[0]
      const stands = standing[index]
      const why = !isOpen[index] ? 'closed' : !stands ? 'nobody there' : undefined
      const open = why ? [] : hoursOn(date, bench.openings)
      const hours = open.map((stretch) => minutesOf(date, stretch, zone, request.baseMs))
      const inTheWay = staying.filter(
        (block) => block.benchId === bench.id || stands?.elsewhere.includes(block),
      )
      const toCome = inTheWay.filter(({ toMin }) => toMin > nowMin)
      const free = hours.flatMap((stretch) => cutOut(stretch, day, bench.id, nowMin, toCome))
      shut.push(...between(whole, hours, why ?? 'closed'))
      shut.push(...toCome.map(({ fromMin, toMin }): ShutSpan => ({ fromMin, toMin, why: 'booked' })))
      windows.push(...(stands ? withinCap(free, stands, request.turningCapMin) : []))
    }
  }
  return times
}

/** Who stands at a bench on one day: their blocks on other benches, and the minutes they turn in blocks that stay. */
interface Standing {
  readonly elsewhere: readonly StayingBlock[]
  readonly turnedMin: number
  /** True where the day's hours are cut to what the cap leaves, since the plan does not count by person there. */
  readonly isCut: boolean
}

/**
 * Who of those there stands at which bench on one day, so that whatever is planned into what is free can be shared out.
 * One person alone goes from bench to bench. Fewer people than benches do so too while all are there and none
 * of them is booked; otherwise each keeps to one bench for the day: where they are booked longest, else at the first.
 * Undefined for a bench that nobody is left for.
 */
function standingOn(
  { benches, personIds }: WindowsRequest,
  there: readonly Id<'person'>[],
  staying: readonly StayingBlock[],
  isOpen: readonly boolean[],
): readonly (Standing | undefined)[] {
  const isFew = personIds.length < benches.length
  const isAnyBooked = staying.some((block) => block.personIds.some((id) => there.includes(id)))
  const [only] = there
  if (only === undefined) return benches.map(() => undefined)
  if (personIds.length === 1) return benches.map(({ id }) => standingOf(only, id, staying, false))
  if (isFew && there.length === personIds.length && !isAnyBooked) {
    return benches.map(() => ({ elsewhere: [], turnedMin: 0, isCut: false }))
  }
  const bookedMin = (id: Id<'person'>, at?: number) =>
    staying
      .filter(
        (block) => block.personIds.includes(id) && (at === undefined || block.benchId === benches[at]?.id),
      )
      .reduce((sum, { fromMin, toMin }) => sum + toMin - fromMin, 0)
  const most = (at: number) => Math.max(...there.map((id) => bookedMin(id, at)))
  const order = [...benches.keys()].filter((at) => isOpen[at]).sort((a, b) => most(b) - most(a) || a - b)
  const left = new Set(there)
  const standing: (Standing | undefined)[] = benches.map(() => undefined)
  for (const at of order) {
    const [id] = [...left].sort((a, b) => bookedMin(b, at) - bookedMin(a, at) || bookedMin(a) - bookedMin(b))
    if (id === undefined) break
    left.delete(id)
    standing[at] = standingOf(id, (benches[at] as Bench).id, staying, isFew)
  }
  return standing
}

function standingOf(
  id: Id<'person'>,
  benchId: Id<'bench'>,
  staying: readonly StayingBlock[],
  isCut: boolean,
): Standing {
  const own = staying.filter(({ personIds }) => personIds.includes(id))
  return {
    elsewhere: own.filter((block) => block.benchId !== benchId),
    turnedMin: own
      .filter(({ isTurning }) => isTurning)
      .reduce((sum, { fromMin, toMin }) => sum + toMin - fromMin, 0),
    isCut,
  }
}

/** The windows with what their person has turned, or cut to what the cap leaves of it. */
function withinCap(
  windows: readonly FreeWindow[],
  { turnedMin, isCut }: Standing,
  capMin: number | null,
): readonly FreeWindow[] {
  if (!isCut || capMin === null)
    return windows.map((window) => (turnedMin > 0 ? { ...window, turnedMin } : window))
  let left = capMin - turnedMin
  return windows.flatMap(({ fromMin, toMin, rigAfter, ...window }) => {
    const end = Math.min(toMin, fromMin + left)
    left -= Math.max(0, end - fromMin)
    if (end <= fromMin) return []
    return [
      { ...window, fromMin, toMin: end, ...(end === toMin && rigAfter !== undefined ? { rigAfter } : {}) },
    ]
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
  inTheWay: readonly StayingBlock[],
): readonly FreeWindow[] {
  const blocks = inTheWay
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

/** The blocks on any bench from today on that are not among those to be planned anew, with what they leave standing. */
export function stayingBlocks(
  db: Db,
  replanned: readonly Id<'booking'>[],
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
      isTurning: 0 | 1
    }
  >(
    db,
    `SELECT b.bench_id AS benchId, b.starts_at AS startsAt, b.ends_at AS endsAt, b.rig_revision_id AS rigRevisionId,
       (SELECT shoot.settings_id FROM booking_shoot bs JOIN shoot ON shoot.id = bs.shoot_id
        WHERE bs.booking_id = b.id ORDER BY bs.position DESC LIMIT 1) AS settingsId,
       (SELECT json_group_array(person_id) FROM booking_person WHERE booking_id = b.id) AS people,
       b.kind = 'spins' AS isTurning
     FROM booking b WHERE b.cancelled_at IS NULL AND b.ends_at > ?
       AND b.id NOT IN (SELECT value FROM json_each(?)) ORDER BY b.starts_at`,
  )
    .all(new Date(baseMs).toISOString(), JSON.stringify(replanned))
    .map(({ benchId, startsAt, endsAt, rigRevisionId, settingsId, people, isTurning }) => ({
      benchId,
      fromMin: Math.floor((Date.parse(startsAt) - baseMs) / 60_000),
      toMin: Math.ceil((Date.parse(endsAt) - baseMs) / 60_000),
      rig: rigRevisionId === null ? null : rigIndex(rigRevisionId, settingsId),
      personIds: JSON.parse(people) as Id<'person'>[],
      isTurning: isTurning === 1,
    }))
}
