import type { Finish, Plan } from '../main/trade/product.ts'
import { type Writing, writeEvent } from './events.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import type { Page } from './page.ts'
import { estimateJobsOf } from './productEffects.ts'
import { inOneTransaction, newId, prepared } from './statement.ts'

/** A thing to spin. Sizes in whole micrometres, mass in grams, value in minor units of the client's currency. */
export interface Product {
  readonly id: Id<'product'>
  readonly clientId: Id<'client'>
  readonly familyId: Id<'family'> | null
  /** The client's own code; no two products of one client share it. */
  readonly code: string
  readonly name: string
  readonly variant: string | null
  readonly widthUm: number | null
  readonly depthUm: number | null
  readonly heightUm: number | null
  readonly plan: Plan
  /** The swept width as measured; only where `plan` is 'measured'. */
  readonly sweptUm: number | null
  readonly massG: number | null
  /** What stands on the platter with it, in g: a stand, a bust, a prop. Null for nothing. */
  readonly standG: number | null
  readonly finish: Finish
  readonly gtin: string | null
  readonly valueMinor: number | null
  readonly startPose: string | null
  readonly handlingNote: string | null
  readonly pictureId: Id<'attachment'> | null
  readonly archivedAt: string | null
}

export type ProductDraft = Omit<Product, 'id' | 'clientId' | 'pictureId' | 'archivedAt'>

const productColumns = `product.id, product.client_id AS clientId, product.family_id AS familyId, product.code,
  product.name, product.variant, product.width_um AS widthUm, product.depth_um AS depthUm,
  product.height_um AS heightUm, product.plan, product.swept_um AS sweptUm, product.mass_g AS massG, product.stand_g AS standG, product.finish,
  product.gtin, product.value_minor AS valueMinor, product.start_pose AS startPose,
  product.handling_note AS handlingNote, product.picture_id AS pictureId, product.archived_at AS archivedAt`

export function findProduct(db: Db, productId: Id<'product'>): Product | undefined {
  return prepared<[number], Product>(db, `SELECT ${productColumns} FROM product WHERE id = ?`).get(productId)
}

/** The client's product of exactly this code, archived or not. */
export function productByCode(db: Db, clientId: Id<'client'>, code: string): Product | undefined {
  return prepared<[number, string], Product>(
    db,
    `SELECT ${productColumns} FROM product WHERE client_id = ? AND code = ?`,
  ).get(clientId, code)
}

/** Every product of a client, archived ones too, by its code. */
export function productsByCode(db: Db, clientId: Id<'client'>): ReadonlyMap<string, Product> {
  const rows = prepared<[number], Product>(
    db,
    `SELECT ${productColumns} FROM product WHERE client_id = ?`,
  ).all(clientId)
  return new Map(rows.map((row) => [row.code, row]))
}

/** One line of the list of products. */
export interface ProductLine extends Product {
  readonly clientName: string
  readonly familyName: string | null
  readonly spins: number
  readonly pictureSha256: string | null
}

/** Orders a list can be read in; fixed texts per name, so that no name from outside reaches the SQL. */
const productOrders = {
  code: ['product.code COLLATE NOCASE'],
  name: ['product.name COLLATE NOCASE'],
  client: ['client.name COLLATE NOCASE', 'product.code COLLATE NOCASE'],
  size: ['max(ifnull(product.width_um, 0), ifnull(product.depth_um, 0), ifnull(product.height_um, 0))'],
  newest: [],
} as const satisfies Record<string, readonly string[]>
export type ProductOrder = keyof typeof productOrders

/** Which products a list is about. */
export interface ProductFilter {
  readonly clientId: Id<'client'> | null
  readonly familyId: Id<'family'> | null
  /** Part of a code or name, three letters or more; fewer are taken as the beginning of a code. Empty for all. */
  readonly text: string
  readonly archived: boolean
}

