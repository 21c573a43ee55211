import { type Writing, writeEvent } from './events.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { inOneTransaction, newId, prepared } from './statement.ts'

/** A turning surface. The rim is what its own tape reads where it comes round to its start. */
export interface Platter {
  readonly id: Id<'platter'>
  readonly name: string
  readonly rimUm10: number
  readonly divisionUm10: number
  /** The maker's load limit in g; null where it is not known. */
  readonly loadLimitG: number | null
  readonly surface: string | null
  readonly note: string | null
  readonly goneAt: string | null
}

export type PlatterDraft = Omit<Platter, 'id' | 'goneAt'>

const platterColumns = `platter.id, platter.name, platter.rim_um10 AS rimUm10, platter.division_um10 AS divisionUm10,
  platter.load_limit_g AS loadLimitG, platter.surface, platter.note, platter.gone_at AS goneAt`

export function findPlatter(db: Db, platterId: Id<'platter'>): Platter | undefined {
  return prepared<[number], Platter>(db, `SELECT ${platterColumns} FROM platter WHERE id = ?`).get(platterId)
}

/** A platter in the list, with how many rigs in use stand on it in their last revision. */
export type PlatterLine = Platter & { readonly rigs: number }

/** The platters in use, or those that are gone, by name. */
export function listPlatters(db: Db, gone: boolean): readonly PlatterLine[] {
  return prepared<[number], PlatterLine>(
    db,
    `SELECT ${platterColumns},
       (SELECT count(*) FROM rig JOIN rig_revision v ON v.rig_id = rig.id
          AND v.revision = (SELECT max(revision) FROM rig_revision WHERE rig_id = rig.id)
        WHERE v.platter_id = platter.id AND rig.archived_at IS NULL) AS rigs
     FROM platter WHERE (gone_at IS NOT NULL) = ? ORDER BY name COLLATE NOCASE`,
  ).all(gone ? 1 : 0)
}

export function addPlatter(writing: Writing, draft: PlatterDraft): Id<'platter'> {
  const { db } = writing
  return inOneTransaction(db, () => {
    const platterId = newId<Id<'platter'>>(
      prepared<unknown[]>(
        db,
        'INSERT INTO platter (name, rim_um10, division_um10, load_limit_g, surface, note) VALUES (?, ?, ?, ?, ?, ?)',
      ).run(...platterValues(draft)),
    )
    writeEvent(writing, {
      subject: 'platter',
      subjectId: platterId,
      what: 'platter added',
      detail: { ...draft },
    })
    return platterId
  })
}

/** Changes a platter from now on. Rig revisions that stand on it keep the rim and division they were written with. */
export function changePlatter(writing: Writing, platterId: Id<'platter'>, draft: PlatterDraft): void {
  const { db } = writing
  inOneTransaction(db, () => {
    const before = findPlatter(db, platterId)
    prepared<unknown[]>(
      db,
      `UPDATE platter SET name = ?, rim_um10 = ?, division_um10 = ?, load_limit_g = ?, surface = ?, note = ?
       WHERE id = ?`,
    ).run(...platterValues(draft), platterId)
    writeEvent(writing, {
      subject: 'platter',
      subjectId: platterId,
      what: 'platter changed',
      detail: { before, after: draft },
    })
  })
}

/** Takes a platter out of use or brings it back; rigs that stood on it keep it. */
export function retirePlatter(writing: Writing, platterId: Id<'platter'>, gone: boolean): void {
  inOneTransaction(writing.db, () => {
    prepared<[string | null, number]>(writing.db, 'UPDATE platter SET gone_at = ? WHERE id = ?').run(
      gone ? writing.now : null,
      platterId,
    )
    writeEvent(writing, {
      subject: 'platter',
      subjectId: platterId,
      what: gone ? 'platter taken out of use' : 'platter brought back',
    })
  })
}

function platterValues(draft: PlatterDraft): readonly unknown[] {
  return [draft.name, draft.rimUm10, draft.divisionUm10, draft.loadLimitG, draft.surface, draft.note]
}
