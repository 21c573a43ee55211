import { instantAt } from '../main/trade/calendar.ts'
import type { BlockToCheck, Objection } from './bookingObjections.ts'
import { studioZone } from './calendar.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { prepared } from './statement.ts'

/** Samples of a block that are expected no earlier than its day: goods come in the course of a day, so only the next is sure. */
export function beforeGoods(
  db: Db,
  { shootIds, day }: Pick<BlockToCheck, 'shootIds' | 'day'>,
): readonly Objection[] {
  const late = prepared<[string, string], { code: string; expectedDay: string; others: number }>(
    db,
    `SELECT product.code, max(s.expected_day) AS expectedDay, count(DISTINCT product.id) - 1 AS others
     FROM shoot JOIN shoot_product sp ON sp.shoot_id = shoot.id JOIN product ON product.id = sp.product_id
     JOIN sample s ON s.product_id = sp.product_id AND s.job_id = shoot.job_id
     WHERE shoot.id IN (SELECT value FROM json_each(?)) AND shoot.without_sample_reason IS NULL AND s.is_needed = 1
       AND s.state IN ('expected', 'missing', 'wrong') AND s.expected_day >= ?
     HAVING count(*) > 0`,
  ).get(JSON.stringify(shootIds), day)
  if (!late) return []
  const others = late.others > 0 ? ` and ${late.others} more` : ''
  return [
    {
      code: 'before-goods',
      sentence: `The block would be before its goods: ${late.code}${others} ${late.others > 0 ? 'are' : 'is'} expected on ${late.expectedDay}, so only the day after is sure.`,
      field: 'day',
    },
  ]
}

interface PersonDay {
  readonly personIds: readonly Id<'person'>[]
  readonly day: string
}

/**
 * Turning time of people on some days, by person and day, and whose is over the studio's cap and more than before.
 * @param before  the minutes that this gave before; without them nothing is said against anything
 */
export function turningOver(
  db: Db,
  days: readonly PersonDay[],
  before?: ReadonlyMap<string, number>,
): { readonly minutes: ReadonlyMap<string, number>; readonly objections: readonly Objection[] } {
  const minutes = new Map<string, number>()
  const objections: Objection[] = []
  const cap = turningCap(db)
  for (const { personIds, day } of days) {
    for (const personId of personIds) {
      const key = `${personId} ${day}`
      if (minutes.has(key)) continue
      const turned = turningOn(db, personId, day)
      minutes.set(key, turned.minutes)
      const isMore = before !== undefined && turned.minutes > (before.get(key) ?? 0)
      if (cap !== undefined && isMore && turned.minutes > cap) {
        objections.push({
          code: 'over-turning-cap',
          sentence: `${turned.name} would turn for ${hoursText(turned.minutes)} on ${day}; the studio sets ${hoursText(cap)} a day as the most.`,
          field: 'personIds',
        })
      }
    }
  }
  return { minutes, objections }
}

function turningOn(
  db: Db,
  personId: Id<'person'>,
  day: string,
): { readonly name: string; readonly minutes: number } {
  const zone = studioZone(db)
  const [from, to] = [instantAt(day, 0, zone).toISOString(), instantAt(day, 1440, zone).toISOString()]
  const row = prepared<[string, string, number], { name: string; seconds: number | null }>(
    db,
    `SELECT person.name, (SELECT sum(unixepoch(b.ends_at) - unixepoch(b.starts_at)) FROM booking b
       JOIN booking_person bp ON bp.booking_id = b.id AND bp.person_id = person.id
       WHERE b.cancelled_at IS NULL AND b.kind = 'spins' AND b.starts_at >= ? AND b.starts_at < ?) AS seconds
     FROM person WHERE person.id = ?`,
  ).get(from, to, personId)
  return { name: row?.name ?? '', minutes: (row?.seconds ?? 0) / 60 }
}

function turningCap(db: Db): number | undefined {
  return prepared<[], { minutes: number }>(db, 'SELECT turning_cap_minutes AS minutes FROM pace').get()
    ?.minutes
}

function hoursText(minutes: number): string {
  const [hours, rest] = [Math.floor(minutes / 60), Math.round(minutes % 60)]
  return rest === 0 ? `${hours} h` : `${hours} h ${String(rest).padStart(2, '0')}`
}
