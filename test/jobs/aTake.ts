import type { Id } from '../../db/ids.ts'
import { refreshStanding } from '../../db/standing.ts'
import type { TestStudio } from '../studio.ts'

/**
 * Rows of a kept take, of its picks, and of the client's yes or a delivery, as the bench and the desk leave
 * them, with the standing worked out anew.
 */
export function turn(
  { db, writing }: TestStudio,
  shootId: Id<'shoot'>,
  upTo: 'running' | 'rejected' | 'kept' | 'picked' | 'yes' | 'delivered' = 'kept',
): void {
  const { now, who } = writing
  const { jobId, rows } = db
    .prepare(
      `SELECT job_id AS jobId, (SELECT count(*) FROM shoot_row r WHERE r.shoot_id = shoot.id) AS rows FROM shoot WHERE id = ?`,
    )
    .get(shootId) as { jobId: Id<'job'>; rows: number }
  const deliverables = db
    .prepare(
      `SELECT d.id FROM shoot JOIN job ON job.id = shoot.job_id
       JOIN deliverable d ON d.brief_id = ifnull(shoot.brief_id, job.brief_id) WHERE shoot.id = ?`,
    )
    .pluck()
    .all(shootId)
  const revision = rigRevision(db, now, who.personId)
  const settings = db.prepare('INSERT INTO settings (created_at) VALUES (?)').run(now).lastInsertRowid
  for (let row = 1; row <= rows; row += 1) {
    const take = db
      .prepare(
        `INSERT INTO take (shoot_id, row, number, rig_revision_id, settings_id, bench_id, person_id, device_id,
           frames_per_turn, overlap_frames, started_at, ended_at, frames_shot, verdict)
         VALUES (@shootId, @row, (SELECT count(*) + 1 FROM take WHERE shoot_id = @shootId), @revision, @settings, 1,
           @personId, @deviceId, 24, 0, @now, @endedAt, @shot, @verdict)`,
      )
      .run({
        shootId,
        row,
        revision,
        settings,
        ...who,
        now,
        endedAt: upTo === 'running' ? null : now,
        shot: upTo === 'running' ? null : 24,
        verdict: upTo === 'running' ? null : upTo === 'rejected' ? 'reject' : 'keep',
      }).lastInsertRowid
    if (upTo === 'running') break
    if (upTo === 'rejected' || upTo === 'kept') continue
    for (const deliverable of deliverables) {
      db.prepare(
        'INSERT INTO pick (shoot_id, row, deliverable_id, take_id, picked_at) VALUES (?, ?, ?, ?, ?) ON CONFLICT DO NOTHING',
      ).run(shootId, row, deliverable, take, now)
    }
  }
  if (upTo === 'yes' || upTo === 'delivered') {
    for (const deliverable of deliverables) {
      db.prepare(
        `INSERT INTO answer (shoot_id, deliverable_id, verdict, answered_at) VALUES (?, ?, 'yes', ?) ON CONFLICT DO NOTHING`,
      ).run(shootId, deliverable, now)
    }
  }
  if (upTo === 'delivered') deliver(db, jobId, shootId, deliverables, now)
  refreshStanding({ db }, jobId)
}

function rigRevision(db: TestStudio['db'], now: string, personId: number): unknown {
  const known = db.prepare('SELECT id FROM rig_revision').pluck().get()
  if (known) return known
  db.exec(`INSERT INTO platter (name, rim_um10, division_um10) VALUES ('Platter 1', 12200000, 10000);`)
  db.prepare(`INSERT INTO rig (name, size_class, created_at) VALUES ('Table rig', 'medium', ?)`).run(now)
  return db
    .prepare(
      `INSERT INTO rig_revision (rig_id, revision, platter_id, rim_um10, division_um10, backdrop, camera, lens, focal_um,
         camera_distance_um, camera_height_um, why, person_id, created_at)
       VALUES (1, 1, 1, 12200000, 10000, 'white', 'camera', 'lens', 90000, 1500000, 300000, 'first', ?, ?)`,
    )
    .run(personId, now).lastInsertRowid
}

function deliver(
  db: TestStudio['db'],
  jobId: number,
  shootId: number,
  deliverables: readonly unknown[],
  now: string,
): void {
  const delivery = db
    .prepare(`INSERT INTO delivery (job_id, way, prepared_at) VALUES (?, 'link', ?)`)
    .run(jobId, now).lastInsertRowid
  for (const deliverable of deliverables) {
    db.prepare('INSERT INTO delivery_item VALUES (?, ?, ?)').run(delivery, shootId, deliverable)
  }
  db.prepare('UPDATE delivery SET sent_at = ?, number = ? WHERE id = ?').run(now, `D-${delivery}`, delivery)
}
