import { insertBrief, plainBrief } from '../../db/briefs.ts'
import type { Id } from '../../db/ids.ts'
import { refreshStanding } from '../../db/standing.ts'
import { aClient } from '../builders.ts'
import type { TestStudio } from '../studio.ts'

/** A line of an accepted quote; `spins` spins hang on it. Invented. */
export interface OrderedLine {
  readonly kind: 'spins' | 'fee' | 'discount'
  readonly quantityMilli: number
  readonly priceMinor: number
  readonly netMinor: number
  readonly spins?: number
}

/**
 * A job with an accepted quote, put into the store row by row: the tests of billing are about what follows a
 * quote, not about how one is made.
 */
export async function anOrder(
  studio: TestStudio,
  lines: readonly OrderedLine[],
  client: Parameters<typeof aClient>[0] = {},
  taxRateId = 1,
): Promise<{ jobId: Id<'job'>; clientId: Id<'client'>; shootIds: readonly Id<'shoot'>[] }> {
  const { db, api, writing } = studio
  const { clientId } = await api.clients.add(aClient(client))
  const briefId = insertBrief(db, plainBrief)
  const jobId = Number(
    db
      .prepare(
        `INSERT INTO job (number, client_id, title, brief_id, currency, enquired_day, rounds_included, created_at)
         VALUES ('J-TEST-' || ?, ?, 'Autumn range', ?, 'EUR', '2026-02-01', 1, ?)`,
      )
      .run(briefId, clientId, briefId, writing.now).lastInsertRowid,
  ) as Id<'job'>
  const net = lines.reduce((sum, { netMinor }) => sum + netMinor, 0)
  const quoteId = db
    .prepare(
      `INSERT INTO quote (job_id, number, version, currency, step_ms, tax_rate_id,
         net_minor, total_minor, created_at) VALUES (?, 'Q-TEST-' || ?, 1, 'EUR', 6000, ?, ?, ?, ?)`,
    )
    .run(jobId, briefId, taxRateId, net, net, writing.now).lastInsertRowid
  const shootIds = lines.flatMap((line, index) =>
    insertLine(studio, jobId, Number(quoteId), taxRateId, line, index + 1),
  )
  db.prepare(
    `UPDATE quote SET state = 'accepted', sent_at = ?, decided_at = ?, valid_until = '2026-12-31' WHERE id = ?`,
  ).run(writing.now, writing.now, quoteId)
  refreshStanding(writing, jobId)
  return { jobId, clientId, shootIds }
}

function insertLine(
  { db }: TestStudio,
  jobId: number,
  quoteId: number,
  taxRateId: number,
  line: OrderedLine,
  position: number,
): readonly Id<'shoot'>[] {
  const lineId = db
    .prepare(
      `INSERT INTO quote_line (quote_id, position, text, quantity_milli, price_minor, net_minor, tax_rate_id, kind)
       VALUES (?, ?, ?, ?, ?, ?, ?, ?)`,
    )
    .run(
      quoteId,
      position,
      `${line.kind} ${position}`,
      line.quantityMilli,
      line.priceMinor,
      line.netMinor,
      taxRateId,
      line.kind,
    ).lastInsertRowid
  return Array.from({ length: line.spins ?? 0 }, (_, index) => {
    const shootId = db
      .prepare(`INSERT INTO shoot (job_id, position, name) VALUES (?, ?, ?)`)
      .run(jobId, position * 1000 + index, `Spin ${position}.${index}`).lastInsertRowid
    db.prepare('INSERT INTO quote_line_shoot VALUES (?, ?)').run(lineId, shootId)
    return Number(shootId) as Id<'shoot'>
  })
}

/** Hands over every deliverable of the spins in one delivery that is sent at once. */
export function deliver(
  { db, writing }: TestStudio,
  jobId: Id<'job'>,
  shootIds: readonly Id<'shoot'>[],
): void {
  const deliveryId = db
    .prepare(`INSERT INTO delivery (job_id, way, prepared_at) VALUES (?, 'drive', ?)`)
    .run(jobId, writing.now).lastInsertRowid
  for (const shootId of shootIds) {
    db.prepare(
      `INSERT INTO delivery_item SELECT ?, ?, d.id FROM deliverable d JOIN job ON job.brief_id = d.brief_id WHERE job.id = ?`,
    ).run(deliveryId, shootId, jobId)
  }
  db.prepare(`UPDATE delivery SET sent_at = ?, number = 'D-TEST-' || id WHERE id = ?`).run(
    writing.now,
    deliveryId,
  )
  refreshStanding(writing, jobId)
}
