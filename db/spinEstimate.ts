import { runMeansMs, spinMeanMs } from '../main/trade/estimate.ts'
import type { BenchPeople, Pace } from '../main/trade/pace.ts'
import { type Finish, type ProductSize, sizeClassOf } from '../main/trade/product.ts'
import type { SpinWork } from '../main/trade/spinCost.ts'
import type { RowFrames } from '../main/trade/turn/framesToShoot.ts'
import { grouped } from './grouped.ts'
import type { Id } from './ids.ts'
import { learnedPace } from './learnedPace.ts'
import type { Db } from './open.ts'
import { sizeLimitsMm, studioFigures } from './pace.ts'
import { prepared } from './statement.ts'

/**
 * Works out and keeps the mean bench time of each spin of a job (means add up to the job's), by as many people as the
 * accepted quote counts on, else as usually work at the bench. A set of several products counts by the one that takes
 * longest. Call it in the transaction that changes the rows, products, rigs or order of spins.
 */
export function estimateSpins(db: Db, jobId: Id<'job'>): void {
  const { pace } = learnedPace(db)
  const longestOf = longestWork(db)
  const familiesSeen = new Set<number>()
  const rowsOf = rowsBySpin(db, jobId)
  const spins: { readonly shootId: number; readonly work: SpinWork }[] = []
  for (const [shootId, products] of productsBySpin(db, jobId)) {
    spins.push({ shootId, work: longestOf(products, familiesSeen, rowsOf.get(shootId) ?? []) })
    for (const { familyId } of products) if (familyId !== null) familiesSeen.add(familyId)
  }
  const means = runMeansMs(
    spins.map(({ work }) => work),
    pace,
    benchPeopleOf(db, jobId),
  )
  const write = prepared<[number, number]>(db, 'UPDATE shoot SET estimate_ms = ? WHERE id = ?')
  spins.forEach(({ shootId }, k) => {
    write.run(means[k] ?? 0, shootId)
  })
}

function benchPeopleOf(db: Db, jobId: Id<'job'>): BenchPeople {
  const sold = prepared<[number], { people: BenchPeople }>(
    db,
    `SELECT people FROM quote WHERE job_id = ? AND state = 'accepted'`,
  ).get(jobId)
  return sold?.people ?? studioFigures(db).benchPeople
}

/** What a spin asks of the bench, by the studio's figures and what its takes have taught. */
function longestWork(db: Db) {
  const { pace, stepFactors } = learnedPace(db)
  const limits = sizeLimitsMm(db)
  const setChangeMs = wholeSetMs(pace)
  return (
    products: readonly ProductRow[],
    familiesSeen: ReadonlySet<number>,
    rows: readonly RowFrames[],
  ): SpinWork => {
    const all = products.map(
      (product): SpinWork => ({
        sizeClass: sizeClassOf(product, limits.smallMaxMm, limits.mediumMaxMm),
        finish: product.finish,
        // A product without a family is prepared on its own, as the first of one.
        isFirstOfFamily: product.familyId === null || !familiesSeen.has(product.familyId),
        rows,
        setChangeMs,
        stepFactor: stepFactors.get(product.rigId ?? 0) ?? 1,
      }),
    )
    const [first, ...others] = all
    if (!first) throw new Error('A spin without a product has no time.')
    return others.reduce((a, b) => (spinMeanMs(b, pace) > spinMeanMs(a, pace) ? b : a), first)
  }
}

/** Building a set again after it is gone: every part once and one light, since the rig may not be chosen yet. */
export function wholeSetMs(pace: Pace): number {
  return (
    pace.changePlatterMs +
    pace.changeLightMs +
    pace.changeCameraMs +
    pace.changeLensMs +
    pace.changeBackdropMs +
    pace.changeSettingsMs
  )
}

interface ProductRow extends ProductSize {
  readonly shootId: number
  readonly familyId: number | null
  readonly finish: Finish
  readonly rigId: number | null
}

function productsBySpin(db: Db, jobId: Id<'job'>): ReadonlyMap<number, readonly ProductRow[]> {
  const rows = prepared<[number], ProductRow>(
    db,
    `SELECT s.id AS shootId, p.family_id AS familyId, p.finish, v.rig_id AS rigId, p.plan, p.width_um / 1000.0 AS widthMm,
       p.depth_um / 1000.0 AS depthMm, p.height_um / 1000.0 AS heightMm, p.swept_um / 1000.0 AS sweptMm
     FROM shoot s JOIN shoot_product sp ON sp.shoot_id = s.id JOIN product p ON p.id = sp.product_id
       LEFT JOIN rig_revision v ON v.id = s.rig_revision_id
     WHERE s.job_id = ? AND s.cancelled_at IS NULL ORDER BY s.position, sp.position`,
  ).all(jobId)
  return grouped(rows, ({ shootId }) => shootId)
}

function rowsBySpin(db: Db, jobId: Id<'job'>): ReadonlyMap<number, readonly RowFrames[]> {
  const rows = prepared<[number], { shootId: number; frames: number; overlap: number }>(
    db,
    `SELECT r.shoot_id AS shootId, r.frames_per_turn AS frames, r.overlap_frames AS overlap
     FROM shoot s JOIN shoot_row r ON r.shoot_id = s.id WHERE s.job_id = ? ORDER BY r.shoot_id, r.row`,
  ).all(jobId)
  const bySpin = grouped(rows, ({ shootId }) => shootId)
  return new Map(
    [...bySpin].map(([shootId, each]) => [shootId, each.map(({ frames, overlap }) => ({ frames, overlap }))]),
  )
}
