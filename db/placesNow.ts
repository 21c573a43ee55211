import type { PlanItem } from '../main/trade/plan/problem.ts'
import type { Bench } from './benches.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { thePace } from './pace.ts'
import { setChangeToCome } from './planWaiting.ts'
import { rigStandingAt, type StandingRig } from './standingRig.ts'
import { prepared } from './statement.ts'

type Now = NonNullable<PlanItem['now']>

/** Where a spin lies today. */
export interface PlaceNow {
  readonly now: Now
  /** The first of its blocks. */
  readonly bookingId: Id<'booking'>
  /** False where its block is too short for the estimates of its spins. */
  readonly isLongEnough: boolean
}

interface PlaceRow {
  readonly bookingId: Id<'booking'>
  readonly benchId: Id<'bench'>
  readonly startsAt: string
  readonly endsAt: string
  readonly shootId: Id<'shoot'>
  readonly settingsId: Id<'settings'> | null
  readonly estimateMs: number
}

/**
 * Where the spins of blocks that are planned anew lie today: one after the other from their block's start, each as
 * long as estimated, new settings dialled between them, the last to the block's end. A spin whose rows lie in several blocks
 * reaches from the first to the last of them.
 */
export function placesNow(
  db: Db,
  replanned: readonly Id<'booking'>[],
  benches: readonly Bench[],
  baseMs: number,
): ReadonlyMap<Id<'shoot'>, PlaceNow> {
  const rows = prepared<[string], PlaceRow>(
    db,
    `SELECT b.id AS bookingId, b.bench_id AS benchId, b.starts_at AS startsAt, b.ends_at AS endsAt, shoot.id AS shootId,
       shoot.settings_id AS settingsId, shoot.estimate_ms AS estimateMs
     FROM booking b JOIN booking_shoot bs ON bs.booking_id = b.id JOIN shoot ON shoot.id = bs.shoot_id
     WHERE b.id IN (SELECT value FROM json_each(?)) ORDER BY b.starts_at, b.id, bs.position`,
  ).all(JSON.stringify(replanned))
  const dialMin = Math.ceil(thePace(db).changeSettingsMs / 60_000)
  const places = new Map<Id<'shoot'>, PlaceNow>()
  for (const block of Map.groupBy(rows, ({ bookingId }) => bookingId).values()) {
    const [{ benchId, bookingId }] = block as [PlaceRow]
    const at = benches.findIndex(({ id }) => id === benchId)
    const bench = at < 0 ? null : at
    const { spans, isLongEnough } = spansIn(block, dialMin, baseMs)
    for (const [index, { fromMin, toMin }] of spans.entries()) {
      const { shootId } = block[index] as PlaceRow
      const first = places.get(shootId)
      places.set(shootId, {
        now: { bench, startMin: fromMin, ...first?.now, endMin: toMin },
        bookingId: first?.bookingId ?? bookingId,
        isLongEnough: isLongEnough && (first?.isLongEnough ?? true),
      })
    }
  }
  return places
}

/** The minutes of each spin in a block. Estimates are added up before they are rounded, as a booked block's are. */
function spansIn(spins: readonly PlaceRow[], dialMin: number, baseMs: number) {
  const minuteOf = (instant: string) => Math.round((Date.parse(instant) - baseMs) / 60_000)
  const [fromMin, toMin] = [minuteOf(spins[0]?.startsAt ?? ''), minuteOf(spins[0]?.endsAt ?? '')]
  let at = fromMin
  let ms = 0
  let dialled = 0
  const spans = spins.map(({ estimateMs, settingsId }, index) => {
    if (index > 0 && settingsId !== spins[index - 1]?.settingsId) dialled += dialMin
    const start = Math.max(at, fromMin + wholeMin(ms) * Number(ms > 0) + dialled)
    ms += estimateMs
    at = Math.max(start + 1, fromMin + wholeMin(ms) + dialled)
    return { fromMin: start, toMin: at }
  })
  const last = spans.at(-1)
  if (last) spans[spans.length - 1] = { ...last, toMin: Math.max(last.fromMin + 1, toMin) }
  return { spans, isLongEnough: at <= toMin }
}

/** The set change before a block of spins as it was booked, and the rig it was booked behind. */
export interface BookedChange {
  readonly bookingId: Id<'booking'>
  /** 0 where none was booked. */
  readonly minutes: number
  readonly after: StandingRig | undefined
  /** What is dialled for the block's first spin. */
  readonly settingsId: Id<'settings'> | null
}

/** The set changes before blocks to come, by block. */
export function bookedChanges(
  db: Db,
  bookingIds: readonly Id<'booking'>[],
  now: string,
): ReadonlyMap<Id<'booking'>, BookedChange> {
  const rows = prepared<
    [string, string],
    {
      bookingId: Id<'booking'>
      benchId: Id<'bench'>
      startsAt: string
      changeStartsAt: string | null
      changeEndsAt: string | null
      settingsId: Id<'settings'> | null
    }
  >(
    db,
    `SELECT x.id AS bookingId, x.bench_id AS benchId, x.starts_at AS startsAt, c.starts_at AS changeStartsAt,
       c.ends_at AS changeEndsAt, (SELECT shoot.settings_id FROM booking_shoot bs JOIN shoot ON shoot.id = bs.shoot_id
         WHERE bs.booking_id = x.id ORDER BY bs.position LIMIT 1) AS settingsId
     FROM (SELECT b.*, ${setChangeToCome} AS change_id FROM booking b
       WHERE b.id IN (SELECT value FROM json_each(?)) AND b.kind = 'spins') x LEFT JOIN booking c ON c.id = x.change_id`,
  ).all(now, JSON.stringify(bookingIds))
  return new Map(
    rows.map(({ bookingId, benchId, startsAt, changeStartsAt, changeEndsAt, settingsId }) => [
      bookingId,
      {
        bookingId,
        minutes: (Date.parse(changeEndsAt ?? startsAt) - Date.parse(changeStartsAt ?? startsAt)) / 60_000,
        after: rigStandingAt(db, benchId, changeStartsAt ?? startsAt),
        settingsId,
      },
    ]),
  )
}

/** Minutes as they are booked: a started one counts whole, and nothing takes no time. */
export function wholeMin(ms: number): number {
  return Math.max(1, Math.ceil(ms / 60_000))
}
