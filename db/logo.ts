import { keepFile } from './attachments.ts'
import { type Writing, writeEvent } from './events.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { inOneTransaction, prepared } from './statement.ts'

/** The studio's logo, as it stands on papers written from now on. */
export interface Logo {
  readonly attachmentId: Id<'attachment'>
  readonly sha256: string
  readonly bytes: number
}

export function studioLogo(db: Db): Logo | undefined {
  return prepared<[], Logo>(
    db,
    `SELECT a.id AS attachmentId, a.sha256, a.bytes FROM studio JOIN attachment a ON a.id = studio.logo_id
     WHERE studio.id = 1`,
  ).get()
}

/** Keeps a picture that was made ready for papers as the studio's logo. Papers that were sent keep the one before. */
export function setLogo(writing: Writing & { readonly folder: string }, png: Uint8Array, name: string): void {
  inOneTransaction(writing.db, () => {
    writeLogo(writing, keepFile(writing, writing.folder, png, name, 'image/png'), 'logo changed')
  })
}

/** Takes the logo off papers written from now on. */
export function removeLogo(writing: Writing): void {
  inOneTransaction(writing.db, () => writeLogo(writing, null, 'logo taken off'))
}

function writeLogo(writing: Writing, logoId: Id<'attachment'> | null, what: string): void {
  prepared<[number | null]>(writing.db, 'UPDATE studio SET logo_id = ? WHERE id = 1').run(logoId)
  writeEvent(writing, { subject: 'studio', subjectId: 1, what })
}
