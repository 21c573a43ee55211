import { createHash, randomUUID } from 'node:crypto'
import fs from 'node:fs'
import path from 'node:path'
import type { Writing } from './events.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { newId, prepared } from './statement.ts'

/** A kept file: a product's picture, a rig's photo, a paper as it was sent. */
export interface Attachment {
  readonly id: Id<'attachment'>
  /** Lower-case hex; also the name of the file under `files/`. */
  readonly sha256: string
  /** The name it is handed over under. */
  readonly name: string
  readonly mediaType: string
  readonly bytes: number
}

const attachmentColumns = 'id, sha256, name, media_type AS mediaType, bytes'

export function attachmentById(db: Db, attachmentId: number): Attachment | undefined {
  return prepared<[number], Attachment>(db, `SELECT ${attachmentColumns} FROM attachment WHERE id = ?`).get(
    attachmentId,
  )
}

export function attachmentBySha256(db: Db, sha256: string): Attachment | undefined {
  return prepared<[string], Attachment>(
    db,
    `SELECT ${attachmentColumns} FROM attachment WHERE sha256 = ?`,
  ).get(sha256)
}

/** Where the bytes of an attachment lie in the studio's folder. */
export function attachmentPath(folder: string, sha256: string): string {
  return path.join(folder, 'files', sha256)
}

/**
 * Keeps a file in the studio and gives its attachment: the bytes are on the disk before the row names them,
 * so that a row never points at nothing. Bytes that are kept already are not written twice, and keep the
 * name they came under first. May be called inside the caller's transaction; where that is undone, a file
 * that no row names stays behind and does no harm.
 */
export function keepFile(
  { db, now }: Pick<Writing, 'db' | 'now'>,
  folder: string,
  bytes: Uint8Array,
  name: string,
  mediaType: string,
): Id<'attachment'> {
  const sha256 = createHash('sha256').update(bytes).digest('hex')
  const file = attachmentPath(folder, sha256)
  // A file of another length was cut short by a crash of the disk and is written again.
  if (sizeOf(file) !== bytes.length) writeDurably(file, bytes)
  const kept = attachmentBySha256(db, sha256)
  if (kept) return kept.id
  return newId<Id<'attachment'>>(
    prepared<unknown[]>(
      db,
      'INSERT INTO attachment (sha256, name, media_type, bytes, created_at) VALUES (?, ?, ?, ?, ?)',
    ).run(sha256, name, mediaType, bytes.length, now),
  )
}

/** Keeps a file that was written durably beside the others already, by moving it to its place; as `keepFile` else. */
export function keepWrittenFile(
  { db, now }: Pick<Writing, 'db' | 'now'>,
  folder: string,
  part: string,
  of: Omit<Attachment, 'id'>,
): Id<'attachment'> {
  fs.renameSync(part, attachmentPath(folder, of.sha256))
  const kept = attachmentBySha256(db, of.sha256)
  if (kept) return kept.id
  return newId<Id<'attachment'>>(
    prepared<unknown[]>(
      db,
      'INSERT INTO attachment (sha256, name, media_type, bytes, created_at) VALUES (?, ?, ?, ?, ?)',
    ).run(of.sha256, of.name, of.mediaType, of.bytes, now),
  )
}

function sizeOf(file: string): number | undefined {
  return fs.statSync(file, { throwIfNoEntry: false })?.size
}

/** Writes beside the place, forces it to the disk, then moves it there: whole or not at all. */
function writeDurably(file: string, bytes: Uint8Array): void {
  const part = `${file}.${randomUUID()}.part`
  try {
    fs.writeFileSync(part, bytes, { flag: 'wx', flush: true })
    fs.renameSync(part, file)
  } catch (error) {
    fs.rmSync(part, { force: true })
    throw error
  }
  // The move itself is durable once the folder is; Windows has no such call and needs none.
  if (process.platform !== 'win32') {
    const folder = fs.openSync(path.dirname(file), 'r')
    try {
      fs.fsyncSync(folder)
    } finally {
      fs.closeSync(folder)
    }
  }
}