/** A page of products, and how many match in all. */
export function listProducts(
  db: Db,
  filter: ProductFilter,
  order: ProductOrder,
  descending: boolean,
  page: Page,
): { readonly lines: readonly ProductLine[]; readonly total: number } {
  const { where, values } = conditionOf(filter)
  const way = descending ? 'DESC' : 'ASC'
  const terms = [...productOrders[order], 'product.id'].map((term) => `${term} ${way}`)
  // CROSS JOIN keeps the planner from reading the clients first and sorting everything after.
  const lines = prepared<unknown[], ProductLine>(
    db,
    `SELECT ${productColumns}, client.name AS clientName, family.name AS familyName,
       (SELECT count(*) FROM shoot_product sp WHERE sp.product_id = product.id) AS spins,
       attachment.sha256 AS pictureSha256
     FROM product CROSS JOIN client ON client.id = product.client_id
     LEFT JOIN family ON family.id = product.family_id
     LEFT JOIN attachment ON attachment.id = product.picture_id
     WHERE ${where} ORDER BY ${terms.join(', ')}
     LIMIT ? OFFSET ?`,
  ).all(...values, page.limit, page.offset)
  const total = prepared<unknown[], { n: number }>(
    db,
    `SELECT count(*) AS n FROM product WHERE ${where}`,
  ).get(...values)
  return { lines, total: total?.n ?? 0 }
}

/** The filter as SQL made of fixed texts alone, with the values to bind to it. */
function conditionOf(filter: ProductFilter): { where: string; values: readonly unknown[] } {
  const where = [filter.archived ? 'product.archived_at IS NOT NULL' : 'product.archived_at IS NULL']
  const values: unknown[] = []
  if (filter.clientId !== null) {
    where.push('product.client_id = ?')
    values.push(filter.clientId)
  }
  if (filter.familyId !== null) {
    where.push('product.family_id = ?')
    values.push(filter.familyId)
  }
  const text = filter.text.trim()
  if ([...text].length >= 3) {
    // The search index holds every three letters in a row; a phrase in quotes is found as it is typed.
    where.push(`product.id IN (SELECT ref FROM search WHERE search MATCH ? AND kind = 'product')`)
    values.push(`"${text.replaceAll('"', '""')}"`)
  } else if (text !== '') {
    where.push('product.code COLLATE NOCASE >= ? AND product.code COLLATE NOCASE < ?')
    values.push(text, `${text}\u{10ffff}`)
  }
  return { where: where.join(' AND '), values }
}

/** One spin that a product was or is in, with what is needed to say where it stands. */
export interface SpinOfProduct {
  readonly shootId: Id<'shoot'>
  readonly name: string
  readonly jobId: Id<'job'>
  readonly jobNumber: string
  readonly jobTitle: string
  readonly dueDay: string | null
  readonly cancelled: boolean
  /** The rig revision of its last kept take, as 'name, revision 3'; null before there is one. */
  readonly rig: string | null
}

/** The spins of a product, the newest job first; at most 200. */
export function spinsOfProduct(db: Db, productId: Id<'product'>): readonly SpinOfProduct[] {
  return prepared<[number], Omit<SpinOfProduct, 'cancelled'> & { cancelled: 0 | 1 }>(
    db,
    `SELECT shoot.id AS shootId, shoot.name, job.id AS jobId, job.number AS jobNumber, job.title AS jobTitle,
       job_standing.due_day AS dueDay,
       shoot.cancelled_at IS NOT NULL OR job.cancelled_at IS NOT NULL OR job.lost_at IS NOT NULL AS cancelled,
       (SELECT rig.name || ', revision ' || rig_revision.revision FROM take
          JOIN rig_revision ON rig_revision.id = take.rig_revision_id JOIN rig ON rig.id = rig_revision.rig_id
          WHERE take.shoot_id = shoot.id AND take.verdict = 'keep' ORDER BY take.number DESC LIMIT 1) AS rig
     FROM shoot_product JOIN shoot ON shoot.id = shoot_product.shoot_id JOIN job ON job.id = shoot.job_id
     LEFT JOIN job_standing ON job_standing.job_id = job.id
     WHERE shoot_product.product_id = ? ORDER BY job.id DESC, shoot.position LIMIT 200`,
  )
    .all(productId)
    .map((row) => ({ ...row, cancelled: row.cancelled === 1 }))
}

