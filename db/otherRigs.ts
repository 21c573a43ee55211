import { changeoverItems } from '../main/trade/changeover.ts'
import { shown } from '../main/trade/measures.ts'
import { otherRigCaution, partsThatDiffer, type YesOnRig } from '../main/trade/otherRig.ts'
import { type Finish, sizeClassOf, sweptWidthMm } from '../main/trade/product.ts'
import { type RankReason, rankRigs } from '../main/trade/rigRanking.ts'
import { platterDiameterMm } from '../main/trade/rigs.ts'
import type { Bench } from './benches.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { sizeLimitsMm, thePace } from './pace.ts'
import { type StandingRig, spinsToTurn, standingRigs } from './rigEvidence.ts'
import { isPlatterElsewhere, lackingAt, type RigNeeds, type RigTime } from './rigNeeds.ts'
import { findRevision, type RigRevision } from './rigRevisions.ts'
import { prepared } from './statement.ts'

/** A rig that spins could run on instead. */
export interface OtherRig {
  readonly rigId: Id<'rig'>
  readonly rigRevisionId: Id<'rig_revision'>
  readonly name: string
  readonly revision: number
  /** What clients answered to products like these on it; null where nothing. */
  readonly reason: RankReason | null
  /** In which parts it differs from the planned one; empty where they stand alike. */
  readonly differs: string
}

export interface OtherRigs {
  /** The best by evidence. */
  readonly offered: readonly OtherRig[]
  /** How many more could be chosen. */
  readonly more: number
  /** Why rigs that are in use were left out, a sentence each. */
  readonly leftOut: readonly string[]
  readonly finish: Finish
  readonly caution: string
  readonly hasYes: boolean
}

/** Spins that are to run together, and when. */
export interface RigWork {
  readonly shootIds: readonly Id<'shoot'>[]
  readonly rigRevisionId: Id<'rig_revision'>
  readonly rig: string
  /** Where a block is booked; null for spins that wait. */
  readonly bench: Bench | null
  /** Times at each of which the other rig must have all its parts. */
  readonly times: readonly RigTime[]
}

const mostOffered = 3

/** Finds other rigs for work; what many of these questions share is read once. */
export function otherRigsFinder(
  db: Db,
  needs: RigNeeds,
  outPlatterId: Id<'platter'> | null,
): (work: RigWork) => OtherRigs | null {
  const rigs = standingRigs(db)
  const limits = sizeLimitsMm(db)
  const pace = thePace(db)
  const revisions = new Map<Id<'rig_revision'>, RigRevision | undefined>()
  const revisionOf = (id: Id<'rig_revision'>) => {
    if (!revisions.has(id)) revisions.set(id, findRevision(db, id))
    return revisions.get(id)
  }
  return (work) => {
    const wanted = spinsToTurn(db, work.shootIds)
    const planned = revisionOf(work.rigRevisionId)
    if (!wanted || !planned) return null
    const leftOut: string[] = []
    const widest = widestSweptMm(db, work.shootIds)
    const free = rigs.filter((rig) => {
      if (rig.rigRevisionId === work.rigRevisionId) return false
      const why = whyNot(rig, work, needs, outPlatterId, widest)
      if (why !== null) leftOut.push(why)
      return why === null
    })
    const sizeClass = sizeClassOf(shown(wanted), limits.smallMaxMm, limits.mediumMaxMm)
    const { finish, sizeStep, loadG } = wanted
    const { offered, tooWeak } = rankRigs({ finish, sizeStep, sizeClass, loadG }, free)
    const yes = yesOnRig(db, work.shootIds, planned.rigId)
    return {
      offered: offered.slice(0, mostOffered).map(({ rig, reason }) => {
        const other = revisionOf(rig.rigRevisionId)
        return {
          rigId: rig.rigId,
          rigRevisionId: rig.rigRevisionId,
          name: rig.name,
          revision: rig.revision,
          reason,
          differs: other ? partsThatDiffer(changeoverItems(planned, other, false, pace)) : '',
        }
      }),
      more: Math.max(0, offered.length - mostOffered),
      leftOut: [
        ...leftOut,
        ...tooWeak.map(
          ({ name, platterName }) => `${name}: its platter, ${platterName}, does not carry them.`,
        ),
      ],
      finish,
      caution: otherRigCaution(yes, work.rig),
      hasYes: yes.spins > 0,
    }
  }
}

