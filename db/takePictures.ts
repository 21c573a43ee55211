import { keepFile } from './attachments.ts'
import type { Writing } from './events.ts'
import type { Id } from './ids.ts'
import { inOneTransaction, prepared } from './statement.ts'
import { jobOfTake, tellOfTake } from './takeEvents.ts'

/**
 * Keeps the picture that a take is known by, in place of the one before; also while the take runs. The bytes
 * are kept as they are: make them small first (main/work/smallPicture.ts).
 * Refuses a take that is not in the studio.
 */
export function keepTakePicture(
  writing: Writing & { readonly folder: string },
  takeId: Id<'take'>,
  bytes: Uint8Array,
  name: string,
  mediaType: string,
): Id<'attachment'> {
  const { db } = writing
  return inOneTransaction(db, () => {
    const jobId = jobOfTake(writing.db, takeId)
    const attachmentId = keepFile(writing, writing.folder, bytes, name, mediaType)
    prepared<[number, number]>(
      db,
      `INSERT INTO take_picture (take_id, attachment_id) VALUES (?, ?)
       ON CONFLICT (take_id) DO UPDATE SET attachment_id = excluded.attachment_id`,
    ).run(takeId, attachmentId)
    tellOfTake(writing, takeId, jobId, 'picture of a take kept', { name })
    return attachmentId
  })
}

/** Takes the picture of a take away; the file itself stays. */
export function removeTakePicture(writing: Writing, takeId: Id<'take'>): void {
  inOneTransaction(writing.db, () => {
    const jobId = jobOfTake(writing.db, takeId)
    const { changes } = prepared<[number]>(writing.db, 'DELETE FROM take_picture WHERE take_id = ?').run(
      takeId,
    )
    if (changes > 0) tellOfTake(writing, takeId, jobId, 'picture of a take taken away', {})
  })
}