/** Adds a product to a client's list. */
export function addProduct(writing: Writing, clientId: Id<'client'>, draft: ProductDraft): Id<'product'> {
  return inOneTransaction(writing.db, () => {
    const productId = insertProduct(writing, clientId, draft)
    writeEvent(writing, {
      subject: 'product',
      subjectId: productId,
      clientId,
      what: 'product added',
      detail: { code: draft.code, name: draft.name },
    })
    return productId
  })
}

/** Writes the row alone. Call inside the caller's transaction, which writes the event. */
export function insertProduct(
  { db, now }: Writing,
  clientId: Id<'client'>,
  draft: ProductDraft,
): Id<'product'> {
  return newId<Id<'product'>>(
    prepared<unknown[]>(
      db,
      `INSERT INTO product (family_id, code, name, variant, width_um, depth_um, height_um, plan, swept_um, mass_g, stand_g,
         finish, gtin, value_minor, start_pose, handling_note, client_id, created_at)
       VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
    ).run(...productValues(draft), clientId, now),
  )
}

/** Changes a product; what it was is kept in the log. */
export function changeProduct(writing: Writing, before: Product, draft: ProductDraft): void {
  inOneTransaction(writing.db, () => {
    updateProduct(writing.db, before.id, draft)
    estimateJobsOf(writing, [before.id])
    writeEvent(writing, {
      subject: 'product',
      subjectId: before.id,
      clientId: before.clientId,
      what: 'product changed',
      detail: { before, after: draft },
    })
  })
}

/** Rewrites the row alone. Call inside the caller's transaction, which writes the event. */
export function updateProduct(db: Db, productId: Id<'product'>, draft: ProductDraft): void {
  prepared<unknown[]>(
    db,
    `UPDATE product SET family_id = ?, code = ?, name = ?, variant = ?, width_um = ?, depth_um = ?, height_um = ?,
       plan = ?, swept_um = ?, mass_g = ?, stand_g = ?, finish = ?, gtin = ?, value_minor = ?, start_pose = ?, handling_note = ?
     WHERE id = ?`,
  ).run(...productValues(draft), productId)
}

/** Takes a product off the lists or brings it back. Nothing of it is deleted. */
export function archiveProduct(writing: Writing, product: Product, archived: boolean): void {
  inOneTransaction(writing.db, () => {
    prepared<[string | null, number]>(writing.db, 'UPDATE product SET archived_at = ? WHERE id = ?').run(
      archived ? writing.now : null,
      product.id,
    )
    writeEvent(writing, {
      subject: 'product',
      subjectId: product.id,
      clientId: product.clientId,
      what: archived ? 'product taken off the list' : 'product brought back',
      detail: { code: product.code },
    })
  })
}

/** Sets or takes away the picture a product is known by; the file itself stays. */
export function setPicture(writing: Writing, product: Product, pictureId: Id<'attachment'> | null): void {
  inOneTransaction(writing.db, () => {
    prepared<[number | null, number]>(writing.db, 'UPDATE product SET picture_id = ? WHERE id = ?').run(
      pictureId,
      product.id,
    )
    writeEvent(writing, {
      subject: 'product',
      subjectId: product.id,
      clientId: product.clientId,
      what: pictureId === null ? 'picture taken away' : 'picture set',
      detail: { before: product.pictureId, after: pictureId },
    })
  })
}

function productValues(draft: ProductDraft): readonly unknown[] {
  return [
    draft.familyId,
    draft.code,
    draft.name,
    draft.variant,
    draft.widthUm,
    draft.depthUm,
    draft.heightUm,
    draft.plan,
    draft.sweptUm,
    draft.massG,
    draft.standG,
    draft.finish,
    draft.gtin,
    draft.valueMinor,
    draft.startPose,
    draft.handlingNote,
  ]
}
