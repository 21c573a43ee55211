import { type CentreChoice, defaultChoice } from '../main/trade/check/centre/centre.ts'
import type { Plan } from '../main/trade/product.ts'
import { Refusal } from '../main/trade/refusal.ts'
import { type Writing, writeEvent } from './events.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { firstProduct } from './rigEvidence.ts'
import { spinHead } from './spins.ts'
import { inOneTransaction, prepared } from './statement.ts'

/** What of a spin is to stand on the axis. */
export interface CentreOfSpin {
  readonly choice: CentreChoice
  /** What it is until a person chooses, and the outline from above of the product that leads to it. */
  readonly usual: CentreChoice
  readonly plan: Plan
}

/** Refuses a spin that is not in the studio. */
export function centreOfSpin(db: Db, shootId: Id<'shoot'>): CentreOfSpin {
  const row = prepared<[number], { plan: Plan | null; chosen: CentreChoice | null }>(
    db,
    `SELECT product.plan, shoot.centre_choice AS chosen FROM shoot LEFT JOIN ${firstProduct} WHERE shoot.id = ?`,
  ).get(shootId)
  if (!row) throw new Refusal('no-spin', 'This spin is not in the studio.')
  const plan = row.plan ?? 'measured'
  const usual = defaultChoice(plan)
  return { choice: row.chosen ?? usual, usual, plan }
}

/**
 * Keeps what of a spin is to stand on the axis, for all its takes and for the help before them. What is usual for its
 * product is kept as no choice, and goes with the product from then on. Refuses a spin that is not in the studio.
 */
export function chooseCentre(writing: Writing, shootId: Id<'shoot'>, choice: CentreChoice): void {
  const { db } = writing
  inOneTransaction(db, () => {
    const { choice: before, usual } = centreOfSpin(db, shootId)
    if (choice === before) return
    prepared<[CentreChoice | null, number]>(db, 'UPDATE shoot SET centre_choice = ? WHERE id = ?').run(
      choice === usual ? null : choice,
      shootId,
    )
    const { jobId, name } = spinHead(db, shootId)
    const what = choice === 'body' ? 'centred on the body' : 'centred for least sweep'
    writeEvent(writing, { subject: 'shoot', subjectId: shootId, jobId, what, detail: { names: [name] } })
  })
}
