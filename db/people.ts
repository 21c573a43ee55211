import { Refusal } from '../main/trade/refusal.ts'
import { type Absence, absencesBetween } from './absences.ts'
import { type Writing, writeEvent } from './events.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { inOneTransaction, newId, prepared } from './statement.ts'

/** What is said of a person: `turns` is true where they turn the platter; the hour in minor units. */
export interface PersonDraft {
  readonly name: string
  readonly role: string | null
  readonly hourMinor: number
  readonly turns: boolean
}

export interface Person extends PersonDraft {
  readonly id: Id<'person'>
  /** The instant they left the studio, or null while they work here. */
  readonly leftAt: string | null
  readonly absences: readonly Pick<Absence, 'id' | 'fromDay' | 'toDay' | 'reason'>[]
}

type PersonRow = Omit<Person, 'turns' | 'absences'> & { readonly turns: 0 | 1 }

const personColumns = 'id, name, role, hour_minor AS hourMinor, turns, left_at AS leftAt'

/** The name of a person of the studio. */
export function personName(db: Db, personId: Id<'person'>): string {
  const row = prepared<[number], { name: string }>(db, 'SELECT name FROM person WHERE id = ?').get(personId)
  if (!row) throw new Error(`There is no person ${personId}.`)
  return row.name
}

/** Everybody of the studio, those who left at the end, each with their absences that are not over on `today`. */
export function listPeople(db: Db, today: string): readonly Person[] {
  const absences = absencesBetween(db, today, '9999-12-31')
  return prepared<[], PersonRow>(
    db,
    `SELECT ${personColumns} FROM person ORDER BY left_at IS NOT NULL, name COLLATE NOCASE`,
  )
    .all()
    .map((row) => ({
      ...row,
      turns: row.turns === 1,
      absences: absences
        .filter(({ personId }) => personId === row.id)
        .map(({ id, fromDay, toDay, reason }) => ({ id, fromDay, toDay, reason })),
    }))
}

function thePerson(db: Db, personId: Id<'person'>): PersonRow {
  const row = prepared<[number], PersonRow>(db, `SELECT ${personColumns} FROM person WHERE id = ?`).get(
    personId,
  )
  if (!row) throw new Refusal('no-person', 'This person is not in the studio.')
  return row
}

/** Refuses a name that is taken: in the history two people of one name could not be told apart. */
function refuseTwin(db: Db, name: string, but: number): void {
  const twin = prepared<[string, number], { leftAt: string | null }>(
    db,
    'SELECT left_at AS leftAt FROM person WHERE name = ? AND id <> ?',
  ).get(name, but)
  if (!twin) return
  const sentence = twin.leftAt
    ? `${name} worked here and left. Note that they came back, or add a second name.`
    : `There is already a ${name} in the studio. Add a second name.`
  throw new Refusal('person-name-taken', sentence, { field: 'name' })
}

function writePersonEvent(writing: Writing, personId: Id<'person'>, what: string, detail?: object): void {
  writeEvent(writing, { subject: 'person', subjectId: personId, what, detail: { ...detail } })
}

/** Takes a person into the studio. Refuses a name that is taken. */
export function addPerson(writing: Writing, person: PersonDraft): Id<'person'> {
  const { db } = writing
  return inOneTransaction(db, () => {
    refuseTwin(db, person.name, 0)
    const personId = newId<Id<'person'>>(
      prepared<unknown[]>(db, 'INSERT INTO person (name, role, hour_minor, turns) VALUES (?, ?, ?, ?)').run(
        person.name,
        person.role,
        person.hourMinor,
        person.turns ? 1 : 0,
      ),
    )
    writePersonEvent(writing, personId, 'person added', { name: person.name })
    return personId
  })
}

/** Changes what is said of a person. Refuses a name that is taken. */
export function changePerson(writing: Writing, personId: Id<'person'>, person: PersonDraft): void {
  const { db } = writing
  inOneTransaction(db, () => {
    const before = thePerson(db, personId)
    refuseTwin(db, person.name, personId)
    prepared<unknown[]>(
      db,
      'UPDATE person SET name = ?, role = ?, hour_minor = ?, turns = ? WHERE id = ?',
    ).run(person.name, person.role, person.hourMinor, person.turns ? 1 : 0, personId)
    writePersonEvent(writing, personId, 'person changed', {
      from: { name: before.name, role: before.role, hourMinor: before.hourMinor, turns: before.turns === 1 },
      to: person,
    })
  })
}

/**
 * Notes that a person left, or that they are back; what they did stays theirs. Refuses somebody a device is
 * set to, because its changes would go on under their name.
 */
export function markLeft(writing: Writing, personId: Id<'person'>, left: boolean): void {
  const { db, now } = writing
  inOneTransaction(db, () => {
    const person = thePerson(db, personId)
    if ((person.leftAt !== null) === left) return
    const device = prepared<[number], { name: string }>(
      db,
      'SELECT name FROM device WHERE person_id = ? AND revoked_at IS NULL LIMIT 1',
    ).get(personId)
    if (left && device) {
      throw new Refusal(
        'person-at-work',
        `${device.name} is set to ${person.name}. Choose who works here instead, then note that ${person.name} left.`,
      )
    }
    prepared<unknown[]>(db, 'UPDATE person SET left_at = ? WHERE id = ?').run(left ? now : null, personId)
    writePersonEvent(writing, personId, left ? 'person left' : 'person came back', { name: person.name })
  })
}

/** Sets the asking device to a person: from the next call on, changes made there are theirs. */
export function workAs(writing: Writing, personId: Id<'person'>): void {
  const { db, who } = writing
  inOneTransaction(db, () => {
    const person = thePerson(db, personId)
    if (person.leftAt !== null) {
      throw new Refusal('person-left', `${person.name} left the studio. Choose somebody who works here.`, {
        field: 'personId',
      })
    }
    if (personId === who.personId) return
    prepared<[number, number]>(db, 'UPDATE device SET person_id = ? WHERE id = ?').run(personId, who.deviceId)
    writeEvent(writing, {
      subject: 'device',
      subjectId: who.deviceId,
      what: 'somebody else works here',
      detail: { name: person.name },
    })
  })
}
