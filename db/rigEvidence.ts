import type { Finish, Plan } from '../main/trade/product.ts'
import type { AnsweredKind, RigCandidate } from '../main/trade/rigRanking.ts'
import type { FaultKind } from '../main/trade/takes.ts'
import { grouped } from './grouped.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import type { Page } from './page.ts'
import { evidenceOf, findRig, type RigEvidence } from './rigs.ts'
import { prepared } from './statement.ts'

/** What a rig has to show for itself. A spin counts once per rig, by what its client last answered. */
export interface RigRecord extends RigEvidence {
  /** Answered spins by finish and size, the most answered first. */
  readonly kinds: readonly AnsweredKind[]
  readonly takes: number
  readonly rejectedTakes: number
  /** Faults of all its takes by kind, the most frequent first. */
  readonly faults: readonly { readonly kind: FaultKind; readonly faults: number }[]
}

/**
 * What worked on a rig, over all of its revisions. The denominator of its approval is its answered spins: those
 * of which a take on it was picked and to which the client said yes or wished a change. A standing yes counts
 * as one however often something was changed before; a change that the sample or the carrier caused counts
 * neither way; our own picks, and spins never answered, do not count. Undefined where there is no such rig.
 */
export function rigRecord(db: Db, rigId: Id<'rig'>): RigRecord | undefined {
  if (!findRig(db, rigId)) return undefined
  const takes = prepared<[number], { takes: number; rejected: number }>(
    db,
    `SELECT ifnull(sum((SELECT count(*) FROM take WHERE rig_revision_id = v.id)), 0) AS takes,
       ifnull(sum((SELECT count(*) FROM take WHERE rig_revision_id = v.id AND verdict = 'reject')), 0) AS rejected
     FROM rig_revision v WHERE v.rig_id = ?`,
  ).get(rigId)
  return {
    ...evidenceOf(db, rigId),
    kinds: kindsOf(db, rigId),
    takes: takes?.takes ?? 0,
    rejectedTakes: takes?.rejected ?? 0,
    faults: prepared<[number], RigRecord['faults'][number]>(
      db,
      'SELECT kind, faults FROM rig_fault WHERE rig_id = ? AND faults > 0 ORDER BY faults DESC, kind',
    ).all(rigId),
  }
}

const kindColumns = 'finish, size_step AS sizeStep, answered, approved, last_yes_at AS lastYesAt'

function kindsOf(db: Db, rigId: Id<'rig'>): readonly AnsweredKind[] {
  return prepared<[number], AnsweredKind>(
    db,
    `SELECT ${kindColumns} FROM rig_evidence WHERE rig_id = ? AND answered > 0
     ORDER BY answered DESC, finish, size_step`,
  ).all(rigId)
}

/** A product as a small picture of it is drawn or captioned. */
export interface PicturedProduct {
  readonly code: string
  readonly finish: Finish
  readonly plan: Plan
  readonly widthUm: number | null
  readonly depthUm: number | null
  readonly heightUm: number | null
  readonly sweptUm: number | null
  /** The take's own picture, else the product's; null where there is none of either. */
  readonly pictureSha256: string | null
}

/** One spin that a client said yes to on this rig. */
export interface ApprovedSpin extends PicturedProduct {
  readonly shootId: Id<'shoot'>
  readonly jobId: Id<'job'>
  readonly jobNumber: string
  readonly client: string
  readonly spin: string
  readonly revision: number
  readonly settingsId: Id<'settings'>
  readonly takeId: Id<'take'>
  readonly medianStepMs: number | null
  readonly answeredAt: string
}

/** Columns of PicturedProduct, where `take` and `product` are joined. */
export const picturedColumns = `product.code, product.finish, product.plan, product.width_um AS widthUm,
  product.depth_um AS depthUm, product.height_um AS heightUm, product.swept_um AS sweptUm,
  (SELECT sha256 FROM attachment WHERE id = ifnull((SELECT attachment_id FROM take_picture WHERE take_id = take.id),
    product.picture_id)) AS pictureSha256`

/** The product a spin is known by: of a set, the first. */
export const firstProduct = `product ON product.id = (SELECT sp.product_id FROM shoot_product sp
  WHERE sp.shoot_id = shoot.id ORDER BY sp.position, sp.product_id LIMIT 1)`

/** What was approved on a rig, the newest yes first, a page at a time; only the page's own rows are joined. */
export function approvedOnRig(db: Db, rigId: Id<'rig'>, page: Page): readonly ApprovedSpin[] {
  return prepared<[number, number, number], ApprovedSpin>(
    db,
    `SELECT r.shoot_id AS shootId, job.id AS jobId, job.number AS jobNumber, client.name AS client,
       shoot.name AS spin, v.revision, take.settings_id AS settingsId, take.id AS takeId,
       take.median_step_ms AS medianStepMs, r.answered_at AS answeredAt, ${picturedColumns}
     FROM (SELECT * FROM rig_approval WHERE rig_id = ? ORDER BY answered_at DESC, shoot_id DESC LIMIT ? OFFSET ?) r
     CROSS JOIN take ON take.id = r.take_id JOIN rig_revision v ON v.id = take.rig_revision_id
     JOIN shoot ON shoot.id = r.shoot_id JOIN job ON job.id = shoot.job_id JOIN client ON client.id = job.client_id
     JOIN ${firstProduct} ORDER BY r.answered_at DESC, r.shoot_id DESC`,
  ).all(rigId, page.limit, page.offset)
}

