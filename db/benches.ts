import type { Closure, Opening } from '../main/trade/bench.ts'
import { type Writing, writeEvent } from './events.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { refreshPromises } from './standing.ts'
import { inOneTransaction, newId, prepared } from './statement.ts'

/** A place to shoot, ours or at a client's. Opening hours are local to the studio's time zone. */
export interface Bench {
  readonly id: Id<'bench'>
  readonly name: string
  readonly place: 'ours' | 'client'
  readonly address: string | null
  readonly loadLimitG: number | null
  readonly goneAt: string | null
  readonly openings: readonly Opening[]
  /** Platters that can stand there; none named means any. */
  readonly platterIds: readonly Id<'platter'>[]
}

export type BenchDraft = Omit<Bench, 'id' | 'goneAt'>

/** A closure of the whole studio (no bench) or of one bench. */
export interface BenchClosure extends Closure {
  readonly id: Id<'closure'>
  readonly benchId: Id<'bench'> | null
}

type BenchRow = Omit<Bench, 'openings' | 'platterIds'>
const benchColumns = `id, name, place, address, load_limit_g AS loadLimitG, gone_at AS goneAt`

export function findBench(db: Db, benchId: Id<'bench'>): Bench | undefined {
  const row = prepared<[number], BenchRow>(db, `SELECT ${benchColumns} FROM bench WHERE id = ?`).get(benchId)
  return row && whole(db, row)
}

/** The benches in use, in their order; or those that are gone. */
export function listBenches(db: Db, gone = false): readonly Bench[] {
  return prepared<[number], BenchRow>(
    db,
    `SELECT ${benchColumns} FROM bench WHERE (gone_at IS NOT NULL) = ? ORDER BY position, id`,
  )
    .all(gone ? 1 : 0)
    .map((row) => whole(db, row))
}

function whole(db: Db, row: BenchRow): Bench {
  const openings = prepared<[number], Opening>(
    db,
    `SELECT weekday, from_minute AS fromMinute, to_minute AS toMinute FROM opening
     WHERE bench_id = ? ORDER BY weekday, from_minute`,
  ).all(row.id)
  const platters = prepared<[number], { id: Id<'platter'> }>(
    db,
    'SELECT platter_id AS id FROM bench_platter WHERE bench_id = ? ORDER BY platter_id',
  ).all(row.id)
  return { ...row, openings, platterIds: platters.map(({ id }) => id) }
}

/** Adds a bench after the others, with its opening hours and platters: all of it or nothing. */
export function addBench(writing: Writing, draft: BenchDraft): Id<'bench'> {
  const { db } = writing
  return inOneTransaction(db, () => {
    const benchId = newId<Id<'bench'>>(
      prepared<unknown[]>(
        db,
        `INSERT INTO bench (name, place, address, load_limit_g, position)
         VALUES (?, ?, ?, ?, (SELECT ifnull(max(position), 0) + 1 FROM bench))`,
      ).run(draft.name, draft.place, draft.address, draft.loadLimitG),
    )
    writeParts(db, benchId, draft)
    refreshPromises(writing)
    writeEvent(writing, {
      subject: 'bench',
      subjectId: benchId,
      what: 'bench added',
      detail: { name: draft.name },
    })
    return benchId
  })
}

/** Changes a bench and its hours from now on; blocks that are already booked stay where they are. */
export function changeBench(writing: Writing, benchId: Id<'bench'>, draft: BenchDraft): void {
  const { db } = writing
  inOneTransaction(db, () => {
    const before = findBench(db, benchId)
    prepared<unknown[]>(
      db,
      'UPDATE bench SET name = ?, place = ?, address = ?, load_limit_g = ? WHERE id = ?',
    ).run(draft.name, draft.place, draft.address, draft.loadLimitG, benchId)
    prepared<[number]>(db, 'DELETE FROM opening WHERE bench_id = ?').run(benchId)
    prepared<[number]>(db, 'DELETE FROM bench_platter WHERE bench_id = ?').run(benchId)
    writeParts(db, benchId, draft)
    refreshPromises(writing)
    writeEvent(writing, {
      subject: 'bench',
      subjectId: benchId,
      what: 'bench changed',
      detail: { before, after: draft },
    })
  })
}

/** Takes a bench out of use or brings it back. Its past bookings and takes stay. */
export function retireBench(writing: Writing, benchId: Id<'bench'>, gone: boolean): void {
  inOneTransaction(writing.db, () => {
    prepared<unknown[]>(writing.db, 'UPDATE bench SET gone_at = ? WHERE id = ?').run(
      gone ? writing.now : null,
      benchId,
    )
    refreshPromises(writing)
    writeEvent(writing, {
      subject: 'bench',
      subjectId: benchId,
      what: gone ? 'bench taken out of use' : 'bench brought back',
    })
  })
}

function writeParts(db: Db, benchId: Id<'bench'>, draft: BenchDraft): void {
  for (const { weekday, fromMinute, toMinute } of draft.openings) {
    prepared<unknown[]>(db, 'INSERT INTO opening VALUES (?, ?, ?, ?)').run(
      benchId,
      weekday,
      fromMinute,
      toMinute,
    )
  }
  for (const platterId of new Set(draft.platterIds)) {
    prepared<unknown[]>(db, 'INSERT INTO bench_platter VALUES (?, ?)').run(benchId, platterId)
  }
}

const closureColumns = 'id, bench_id AS benchId, from_day AS fromDay, to_day AS toDay, reason'

/** Closures that touch the days from one to another, of the whole studio and of every bench. */
export function closuresBetween(db: Db, fromDay: string, toDay: string): readonly BenchClosure[] {
  return prepared<[string, string], BenchClosure>(
    db,
    `SELECT ${closureColumns} FROM closure WHERE to_day >= ? AND from_day <= ? ORDER BY from_day, id`,
  ).all(fromDay, toDay)
}

/** Closes a bench, or with no bench the whole studio. Blocks already booked stay, for the person to move. */
export function addClosure(
  writing: Writing,
  draft: Omit<BenchClosure, 'id'>,
): { readonly closureId: Id<'closure'> } {
  const { db } = writing
  return inOneTransaction(db, () => {
    const closureId = newId<Id<'closure'>>(
      prepared<unknown[]>(
        db,
        'INSERT INTO closure (bench_id, from_day, to_day, reason) VALUES (?, ?, ?, ?)',
      ).run(draft.benchId, draft.fromDay, draft.toDay, draft.reason),
    )
    refreshPromises(writing)
    writeEvent(writing, {
      subject: 'closure',
      subjectId: closureId,
      what: 'closed',
      detail: { ...draft },
    })
    return { closureId }
  })
}

/** Opens again what a closure closed. */
export function removeClosure(writing: Writing, closureId: Id<'closure'>): void {
  const { db } = writing
  inOneTransaction(db, () => {
    const before = prepared<[number], BenchClosure>(
      db,
      `SELECT ${closureColumns} FROM closure WHERE id = ?`,
    ).get(closureId)
    if (!before) return
    prepared<[number]>(db, 'DELETE FROM closure WHERE id = ?').run(closureId)
    refreshPromises(writing)
    writeEvent(writing, {
      subject: 'closure',
      subjectId: closureId,
      what: 'opened again',
      detail: { ...before },
    })
  })
}