/** Why a rig cannot stand in, as a sentence; null where it can. */
function whyNot(
  rig: StandingRig,
  { bench, times }: RigWork,
  needs: RigNeeds,
  outPlatterId: Id<'platter'> | null,
  widestMm: number,
): string | null {
  if (rig.platterId === outPlatterId) return `${rig.name}: it stands on the same platter.`
  const across = platterDiameterMm(rig.rimUm10 / 10_000)
  if (widestMm > across) {
    return `${rig.name}: its platter is ${Math.floor(across)}\u00a0mm across, and the widest of them sweeps ${Math.ceil(widestMm)}\u00a0mm.`
  }
  if (bench && bench.platterIds.length > 0 && !bench.platterIds.includes(rig.platterId)) {
    return `${rig.name}: the platter ${rig.platterName} is not among those of ${bench.name}.`
  }
  for (const time of times) {
    const lacking = lackingAt(needs, rig.rigRevisionId, time)
    if (lacking !== null) return `${rig.name}: '${lacking}' is not here or on another bench then.`
    if (isPlatterElsewhere(needs, rig.platterId, time)) {
      return `${rig.name}: the platter ${rig.platterName} stands on another bench then.`
    }
  }
  return null
}

/** The widest that any product of these spins sweeps, in mm; 0 where none is measured. */
function widestSweptMm(db: Db, shootIds: readonly Id<'shoot'>[]): number {
  const sizes = prepared<
    [string],
    {
      plan: 'round' | 'box' | 'measured'
      widthMm: number | null
      depthMm: number | null
      heightMm: number | null
      sweptMm: number | null
    }
  >(
    db,
    `SELECT p.plan, p.width_um / 1000.0 AS widthMm, p.depth_um / 1000.0 AS depthMm, p.height_um / 1000.0 AS heightMm,
       p.swept_um / 1000.0 AS sweptMm FROM json_each(?) AS chosen CROSS JOIN shoot_product sp ON sp.shoot_id = chosen.value
     JOIN product p ON p.id = sp.product_id`,
  ).all(JSON.stringify(shootIds))
  return Math.max(0, ...sizes.map((size) => sweptWidthMm(size) ?? 0))
}

/** Which of these spins' families, products or jobs have the client's yes on a rig. */
function yesOnRig(db: Db, shootIds: readonly Id<'shoot'>[], rigId: Id<'rig'>): YesOnRig {
  const row = prepared<[string, number, number, number], { spins: number; family: string | null }>(
    db,
    `SELECT count(DISTINCT shoot.id) AS spins, min(family.name) AS family
     FROM json_each(?) AS chosen CROSS JOIN shoot ON shoot.id = chosen.value
     CROSS JOIN shoot_product sp ON sp.shoot_id = shoot.id JOIN product p ON p.id = sp.product_id
     LEFT JOIN family ON family.id = p.family_id
     WHERE EXISTS (SELECT 1 FROM product kin CROSS JOIN shoot_product ks ON ks.product_id = kin.id
         CROSS JOIN rig_approval r ON r.shoot_id = ks.shoot_id AND r.rig_id = ? WHERE kin.family_id = p.family_id)
       OR EXISTS (SELECT 1 FROM shoot_product ks CROSS JOIN rig_approval r ON r.shoot_id = ks.shoot_id AND r.rig_id = ?
         WHERE ks.product_id = p.id)
       OR EXISTS (SELECT 1 FROM shoot other CROSS JOIN rig_approval r ON r.shoot_id = other.id AND r.rig_id = ?
         WHERE other.job_id = shoot.job_id)`,
  ).get(JSON.stringify(shootIds), rigId, rigId, rigId)
  return row ?? { spins: 0, family: null }
}
