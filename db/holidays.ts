import type { BenchClosure } from './benches.ts'
import { type Writing, writeEvent } from './events.ts'
import type { Db } from './open.ts'
import { refreshPromises } from './standing.ts'
import { inOneTransaction, prepared } from './statement.ts'

/** A closure of the whole studio that came from a calendar, with that calendar's own name for it. */
export interface ImportedClosure extends Omit<BenchClosure, 'benchId'> {
  readonly sourceUid: string
}

/** Every closure that came from a calendar, by its name there. */
export function importedClosures(db: Db): ReadonlyMap<string, ImportedClosure> {
  const rows = prepared<[], ImportedClosure>(
    db,
    `SELECT id, from_day AS fromDay, to_day AS toDay, reason, source_uid AS sourceUid
     FROM closure WHERE source_uid IS NOT NULL`,
  ).all()
  return new Map(rows.map((row) => [row.sourceUid, row]))
}

/** What a calendar's day does to the closures. */
export interface HolidayTaken extends Omit<ImportedClosure, 'id'> {
  readonly does: 'closes' | 'changes' | 'opens'
}

/**
 * Takes days from a calendar as closures of the whole studio: all of them or none. A day known from an earlier time is changed or
 * opened again and never doubled. Blocks already booked stay, for the person to move.
 */
export function takeHolidays(writing: Writing, fileName: string, holidays: readonly HolidayTaken[]): void {
  const { db } = writing
  inOneTransaction(db, () => {
    for (const { does, sourceUid, fromDay, toDay, reason } of holidays) {
      if (does === 'opens') {
        prepared<[string]>(db, 'DELETE FROM closure WHERE source_uid = ?').run(sourceUid)
      } else {
        prepared<unknown[]>(
          db,
          `INSERT INTO closure (bench_id, from_day, to_day, reason, source_uid) VALUES (NULL, ?, ?, ?, ?)
           ON CONFLICT (source_uid) WHERE source_uid IS NOT NULL
           DO UPDATE SET from_day = excluded.from_day, to_day = excluded.to_day, reason = excluded.reason`,
        ).run(fromDay, toDay, reason, sourceUid)
      }
    }
    refreshPromises(writing)
    writeEvent(writing, {
      subject: 'closure',
      subjectId: 0,
      what: 'holidays taken in',
      detail: {
        fileName,
        days: holidays.map(({ does, fromDay, toDay, reason }) => ({ does, fromDay, toDay, reason })),
      },
    })
  })
}
