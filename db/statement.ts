import type Database from 'better-sqlite3'
import type { Db } from './open.ts'

const cache = new WeakMap<Db, Map<string, Database.Statement>>()

/** A prepared statement, made once per store and text. `Row` is what its columns hold under STRICT tables. */
export function prepared<Bind extends unknown[] | object, Row = unknown>(
  db: Db,
  sql: string,
): Database.Statement<Bind extends unknown[] ? Bind : [Bind], Row> {
  let statements = cache.get(db)
  if (!statements) {
    statements = new Map()
    cache.set(db, statements)
  }
  let statement = statements.get(sql)
  if (!statement) {
    statement = db.prepare(sql)
    statements.set(sql, statement)
  }
  return statement as Database.Statement<Bind extends unknown[] ? Bind : [Bind], Row>
}

/** Runs the work as one transaction: all of it is kept, or none. Nested calls become savepoints. */
export function inOneTransaction<T>(db: Db, work: () => T): T {
  return db.transaction(work).immediate()
}

/** The id of the row an INSERT has just made. */
export function newId<T extends number>(result: { lastInsertRowid: number | bigint }): T {
  return Number(result.lastInsertRowid) as T
}
