import { type Writing, writeEvent } from './events.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import type { Page } from './page.ts'
import { estimateJobsOf } from './productEffects.ts'
import { inOneTransaction, newId, prepared } from './statement.ts'

/** Variants of one shape, which share placing, rig, settings, crop and start pose. */
export interface Family {
  readonly id: Id<'family'>
  readonly clientId: Id<'client'>
  readonly name: string
  /** The rig and settings the next of the family is to match; null until a spin of it has its yes. */
  readonly rigRevisionId: Id<'rig_revision'> | null
  readonly settingsId: Id<'settings'> | null
  readonly note: string | null
}

export type FamilyDraft = Omit<Family, 'id' | 'clientId'>

/** A family with what a list or page says of it. */
export interface FamilyLine extends Family {
  readonly clientName: string
  readonly products: number
  /** As 'name, revision 3'. */
  readonly rig: string | null
}

const familyLine = `SELECT family.id, family.client_id AS clientId, family.name,
    family.rig_revision_id AS rigRevisionId, family.settings_id AS settingsId, family.note,
    client.name AS clientName,
    (SELECT count(*) FROM product WHERE product.family_id = family.id AND product.archived_at IS NULL) AS products,
    (SELECT rig.name || ', revision ' || rig_revision.revision FROM rig_revision
       JOIN rig ON rig.id = rig_revision.rig_id WHERE rig_revision.id = family.rig_revision_id) AS rig
  FROM family JOIN client ON client.id = family.client_id`

export function findFamily(db: Db, familyId: Id<'family'>): FamilyLine | undefined {
  return prepared<[number], FamilyLine>(db, `${familyLine} WHERE family.id = ?`).get(familyId)
}

/** A page of a client's families by name, and how many there are. */
export function listFamilies(
  db: Db,
  clientId: Id<'client'>,
  page: Page,
): { readonly lines: readonly FamilyLine[]; readonly total: number } {
  const lines = prepared<[number, number, number], FamilyLine>(
    db,
    `${familyLine} WHERE family.client_id = ? ORDER BY family.name COLLATE NOCASE LIMIT ? OFFSET ?`,
  ).all(clientId, page.limit, page.offset)
  const total = prepared<[number], { n: number }>(
    db,
    'SELECT count(*) AS n FROM family WHERE client_id = ?',
  ).get(clientId)
  return { lines, total: total?.n ?? 0 }
}

/** A client's families by name alone, for a choice. */
export function familyNames(
  db: Db,
  clientId: Id<'client'>,
): readonly { readonly id: Id<'family'>; readonly name: string }[] {
  return prepared<[number], { id: Id<'family'>; name: string }>(
    db,
    'SELECT id, name FROM family WHERE client_id = ? ORDER BY name COLLATE NOCASE',
  ).all(clientId)
}

/** Adds a family to a client. */
export function addFamily(writing: Writing, clientId: Id<'client'>, draft: FamilyDraft): Id<'family'> {
  return inOneTransaction(writing.db, () => {
    const familyId = newId<Id<'family'>>(
      prepared<unknown[]>(
        writing.db,
        'INSERT INTO family (name, rig_revision_id, settings_id, note, client_id) VALUES (?, ?, ?, ?, ?)',
      ).run(...familyValues(draft), clientId),
    )
    writeEvent(writing, {
      subject: 'family',
      subjectId: familyId,
      clientId,
      what: 'family added',
      detail: { name: draft.name },
    })
    return familyId
  })
}

/** Changes a family; its products follow it. */
export function changeFamily(writing: Writing, before: Family, draft: FamilyDraft): void {
  inOneTransaction(writing.db, () => {
    prepared<unknown[]>(
      writing.db,
      'UPDATE family SET name = ?, rig_revision_id = ?, settings_id = ?, note = ? WHERE id = ?',
    ).run(...familyValues(draft), before.id)
    writeEvent(writing, {
      subject: 'family',
      subjectId: before.id,
      clientId: before.clientId,
      what: 'family changed',
      detail: { before, after: draft },
    })
  })
}

/** Breaks up a family: its products stay and belong to none. */
export function breakUpFamily(writing: Writing, family: Family): void {
  inOneTransaction(writing.db, () => {
    const products = prepared<[number], { id: Id<'product'> }>(
      writing.db,
      'UPDATE product SET family_id = NULL WHERE family_id = ? RETURNING id',
    ).all(family.id)
    prepared<[number]>(writing.db, 'DELETE FROM family WHERE id = ?').run(family.id)
    estimateJobsOf(
      writing,
      products.map(({ id }) => id),
    )
    writeEvent(writing, {
      subject: 'family',
      subjectId: family.id,
      clientId: family.clientId,
      what: 'family broken up',
      detail: { before: family, products: products.map(({ id }) => id) },
    })
  })
}

/** Puts products into a family, or with null takes them out of theirs. All are of the family's client. */
export function placeInFamily(
  writing: Writing,
  productIds: readonly Id<'product'>[],
  family: Family | null,
): void {
  const { db } = writing
  inOneTransaction(db, () => {
    for (const productId of productIds) {
      const product = prepared<[number], { clientId: Id<'client'>; familyId: number | null }>(
        db,
        'SELECT client_id AS clientId, family_id AS familyId FROM product WHERE id = ?',
      ).get(productId)
      if (!product) throw new Error(`There is no product ${productId}.`)
      prepared<[number | null, number]>(db, 'UPDATE product SET family_id = ? WHERE id = ?').run(
        family?.id ?? null,
        productId,
      )
      writeEvent(writing, {
        subject: 'product',
        subjectId: productId,
        clientId: product.clientId,
        what: family ? 'put into a family' : 'taken out of its family',
        detail: { before: product.familyId, after: family?.id ?? null },
      })
    }
    estimateJobsOf(writing, productIds)
  })
}

function familyValues(draft: FamilyDraft): readonly unknown[] {
  return [draft.name, draft.rigRevisionId, draft.settingsId, draft.note]
}
