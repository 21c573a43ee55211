import { type Writing, writeEvent } from './events.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { inOneTransaction, newId, prepared } from './statement.ts'

/** Days on which a person does not work, both ends counted. */
export interface Absence {
  readonly id: Id<'person_absence'>
  readonly personId: Id<'person'>
  readonly person: string
  readonly fromDay: string
  readonly toDay: string
  readonly reason: string | null
}

/** People who turn and have not left, for a choice. */
export function peopleWhoTurn(db: Db): readonly { readonly id: Id<'person'>; readonly name: string }[] {
  return prepared<[], { id: Id<'person'>; name: string }>(
    db,
    'SELECT id, name FROM person WHERE left_at IS NULL AND turns = 1 ORDER BY id',
  ).all()
}

/** Absences that touch the days from one to another. */
export function absencesBetween(db: Db, fromDay: string, toDay: string): readonly Absence[] {
  return prepared<[string, string], Absence>(
    db,
    `SELECT a.id, a.person_id AS personId, person.name AS person, a.from_day AS fromDay, a.to_day AS toDay, a.reason
     FROM person_absence a JOIN person ON person.id = a.person_id
     WHERE a.to_day >= ? AND a.from_day <= ? ORDER BY a.from_day, a.id`,
  ).all(fromDay, toDay)
}

export function addAbsence(
  writing: Writing,
  draft: Omit<Absence, 'id' | 'person'>,
): { readonly absenceId: Id<'person_absence'> } {
  const { db } = writing
  return inOneTransaction(db, () => {
    const absenceId = newId<Id<'person_absence'>>(
      prepared<unknown[]>(
        db,
        'INSERT INTO person_absence (person_id, from_day, to_day, reason) VALUES (?, ?, ?, ?)',
      ).run(draft.personId, draft.fromDay, draft.toDay, draft.reason),
    )
    writeEvent(writing, {
      subject: 'person',
      subjectId: draft.personId,
      what: 'absence noted',
      detail: { ...draft },
    })
    return { absenceId }
  })
}

export function removeAbsence(writing: Writing, absenceId: Id<'person_absence'>): void {
  const { db } = writing
  inOneTransaction(db, () => {
    const before = prepared<[number], { personId: number; fromDay: string; toDay: string }>(
      db,
      'SELECT person_id AS personId, from_day AS fromDay, to_day AS toDay FROM person_absence WHERE id = ?',
    ).get(absenceId)
    if (!before) return
    prepared<[number]>(db, 'DELETE FROM person_absence WHERE id = ?').run(absenceId)
    writeEvent(writing, {
      subject: 'person',
      subjectId: before.personId,
      what: 'absence taken back',
      detail: before,
    })
  })
}
