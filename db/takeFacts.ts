import { type Finish, type ProductSize, type SizeClass, sizeClassOf } from '../main/trade/product.ts'
import type { TakeFact } from '../main/trade/takeFact.ts'
import { grouped } from './grouped.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { handlingTimes, sizeLimitsMm } from './pace.ts'
import { prepared } from './statement.ts'

/** Where reading goes on: after the take that was read last. */
export interface TakePlace {
  readonly startedAt: string
  readonly takeId: number
}

interface TakeRow {
  readonly takeId: Id<'take'>
  readonly jobId: number
  readonly shootId: number
  readonly row: number
  readonly rows: number
  readonly rigId: number
  readonly rigRevisionId: number
  readonly settingsId: number
  readonly benchId: number
  readonly startedAt: string
  readonly endedAt: string
  readonly spanMs: number | null
  readonly pausedMs: number
  readonly framesShot: number
  readonly framesWanted: number
  readonly medianStepMs: number | null
  readonly verdict: 'keep' | 'reject' | null
  readonly reshoots: number
}

const columns = `take.id AS takeId, shoot.job_id AS jobId, take.shoot_id AS shootId, take.row,
  (SELECT count(*) FROM shoot_row r WHERE r.shoot_id = take.shoot_id) AS rows,
  rev.rig_id AS rigId, take.rig_revision_id AS rigRevisionId, take.settings_id AS settingsId, take.bench_id AS benchId,
  take.started_at AS startedAt, take.ended_at AS endedAt,
  ifnull((SELECT sum(unixepoch(p.resumed_at, 'subsec') - unixepoch(p.paused_at, 'subsec')) FROM take_pause p
    WHERE p.take_id = take.id AND p.resumed_at IS NOT NULL), 0) * 1000 AS pausedMs,
  (SELECT json_extract(l.offsets_ms, '$[#-1]') - json_extract(l.offsets_ms, '$[0]') FROM take_log l
    WHERE l.take_id = take.id) AS spanMs,
  take.frames_shot AS framesShot, take.frames_per_turn + take.overlap_frames AS framesWanted,
  take.median_step_ms AS medianStepMs, take.verdict,
  (SELECT count(*) FROM reshoot WHERE reshoot.shoot_id = take.shoot_id AND reshoot.asked_at <= take.started_at
    AND reshoot.cause <> 'client''s wish') AS reshoots`

// A CROSS JOIN keeps its order: the takes by their start, whatever the planner knows of the tables.
const from = `FROM take CROSS JOIN shoot ON shoot.id = take.shoot_id CROSS JOIN rig_revision rev ON rev.id = take.rig_revision_id`

/** What the newest ended takes tell, in the order of their start. */
export function newestTakeFacts(db: Db, count: number): readonly TakeFact[] {
  const factsOf = factReader(db)
  const rows = prepared<[number], TakeRow>(
    db,
    `SELECT ${columns} ${from} WHERE take.started_at > '' AND take.ended_at IS NOT NULL
     ORDER BY take.started_at DESC, take.id DESC LIMIT ?`,
  )
    .all(count)
    .reverse()
  return factsOf(rows)
}

/**
 * What all ended takes tell, in the order of their start, so many at a time: between two lots the studio can
 * answer others.
 */
export function* takeFacts(db: Db, atOnce: number): Generator<readonly TakeFact[], void, void> {
  const factsOf = factReader(db)
  let after: TakePlace = { startedAt: '', takeId: 0 }
  for (;;) {
    const rows = prepared<[string, number, number], TakeRow>(
      db,
      `SELECT ${columns} ${from} WHERE (take.started_at, take.id) > (?, ?) AND take.ended_at IS NOT NULL
       ORDER BY take.started_at, take.id LIMIT ?`,
    ).all(after.startedAt, after.takeId, atOnce)
    const last = rows.at(-1)
    if (!last) return
    yield factsOf(rows)
    after = last
  }
}

/** How many takes have ended. */
export function endedTakes(db: Db): number {
  return prepared<[], { count: number }>(
    db,
    'SELECT count(*) AS count FROM take WHERE ended_at IS NOT NULL',
  ).get()?.count as number
}

interface SpinProduct {
  readonly sizeClass: SizeClass
  readonly finish: Finish
  readonly familyId: number | null
}

/** Reads each spin's products once, those of a whole lot together. */
function factReader(db: Db): (rows: readonly TakeRow[]) => readonly TakeFact[] {
  const longestOf = longestProduct(db)
  const spins = new Map<number, SpinProduct>()
  return (rows) => {
    const unknown = new Set(rows.map(({ shootId }) => shootId).filter((id) => !spins.has(id)))
    for (const [shootId, products] of productsOf(db, [...unknown])) spins.set(shootId, longestOf(products))
    return rows.map(({ takeId: _, startedAt, endedAt, pausedMs, ...row }) => ({
      ...row,
      ...(spins.get(row.shootId) ?? noProduct),
      startedMs: Date.parse(startedAt),
      endedMs: Date.parse(endedAt),
      pausedMs: Math.round(pausedMs),
    }))
  }
}

/** What each of some spins is handled as: its size, finish and family. */
export function productsOfSpins(db: Db, shootIds: readonly number[]): (shootId: number) => SpinProduct {
  const longestOf = longestProduct(db)
  const products = productsOf(db, shootIds)
  return (shootId) => {
    const own = products.get(shootId)
    return own === undefined ? noProduct : longestOf(own)
  }
}

/** A spin without a product is told as a product of unknown size. */
const noProduct: SpinProduct = { sizeClass: 'medium', finish: 'matt', familyId: null }

/** Of several products that are spun together the one counts that takes longest by the studio's setting. */
function longestProduct(db: Db): (products: readonly ProductRow[]) => SpinProduct {
  const limits = sizeLimitsMm(db)
  const handling = new Map(
    handlingTimes(db).map((time) => [`${time.sizeClass} ${time.finish}`, time.firstMs]),
  )
  const firstMs = ({ sizeClass, finish }: SpinProduct) => handling.get(`${sizeClass} ${finish}`) ?? 0
  return (products) => {
    const [first = noProduct, ...others] = products.map((product) => ({
      sizeClass: sizeClassOf(product, limits.smallMaxMm, limits.mediumMaxMm),
      finish: product.finish,
      familyId: product.familyId,
    }))
    return others.reduce<SpinProduct>((a, b) => (firstMs(b) > firstMs(a) ? b : a), first)
  }
}

interface ProductRow extends ProductSize {
  readonly shootId: number
  readonly finish: Finish
  readonly familyId: number | null
}

function productsOf(db: Db, shootIds: readonly number[]): ReadonlyMap<number, readonly ProductRow[]> {
  const rows = prepared<[string], ProductRow>(
    db,
    `SELECT sp.shoot_id AS shootId, p.family_id AS familyId, p.finish, p.plan, p.width_um / 1000.0 AS widthMm,
       p.depth_um / 1000.0 AS depthMm, p.height_um / 1000.0 AS heightMm, p.swept_um / 1000.0 AS sweptMm
     FROM json_each(?) CROSS JOIN shoot_product sp ON sp.shoot_id = json_each.value
     CROSS JOIN product p ON p.id = sp.product_id`,
  ).all(JSON.stringify(shootIds))
  return grouped(rows, ({ shootId }) => shootId)
}
