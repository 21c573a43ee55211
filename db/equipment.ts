import { Refusal } from '../main/trade/refusal.ts'
import { type Writing, writeEvent } from './events.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { inOneTransaction, newId, prepared } from './statement.ts'

export const equipmentKinds = [
  'light',
  'modifier',
  'camera',
  'lens',
  'stand',
  'backdrop',
  'prop',
  'other',
] as const
export type EquipmentKind = (typeof equipmentKinds)[number]

/** A thing the bench needs that can be away; `count` of it are alike. */
export interface Equipment {
  readonly id: Id<'equipment'>
  readonly name: string
  readonly kind: EquipmentKind
  readonly count: number
  /** What a day of it costs, in minor units of the studio's currency. */
  readonly dayMinor: number
  readonly note: string | null
  readonly goneAt: string | null
}

export type EquipmentDraft = Omit<Equipment, 'id' | 'goneAt'>

/** Days on which it is not here, both ends counted; without a last day it is open how long. */
export interface Outage {
  readonly id: Id<'equipment_outage'>
  readonly equipmentId: Id<'equipment'>
  readonly kind: 'away' | 'repair'
  readonly fromDay: string
  readonly toDay: string | null
  readonly reason: string | null
}

export type OutageDraft = Omit<Outage, 'id'>

const equipmentColumns = `id, name, kind, count, day_minor AS dayMinor, note, gone_at AS goneAt`
const outageColumns = `id, equipment_id AS equipmentId, kind, from_day AS fromDay, to_day AS toDay, reason`

export function findEquipment(db: Db, equipmentId: Id<'equipment'>): Equipment | undefined {
  return prepared<[number], Equipment>(db, `SELECT ${equipmentColumns} FROM equipment WHERE id = ?`).get(
    equipmentId,
  )
}

/** The equipment in use (or gone), by kind and name, each with its outages that are not over by `today`. */
export function listEquipment(
  db: Db,
  today: string,
  gone: boolean,
): readonly (Equipment & { readonly outages: readonly Outage[] })[] {
  return prepared<[number], Equipment>(
    db,
    `SELECT ${equipmentColumns} FROM equipment WHERE (gone_at IS NOT NULL) = ? ORDER BY kind, name COLLATE NOCASE`,
  )
    .all(gone ? 1 : 0)
    .map((row) => ({ ...row, outages: outagesFrom(db, row.id, today) }))
}

/** Outages of a thing that end on the day or later, the earliest first. */
export function outagesFrom(db: Db, equipmentId: Id<'equipment'>, day: string): readonly Outage[] {
  return prepared<[number, string], Outage>(
    db,
    `SELECT ${outageColumns} FROM equipment_outage
     WHERE equipment_id = ? AND (to_day IS NULL OR to_day >= ?) ORDER BY from_day`,
  ).all(equipmentId, day)
}

/** Outages of a thing on a day, that without a known end first: each is of one piece. */
export function outagesOn(db: Db, equipmentId: Id<'equipment'>, day: string): readonly Outage[] {
  return prepared<[number, string, string], Outage>(
    db,
    `SELECT ${outageColumns} FROM equipment_outage
     WHERE equipment_id = ? AND from_day <= ? AND (to_day IS NULL OR to_day >= ?)
     ORDER BY to_day IS NULL DESC, to_day DESC`,
  ).all(equipmentId, day, day)
}

export function addEquipment(writing: Writing, draft: EquipmentDraft): Id<'equipment'> {
  const { db } = writing
  return inOneTransaction(db, () => {
    const equipmentId = newId<Id<'equipment'>>(
      prepared<unknown[]>(
        db,
        'INSERT INTO equipment (name, kind, count, day_minor, note) VALUES (?, ?, ?, ?, ?)',
      ).run(draft.name, draft.kind, draft.count, draft.dayMinor, draft.note),
    )
    tell(writing, equipmentId, 'equipment added', { ...draft })
    return equipmentId
  })
}

export function changeEquipment(writing: Writing, equipmentId: Id<'equipment'>, draft: EquipmentDraft): void {
  const { db } = writing
  inOneTransaction(db, () => {
    const before = findEquipment(db, equipmentId)
    prepared<unknown[]>(
      db,
      'UPDATE equipment SET name = ?, kind = ?, count = ?, day_minor = ?, note = ? WHERE id = ?',
    ).run(draft.name, draft.kind, draft.count, draft.dayMinor, draft.note, equipmentId)
    tell(writing, equipmentId, 'equipment changed', { before, after: draft })
  })
}

/** Takes a thing out of use or brings it back; rigs that used it keep saying so. */
export function retireEquipment(writing: Writing, equipmentId: Id<'equipment'>, gone: boolean): void {
  inOneTransaction(writing.db, () => {
    prepared<unknown[]>(writing.db, 'UPDATE equipment SET gone_at = ? WHERE id = ?').run(
      gone ? writing.now : null,
      equipmentId,
    )
    tell(writing, equipmentId, gone ? 'equipment taken out of use' : 'equipment brought back', {})
  })
}

/** Says that one piece of a thing is away or in repair. Bookings that need it then stay, and say so on the bench plan. */
export function addOutage(writing: Writing, draft: OutageDraft): Id<'equipment_outage'> {
  const { db } = writing
  return inOneTransaction(db, () => {
    const outageId = newId<Id<'equipment_outage'>>(
      prepared<unknown[]>(
        db,
        'INSERT INTO equipment_outage (equipment_id, kind, from_day, to_day, reason) VALUES (?, ?, ?, ?, ?)',
      ).run(draft.equipmentId, draft.kind, draft.fromDay, draft.toDay, draft.reason),
    )
    tell(writing, draft.equipmentId, draft.kind === 'repair' ? 'sent to repair' : 'lent away', { ...draft })
    return outageId
  })
}

/** Sets the last day of an outage: the thing is back the day after. Refuses a day before its first. */
export function endOutage(writing: Writing, outageId: Id<'equipment_outage'>, toDay: string): void {
  const { db } = writing
  inOneTransaction(db, () => {
    const outage = prepared<[number], Outage>(
      db,
      `SELECT ${outageColumns} FROM equipment_outage WHERE id = ?`,
    ).get(outageId)
    if (!outage) throw new Refusal('no-outage', 'This outage is not in the studio.')
    if (toDay < outage.fromDay) {
      throw new Refusal(
        'outage-ends-early',
        `It went on ${outage.fromDay}, so its last day away cannot be ${toDay}. Enter that day or a later one.`,
        { field: 'toDay' },
      )
    }
    prepared<unknown[]>(db, 'UPDATE equipment_outage SET to_day = ? WHERE id = ?').run(toDay, outageId)
    tell(writing, outage.equipmentId, 'outage ends', { toDay })
  })
}

function tell(
  writing: Writing,
  equipmentId: Id<'equipment'>,
  what: string,
  detail: Readonly<Record<string, unknown>>,
): void {
  writeEvent(writing, { subject: 'equipment', subjectId: equipmentId, what, detail })
}
