import type { BlockOnOtherRig } from '../main/trade/blockRig.ts'
import { formatDecimal } from '../main/trade/decimal.ts'
import { Refusal } from '../main/trade/refusal.ts'
import { letBlocksFollow } from './blockRigs.ts'
import { type Writing, writeEvent } from './events.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { estimateSpins } from './spinEstimate.ts'
import { refreshStanding } from './standing.ts'
import { inOneTransaction, prepared } from './statement.ts'

/** A spin of a job with the rig and settings it is planned on, and what its family would give. */
export interface PlannedSpin {
  readonly shootId: Id<'shoot'>
  readonly position: number
  readonly name: string
  readonly isFirst: boolean
  readonly estimateMs: number
  readonly rigRevisionId: Id<'rig_revision'> | null
  readonly rigName: string | null
  readonly revision: number | null
  readonly settingsId: Id<'settings'> | null
  readonly familyName: string | null
  readonly familyRigRevisionId: Id<'rig_revision'> | null
  readonly familyRigName: string | null
  readonly familySettingsId: Id<'settings'> | null
  /** Mass of all its products in g; null where one of them is not weighed. */
  readonly massG: number | null
  readonly rows: readonly {
    readonly viewAngleMdeg: number
    readonly framesPerTurn: number
    readonly overlapFrames: number
  }[]
}

type PlannedRow = Omit<PlannedSpin, 'isFirst' | 'rows'> & { readonly isFirst: 0 | 1 }

const plannedColumns = `shoot.id AS shootId, shoot.position, shoot.name, shoot.is_first AS isFirst,
  shoot.estimate_ms AS estimateMs, shoot.rig_revision_id AS rigRevisionId, rig.name AS rigName, v.revision,
  shoot.settings_id AS settingsId, family.name AS familyName, family.rig_revision_id AS familyRigRevisionId,
  family_rig.name AS familyRigName, family.settings_id AS familySettingsId,
  (SELECT CASE WHEN count(*) = count(p.load_g) THEN sum(p.load_g) END
   FROM shoot_product sp JOIN product p ON p.id = sp.product_id WHERE sp.shoot_id = shoot.id) AS massG`
/** Of a set, the first product's family counts. */
const plannedFrom = `FROM shoot
  LEFT JOIN rig_revision v ON v.id = shoot.rig_revision_id LEFT JOIN rig ON rig.id = v.rig_id
  LEFT JOIN product ON product.id = (SELECT product_id FROM shoot_product WHERE shoot_id = shoot.id ORDER BY position LIMIT 1)
  LEFT JOIN family ON family.id = product.family_id
  LEFT JOIN rig_revision fv ON fv.id = family.rig_revision_id LEFT JOIN rig family_rig ON family_rig.id = fv.rig_id`

/** The spins of a job that are not cancelled, with their planned rigs and settings. */
export function plannedSpins(db: Db, jobId: Id<'job'>): readonly PlannedSpin[] {
  return prepared<[number], PlannedRow>(
    db,
    `SELECT ${plannedColumns} ${plannedFrom}
     WHERE shoot.job_id = ? AND shoot.cancelled_at IS NULL ORDER BY shoot.position`,
  )
    .all(jobId)
    .map((row) => ({
      ...row,
      isFirst: row.isFirst === 1,
      rows: prepared<[number], PlannedSpin['rows'][number]>(
        db,
        `SELECT view_angle_mdeg AS viewAngleMdeg, frames_per_turn AS framesPerTurn, overlap_frames AS overlapFrames
         FROM shoot_row WHERE shoot_id = ? ORDER BY row`,
      ).all(row.shootId),
    }))
}

/** What spins are planned on. A part left undefined is taken from each spin's family. */
export interface RigPlanDraft {
  readonly shootIds: readonly Id<'shoot'>[]
  readonly rigRevisionId?: Id<'rig_revision'> | undefined
  readonly settingsId?: Id<'settings'> | undefined
}

export interface RigPlanned {
  readonly planned: number
  /** Names of spins whose family knows no rig yet; they stay as they were. */
  readonly withoutFamilyRig: readonly string[]
  /** Blocks to come that followed their spins to another rig, or that spins left. */
  readonly blocks: readonly BlockOnOtherRig[]
}

/**
 * Plans a rig and settings for spins: those named, or for each spin its family's, which the client's yes
 * taught. Blocks to come follow their spins (see `letBlocksFollow`). All of it or nothing.
 * Refuses a spin that is not in the studio or is cancelled, and one whose products together are heavier than
 * the platter's load limit; that is for the maker to say and cannot be overruled.
 */
