import { join } from 'node:path'
import { openStore } from '../../db/open.ts'
import { buildDemoStudio } from '../../main/demo/build.ts'

/** A row of few frames, so that a turn is quick. */
export interface ShortRow {
  readonly angleMdeg: number
  readonly framesPerTurn: number
  readonly overlapFrames: number
}

/**
 * Makes a demo studio in this folder, and gives its newest spin that can be turned at once these rows: its sample is
 * in, its rig and settings are chosen, and nothing else turns on its bench.
 */
export async function aReadySpin(studio: string, rows: readonly ShortRow[]): Promise<number> {
  await buildDemoStudio(studio, () => {}, { pastDays: 60 })
  const db = openStore(join(studio, 'studio.db'))
  const shootId = Number(
    db
      .prepare(
        `SELECT max(shoot.id) FROM shoot JOIN shoot_product sp ON sp.shoot_id = shoot.id
         JOIN sample ON sample.job_id = shoot.job_id AND sample.product_id = sp.product_id AND sample.state = 'in'
         WHERE shoot.cancelled_at IS NULL AND shoot.id NOT IN (SELECT shoot_id FROM take)
           AND shoot.rig_revision_id IS NOT NULL AND shoot.settings_id IS NOT NULL`,
      )
      .pluck()
      .get(),
  )
  db.prepare('DELETE FROM shoot_row WHERE shoot_id = ?').run(shootId)
  for (const [at, { angleMdeg, framesPerTurn, overlapFrames }] of rows.entries()) {
    db.prepare('INSERT INTO shoot_row VALUES (?, ?, ?, ?, ?)').run(
      shootId,
      at + 1,
      angleMdeg,
      framesPerTurn,
      overlapFrames,
    )
  }
  db.close()
  return shootId
}
