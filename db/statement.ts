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

/** Does the work, gives what it gives, and takes every change of it back: to show what it would do. */
export function takenBack<T>(db: Db, work: () => T): T {
  let result: { readonly value: T } | undefined
  try {
    inOneTransaction(db, () => {
      result = { value: work() }
      throw rollback
    })
  } catch (error) {
    if (error !== rollback) throw error
  }
  if (!result) throw new Error('The work that is taken back was never done.')
  return result.value
}

const rollback = new Error('taken back')

/** The id of the row an INSERT has just made. */
export function newId<T extends number>(result: { lastInsertRowid: number | bigint }): T {
  return Number(result.lastInsertRowid) as T
}