export function planRig(writing: Writing, draft: RigPlanDraft): RigPlanned {
  const { db } = writing
  return inOneTransaction(db, () => {
    const jobs = new Map<Id<'job'>, number>()
    const withoutFamilyRig: string[] = []
    for (const shootId of new Set(draft.shootIds)) {
      const spin = spinToPlan(db, shootId)
      const rigRevisionId = draft.rigRevisionId ?? spin.familyRigRevisionId
      if (rigRevisionId === null) {
        withoutFamilyRig.push(spin.name)
        continue
      }
      const settingsId = draft.settingsId ?? (draft.rigRevisionId ? spin.settingsId : spin.familySettingsId)
      checkLoad(db, shootId, rigRevisionId)
      prepared<unknown[]>(db, 'UPDATE shoot SET rig_revision_id = ?, settings_id = ? WHERE id = ?').run(
        rigRevisionId,
        settingsId,
        shootId,
      )
      jobs.set(spin.jobId, (jobs.get(spin.jobId) ?? 0) + 1)
    }
    const blocks = letBlocksFollow(writing, draft.shootIds)
    for (const [jobId, spins] of jobs) {
      writeEvent(writing, {
        subject: 'job',
        subjectId: jobId,
        jobId,
        what: 'rig planned',
        detail: {
          spins,
          rigRevisionId: draft.rigRevisionId ?? null,
          settingsId: draft.settingsId ?? null,
        },
      })
      // A rig turns at its own pace.
      estimateSpins(db, jobId)
      refreshStanding(writing, jobId)
    }
    return { planned: [...jobs.values()].reduce((sum, n) => sum + n, 0), withoutFamilyRig, blocks }
  })
}

function spinToPlan(
  db: Db,
  shootId: Id<'shoot'>,
): PlannedRow & { readonly jobId: Id<'job'>; readonly cancelledAt: string | null } {
  const row = prepared<[number], PlannedRow & { jobId: Id<'job'>; cancelledAt: string | null }>(
    db,
    `SELECT ${plannedColumns}, shoot.job_id AS jobId, shoot.cancelled_at AS cancelledAt ${plannedFrom} WHERE shoot.id = ?`,
  ).get(shootId)
  if (!row) throw new Refusal('no-spin', 'One of these spins is not in the studio.')
  if (row.cancelledAt !== null) {
    throw new Refusal('spin-cancelled', `'${row.name}' is cancelled. Leave it out, or bring it back first.`)
  }
  return row
}

/**
 * Refuses to put a spin's products, with the stands and props they need, on a platter whose maker's load limit
 * they exceed together. Products that
 * are not weighed count as 0: what is known must already fit. Nobody overrules it: an overloaded platter can
 * break under people's hands, and a mass that is wrong is corrected where it stands.
 */
export function checkLoad(db: Db, shootId: Id<'shoot'>, rigRevisionId: Id<'rig_revision'>): void {
  const sentence = overLoad(db, shootId, rigRevisionId)
  if (sentence !== null) throw new Refusal('over-load-limit', sentence, { field: 'rigRevisionId' })
}

/** Why a spin may not stand on a rig's platter, as a sentence; null where it may. Refuses an unknown rig. */
export function overLoad(db: Db, shootId: Id<'shoot'>, rigRevisionId: Id<'rig_revision'>): string | null {
  const platter = prepared<[number], { name: string; limitG: number | null }>(
    db,
    `SELECT platter.name, platter.load_limit_g AS limitG
     FROM rig_revision v JOIN platter ON platter.id = v.platter_id WHERE v.id = ?`,
  ).get(rigRevisionId)
  if (!platter) {
    throw new Refusal('no-rig', 'This rig is not in the studio. Choose another.', { field: 'rigRevisionId' })
  }
  const spin = spinMass(db, shootId)
  if (platter.limitG === null || spin.massG <= platter.limitG) return null
  const withStand = spin.standG > 0 ? ' with what it stands on' : ''
  return `'${spin.name}' weighs ${massText(spin.massG)}${withStand}, but the platter ${platter.name} carries ${massText(platter.limitG)}. Choose a rig on another platter, or correct the mass under Products.`
}

/** What a spin's products weigh together in g with their stands and props, as far as they are weighed. */
export function spinMass(
  db: Db,
  shootId: Id<'shoot'>,
): { readonly name: string; readonly massG: number; readonly standG: number } {
  const spin = prepared<[number], { name: string; massG: number; standG: number }>(
    db,
    `SELECT shoot.name, ifnull(sum(ifnull(product.load_g, product.stand_g)), 0) AS massG,
       ifnull(sum(product.stand_g), 0) AS standG FROM shoot
     LEFT JOIN shoot_product sp ON sp.shoot_id = shoot.id LEFT JOIN product ON product.id = sp.product_id
     WHERE shoot.id = ? GROUP BY shoot.id`,
  ).get(shootId)
  if (!spin) throw new Refusal('no-spin', 'One of these spins is not in the studio.')
  return spin
}

/** A mass to the gram: '850 g', '12.001 kg'. */
export function massText(massG: number): string {
  return massG < 1000 ? `${massG} g` : `${formatDecimal(massG, 3)} kg`
}
