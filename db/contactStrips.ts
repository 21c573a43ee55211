import { keepFile } from './attachments.ts'
import type { Writing } from './events.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { inOneTransaction, prepared } from './statement.ts'
import { jobOfTake, tellOfTake } from './takeEvents.ts'

/** Small frames of a take on one sheet, row by row. */
export interface ContactStrip {
  /** Of the sheet, a JPEG: it lies at `/files/<sha256>`. */
  readonly sha256: string
  /** The take's numbers of its frames, in their order. */
  readonly frames: readonly number[]
  readonly columns: number
  readonly cellWidthPx: number
  readonly cellHeightPx: number
}

/** The contact strip of a take; undefined where none was kept. */
export function contactStrip(db: Db, takeId: Id<'take'>): ContactStrip | undefined {
  const row = prepared<[number], Omit<ContactStrip, 'frames'> & { frames: string }>(
    db,
    `SELECT a.sha256, s.frames, s.columns, s.cell_width_px AS cellWidthPx, s.cell_height_px AS cellHeightPx
     FROM contact_strip s JOIN attachment a ON a.id = s.attachment_id WHERE s.take_id = ?`,
  ).get(takeId)
  return row && { ...row, frames: JSON.parse(row.frames) as number[] }
}

/** The takes that are picked for these spins and have no contact strip yet. */
export function pickedWithoutStrip(db: Db, shootIds: readonly Id<'shoot'>[]): readonly Id<'take'>[] {
  const ofSpin = prepared<[number], { takeId: Id<'take'> }>(
    db,
    `SELECT DISTINCT pick.take_id AS takeId FROM pick LEFT JOIN contact_strip s ON s.take_id = pick.take_id
     WHERE pick.shoot_id = ? AND pick.withdrawn_at IS NULL AND s.take_id IS NULL`,
  )
  return [...new Set(shootIds)].flatMap((shootId) => ofSpin.all(shootId).map(({ takeId }) => takeId))
}

/** Keeps a sheet of small frames of a take in place of the one before; the file of that one stays. */
export function keepContactStrip(
  writing: Writing & { readonly folder: string },
  takeId: Id<'take'>,
  sheet: Omit<ContactStrip, 'sha256'> & { readonly bytes: Uint8Array },
): void {
  const { db, folder } = writing
  inOneTransaction(db, () => {
    const jobId = jobOfTake(db, takeId)
    const name = `contact-strip-take-${takeId}.jpg`
    const attachmentId = keepFile(writing, folder, sheet.bytes, name, 'image/jpeg')
    prepared<unknown[]>(
      db,
      `INSERT INTO contact_strip (take_id, attachment_id, frames, columns, cell_width_px, cell_height_px)
       VALUES (?, ?, ?, ?, ?, ?)
       ON CONFLICT (take_id) DO UPDATE SET attachment_id = excluded.attachment_id, frames = excluded.frames,
         columns = excluded.columns, cell_width_px = excluded.cell_width_px, cell_height_px = excluded.cell_height_px`,
    ).run(
      takeId,
      attachmentId,
      JSON.stringify(sheet.frames),
      sheet.columns,
      sheet.cellWidthPx,
      sheet.cellHeightPx,
    )
    tellOfTake(writing, takeId, jobId, 'contact strip kept', { frames: sheet.frames.length })
  })
}