/** A rig in use, as it stands now, to be ranked for a product. */
export interface StandingRig extends RigCandidate {
  readonly rigId: Id<'rig'>
  readonly rigRevisionId: Id<'rig_revision'>
  readonly revision: number
  readonly name: string
  readonly platterId: Id<'platter'>
  readonly platterName: string
  /** The rim as its tape reads it, in tenths of a micrometre. */
  readonly rimUm10: number
}

/** Every rig in use whose newest revision stands on a platter in use, with what was answered on it. */
export function standingRigs(db: Db): readonly StandingRig[] {
  const kinds = grouped(
    prepared<[], AnsweredKind & { rigId: Id<'rig'> }>(
      db,
      `SELECT rig_id AS rigId, ${kindColumns} FROM rig_evidence WHERE answered > 0`,
    ).all(),
    ({ rigId }) => rigId,
  )
  return prepared<[], Omit<StandingRig, 'kinds'>>(
    db,
    `SELECT rig.id AS rigId, rig.name, rig.size_class AS sizeClass, v.id AS rigRevisionId, v.revision,
       platter.id AS platterId, platter.name AS platterName, v.rim_um10 AS rimUm10, platter.load_limit_g AS loadLimitG,
       (SELECT max((SELECT max(started_at) FROM take WHERE rig_revision_id = any_v.id))
        FROM rig_revision any_v WHERE any_v.rig_id = rig.id) AS lastUsedAt
     FROM rig JOIN rig_revision v ON v.rig_id = rig.id
       AND v.revision = (SELECT max(revision) FROM rig_revision WHERE rig_id = rig.id)
     JOIN platter ON platter.id = v.platter_id
     WHERE rig.archived_at IS NULL AND platter.gone_at IS NULL ORDER BY rig.id`,
  )
    .all()
    .map((rig) => ({ ...rig, kinds: kinds.get(rig.rigId) ?? [] }))
}

/** What a rig is looked for: a kind of product, its sizes, and all that it weighs on the platter. */
export interface ToBeSpun {
  readonly finish: Finish
  readonly sizeStep: number
  readonly plan: Plan
  readonly widthUm: number | null
  readonly depthUm: number | null
  readonly heightUm: number | null
  readonly sweptUm: number | null
  /** Null where something that stands on the platter is not weighed. */
  readonly loadG: number | null
  /** How many of the spins are of this kind, and of how many. */
  readonly alike: number
  readonly of: number
}

const spunColumns = `product.finish, product.size_step AS sizeStep, product.plan, product.width_um AS widthUm,
  product.depth_um AS depthUm, product.height_um AS heightUm, product.swept_um AS sweptUm`

/** A product alone on a platter. */
export function productToSpin(db: Db, productId: Id<'product'>): ToBeSpun | undefined {
  const row = prepared<[number], Omit<ToBeSpun, 'alike' | 'of'>>(
    db,
    `SELECT ${spunColumns}, product.load_g AS loadG FROM product WHERE id = ?`,
  ).get(productId)
  return row && { ...row, alike: 1, of: 1 }
}

/**
 * Spins that are to share a rig: the most frequent kind of their first products stands for all, and the heaviest
 * of them all for the load.
 */
export function spinsToTurn(db: Db, shootIds: readonly Id<'shoot'>[]): ToBeSpun | undefined {
  const rows = prepared<[string], Omit<ToBeSpun, 'alike' | 'of'>>(
    db,
    `SELECT ${spunColumns}, (SELECT CASE WHEN count(*) = count(p.load_g) THEN sum(p.load_g) END
       FROM shoot_product sp JOIN product p ON p.id = sp.product_id WHERE sp.shoot_id = shoot.id) AS loadG
     FROM json_each(?) AS chosen CROSS JOIN shoot ON shoot.id = chosen.value JOIN ${firstProduct}
     ORDER BY shoot.id`,
  ).all(JSON.stringify(shootIds))
  const kinds = [...grouped(rows, ({ finish, sizeStep }) => `${finish} ${sizeStep}`).values()]
  const most = kinds.reduce<readonly (typeof rows)[number][]>(
    (longest, kind) => (kind.length > longest.length ? kind : longest),
    [],
  )
  const [first] = most
  if (!first) return undefined
  const loads = rows.map(({ loadG }) => loadG)
  const heaviest = Math.max(0, ...loads.map((loadG) => loadG ?? 0))
  return {
    ...first,
    // What is weighed already rules a platter out; that the rest is not known is said where none is.
    loadG: heaviest === 0 && loads.includes(null) ? null : heaviest,
    alike: most.length,
    of: rows.length,
  }
}
