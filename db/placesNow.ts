import type { PlanItem } from '../main/trade/plan/problem.ts'
import type { Bench } from './benches.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { prepared } from './statement.ts'

type Now = NonNullable<PlanItem['now']>

interface PlaceRow {
  readonly bookingId: Id<'booking'>
  readonly benchId: Id<'bench'>
  readonly startsAt: string
  readonly endsAt: string
  readonly shootId: Id<'shoot'>
  readonly estimateMs: number
  readonly isLast: 0 | 1
}

/**
 * Where the spins of blocks that are planned anew lie today: one after the other from their block's start, each as
 * long as estimated, the last to the block's end. A spin whose rows lie in several blocks reaches from the first to
 * the last of them.
 */
export function placesNow(
  db: Db,
  replanned: readonly Id<'booking'>[],
  benches: readonly Bench[],
  baseMs: number,
): ReadonlyMap<Id<'shoot'>, Now> {
  const rows = prepared<[string], PlaceRow>(
    db,
    `SELECT b.id AS bookingId, b.bench_id AS benchId, b.starts_at AS startsAt, b.ends_at AS endsAt, shoot.id AS shootId,
       shoot.estimate_ms AS estimateMs,
       bs.position = (SELECT max(position) FROM booking_shoot l WHERE l.booking_id = b.id) AS isLast
     FROM booking b JOIN booking_shoot bs ON bs.booking_id = b.id JOIN shoot ON shoot.id = bs.shoot_id
     WHERE b.id IN (SELECT value FROM json_each(?)) ORDER BY b.starts_at, b.id, bs.position`,
  ).all(JSON.stringify(replanned))
  const minuteOf = (instant: string) => Math.round((Date.parse(instant) - baseMs) / 60_000)
  const places = new Map<Id<'shoot'>, Now>()
  let block: Id<'booking'> | undefined
  let at = 0
  for (const { bookingId, benchId, startsAt, endsAt, shootId, estimateMs, isLast } of rows) {
    if (bookingId !== block) at = minuteOf(startsAt)
    block = bookingId
    const bench = benches.findIndex(({ id }) => id === benchId)
    const endMin = isLast === 1 ? Math.max(at, minuteOf(endsAt)) : at + wholeMin(estimateMs)
    const first = places.get(shootId) ?? { bench: bench < 0 ? null : bench, startMin: at }
    places.set(shootId, { ...first, endMin })
    at = endMin
  }
  return places
}

/** Minutes as they are booked: a started one counts whole, and nothing takes no time. */
export function wholeMin(ms: number): number {
  return Math.max(1, Math.ceil(ms / 60_000))
}
