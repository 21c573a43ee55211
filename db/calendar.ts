import type { WorkingWeek } from '../main/trade/calendar.ts'
import type { Db } from './open.ts'
import { prepared } from './statement.ts'

const dayMs = 86_400_000

/** The studio's working week: weekdays on which a bench opens, less the days the whole studio is closed. */
export function workingWeek(db: Db): WorkingWeek {
  const weekdays = prepared<[], { weekday: number }>(
    db,
    `SELECT DISTINCT weekday FROM opening JOIN bench ON bench.id = opening.bench_id WHERE bench.gone_at IS NULL`,
  )
    .all()
    .map(({ weekday }) => weekday)
  // A studio without opening hours still promises in working days.
  return { weekdays: new Set(weekdays.length > 0 ? weekdays : [1, 2, 3, 4, 5]), closed: closedDays(db) }
}

function closedDays(db: Db): ReadonlySet<string> {
  const days = new Set<string>()
  const closures = prepared<[], { fromDay: string; toDay: string }>(
    db,
    'SELECT from_day AS fromDay, to_day AS toDay FROM closure WHERE bench_id IS NULL',
  ).all()
  for (const { fromDay, toDay } of closures) {
    for (let at = Date.parse(fromDay); at <= Date.parse(toDay); at += dayMs) {
      days.add(new Date(at).toISOString().slice(0, 10))
    }
  }
  return days
}

/** The studio's IANA time zone. */
export function studioZone(db: Db): string {
  return prepared<[], { zone: string }>(db, 'SELECT time_zone AS zone FROM studio').get()?.zone ?? 'UTC'
}
