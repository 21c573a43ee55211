import type { Id } from '../../db/ids.ts'
import { refreshStanding } from '../../db/standing.ts'
import type { TestStudio } from '../studio.ts'

/** Ten clients, a product and a spin to each job, every 25th job open with a due day round `now`. */
export function manyJobs({ db, writing }: TestStudio, count: number): void {
  const series = `WITH RECURSIVE n (i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE i < @count)`
  const values = { count, now: writing.now }
  db.transaction(() => {
    db.prepare(`${series} INSERT INTO brief (id) SELECT i FROM n`).run({ count: count + 10 })
    db.exec(
      `INSERT INTO deliverable (brief_id, kind, name, width_px, height_px, frames, file_type, position)
       SELECT id, 'frame set', 'set', 1600, 1600, 24, 'jpg', 1 FROM brief`,
    )
    db.prepare(
      `${series} INSERT INTO client (id, name, country, currency, standing_brief_id, created_at)
       SELECT i, 'Client ' || i, 'DE', 'EUR', @jobs + i, @now FROM n`,
    ).run({ count: 10, now: writing.now, jobs: count })
    db.prepare(
      `${series} INSERT INTO product (id, client_id, code, name, created_at)
       SELECT i, 1 + i % 10, 'PR-' || printf('%05d', i), 'Product ' || i, @now FROM n`,
    ).run(values)
    db.prepare(
      `${series} INSERT INTO job (id, number, client_id, title, brief_id, currency, enquired_day, due_day,
         rounds_included, cancelled_at, cancelled_reason, created_at)
       SELECT i, 'J-2026-' || printf('%05d', i), 1 + i % 10, 'Range ' || i, i, 'EUR', date(@now),
         date(@now, (i / 25 * 7 % 60 - 20) || ' days'), 1, CASE WHEN i % 25 = 0 THEN NULL ELSE @now END,
         CASE WHEN i % 25 = 0 THEN NULL ELSE 'over' END, @now FROM n`,
    ).run(values)
    db.exec(`INSERT INTO shoot (id, job_id, position, name, estimate_ms) SELECT id, id, 1, title, 1800000 FROM job;
      INSERT INTO shoot_product SELECT id, id, 1 FROM shoot;
      INSERT INTO shoot_row SELECT id, 1, 0, 24, 0 FROM shoot;
      INSERT INTO sample (job_id, product_id) SELECT id, id FROM job;`)
    for (let jobId = 1; jobId <= count; jobId += 1) refreshStanding({ db }, jobId as Id<'job'>)
  })()
}
