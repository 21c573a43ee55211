import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { prepared } from './statement.ts'

/** The name of a person of the studio. */
export function personName(db: Db, personId: Id<'person'>): string {
  const row = prepared<[number], { name: string }>(db, 'SELECT name FROM person WHERE id = ?').get(personId)
  if (!row) throw new Error(`There is no person ${personId}.`)
  return row.name
}
