import { type Writing, writeEvent } from './events.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { inOneTransaction, newId, prepared } from './statement.ts'

/** How far frames are finished, and what a frame costs: time in house, or a price where it is bought in. */
export interface FinishClass {
  readonly id: Id<'finish_class'>
  readonly name: string
  readonly inHouse: boolean
  /** Time per frame in house, in ms. */
  readonly frameMs: number
  /** Price of 100 frames where they are bought in, in minor units of the studio's currency. */
  readonly frameMinorPer100: number
  readonly supplier: string | null
}

export type FinishClassDraft = Omit<FinishClass, 'id'>

export function listFinishClasses(db: Db): readonly FinishClass[] {
  return prepared<[], Omit<FinishClass, 'inHouse'> & { inHouse: 0 | 1 }>(
    db,
    `SELECT id, name, in_house AS inHouse, frame_ms AS frameMs, frame_minor_per_100 AS frameMinorPer100, supplier
     FROM finish_class ORDER BY position, id`,
  )
    .all()
    .map((row) => ({ ...row, inHouse: row.inHouse === 1 }))
}

export function addFinishClass(writing: Writing, draft: FinishClassDraft): Id<'finish_class'> {
  const { db } = writing
  return inOneTransaction(db, () => {
    const id = newId<Id<'finish_class'>>(
      prepared<unknown[]>(
        db,
        `INSERT INTO finish_class (name, in_house, frame_ms, frame_minor_per_100, supplier, position)
         VALUES (?, ?, ?, ?, ?, (SELECT ifnull(max(position), 0) + 1 FROM finish_class))`,
      ).run(...values(draft)),
    )
    writeEvent(writing, {
      subject: 'finish class',
      subjectId: id,
      what: 'finish class added',
      detail: { ...draft },
    })
    return id
  })
}

export function changeFinishClass(writing: Writing, id: Id<'finish_class'>, draft: FinishClassDraft): void {
  const { db } = writing
  inOneTransaction(db, () => {
    prepared<unknown[]>(
      db,
      `UPDATE finish_class SET name = ?, in_house = ?, frame_ms = ?, frame_minor_per_100 = ?, supplier = ? WHERE id = ?`,
    ).run(...values(draft), id)
    writeEvent(writing, {
      subject: 'finish class',
      subjectId: id,
      what: 'finish class changed',
      detail: { ...draft },
    })
  })
}

function values(draft: FinishClassDraft): readonly unknown[] {
  return [draft.name, draft.inHouse ? 1 : 0, draft.frameMs, draft.frameMinorPer100, draft.supplier]
}
