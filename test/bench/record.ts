import type Database from 'better-sqlite3'
import type { Db } from '../../db/open.ts'

type Statement = Database.Statement<unknown[]>

/** A statement as an answer of the API ran it: its text, how it was run, and with which values. */
export interface Recorded {
  readonly sql: string
  readonly way: 'all' | 'get' | 'run'
  readonly plucked: boolean
  readonly values: readonly unknown[]
}

/**
 * Writes down every statement that runs on this connection; to be laid on before anything is prepared.
 * @returns takes what was written down since the last time
 */
export function recordStatements(db: Db): () => readonly Recorded[] {
  let recorded: Recorded[] = []
  const prepare = db.prepare.bind(db)
  const watched = (statement: Statement, sql: string, plucked: boolean): Statement =>
    new Proxy(statement, {
      get(target, name) {
        const member = Reflect.get(target, name) as unknown
        if (typeof member !== 'function') return member
        return (...values: unknown[]) => {
          if (name === 'all' || name === 'get' || name === 'run')
            recorded.push({ sql, way: name, plucked, values })
          const result: unknown = member.apply(target, values)
          // What a statement gives back of itself, as pluck does, stays under the pen.
          return result === target ? watched(target, sql, plucked || name === 'pluck') : result
        }
      },
    })
  db.prepare = ((sql: string) => watched(prepare(sql), sql, false)) as typeof db.prepare
  return () => {
    const taken = recorded
    recorded = []
    return taken
  }
}

/** Runs recorded statements bare, prepared once for each text, and counts the rows read or written. */
export class Bare {
  readonly #db: Db
  readonly #statements = new Map<string, Statement>()

  constructor(db: Db) {
    this.#db = db
  }

  /** Prepares what will run, so that a measured run does not. */
  prepare(recorded: readonly Recorded[]): void {
    for (const step of recorded) this.#statementOf(step)
  }

  run(recorded: readonly Recorded[]): number {
    let rows = 0
    for (const step of recorded) {
      const statement = this.#statementOf(step)
      if (step.way === 'all') rows += statement.all(...step.values).length
      else if (step.way === 'get') rows += statement.get(...step.values) === undefined ? 0 : 1
      else rows += statement.run(...step.values).changes
    }
    return rows
  }

  /** The same as one write transaction, as the API writes. */
  runAsOne(recorded: readonly Recorded[]): number {
    return this.#db.transaction(() => this.run(recorded)).immediate()
  }

  #statementOf({ sql, plucked }: Recorded): Statement {
    const key = `${plucked} ${sql}`
    let statement = this.#statements.get(key)
    if (!statement) {
      statement = this.#db.prepare(sql)
      if (plucked) statement.pluck()
      this.#statements.set(key, statement)
    }
    return statement
  }
}
