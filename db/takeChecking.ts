import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { prepared } from './statement.ts'

/** A running take whose frames are to be checked as they arrive, also by a program that is begun anew. */
export interface TakeChecking {
  readonly takeId: Id<'take'>
  /** The take counts by files: they lie where it knows. */
  readonly isWatched: boolean
  /** Where the check was begun last; of a take that counts by files, empty until it was. */
  readonly folders: readonly string[]
  /** How often it was begun and did not come to read all that lay there; null where a person stopped it. */
  readonly tries: number | null
}

/** The running takes that count by their files, and those whose check a person has asked for. */
export function takesToFollow(db: Db): readonly TakeChecking[] {
  return prepared<[], { takeId: Id<'take'>; isWatched: 0 | 1; folders: string; tries: number | null }>(
    db,
    `SELECT take_id AS takeId, 1 AS isWatched, ifnull(c.folders, '[]') AS folders,
       CASE WHEN c.take_id IS NULL THEN 0 ELSE c.tries END AS tries
     FROM take_watch LEFT JOIN take_checking c USING (take_id)
     UNION ALL
     SELECT take_id, 0, folders, tries FROM take_checking
     WHERE take_id NOT IN (SELECT take_id FROM take_watch)`,
  )
    .all()
    .map((row) => ({ ...row, isWatched: row.isWatched === 1, folders: JSON.parse(row.folders) as string[] }))
}

/** The check of a running take begins in these folders: known until it has read all. Of one that has ended, nothing is kept. */
export function countCheckTry(db: Db, takeId: Id<'take'>, folders: readonly string[]): void {
  prepared<[string, number]>(
    db,
    `INSERT INTO take_checking (take_id, folders, tries)
     SELECT id, ?, 1 FROM take WHERE id = ? AND ended_at IS NULL
     ON CONFLICT (take_id) DO UPDATE SET folders = excluded.folders, tries = min(1000, ifnull(tries, 0) + 1)`,
  ).run(JSON.stringify(folders), takeId)
}

/** The check of a running take has read all that lies there, or a person wants it (0); a person has stopped it (null). */
export function setCheckTries(db: Db, takeId: Id<'take'>, tries: 0 | null): void {
  prepared<[number | null, number]>(
    db,
    `INSERT INTO take_checking (take_id, folders, tries)
     SELECT id, '[]', ? FROM take WHERE id = ? AND ended_at IS NULL
     ON CONFLICT (take_id) DO UPDATE SET tries = excluded.tries WHERE tries IS NOT excluded.tries`,
  ).run(tries, takeId)
}

/** The take goes on in another folder: its check is begun anew there, also where a person had stopped it. */
export function forgetCheckTries(db: Db, takeId: Id<'take'>): void {
  prepared<[number]>(db, 'DELETE FROM take_checking WHERE take_id = ?').run(takeId)
}
