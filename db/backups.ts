import fs from 'node:fs'
import path from 'node:path'
import { Refusal } from '../main/trade/refusal.ts'
import { type Writing, writeEvent } from './events.ts'
import { checkStore } from './migrate.ts'
import { openStore } from './open.ts'
import { inOneTransaction } from './statement.ts'

/** A copy of the store in the studio's `backups` folder. */
export interface Backup {
  readonly name: string
  readonly bytes: number
  /** The instant the file was written, UTC ISO 8601. */
  readonly at: string
}

/** The copies in a studio's `backups` folder, the newest first. */
export function listBackups(folder: string): readonly Backup[] {
  const backups = path.join(folder, 'backups')
  if (!fs.existsSync(backups)) return []
  return fs
    .readdirSync(backups, { withFileTypes: true })
    .filter((entry) => entry.isFile() && entry.name.endsWith('.db'))
    .map(({ name }) => {
      const { size, mtime } = fs.statSync(path.join(backups, name))
      return { name, bytes: size, at: mtime.toISOString() }
    })
    .sort((a, b) => b.at.localeCompare(a.at) || b.name.localeCompare(a.name))
}

/**
 * Copies the store as it stands into `backups`, opens the copy and checks it whole; a copy that fails is
 * thrown away. The files of `files` are not in it.
 * Refuses a second copy in the same second, and a disk that has no room.
 */
export function backUp(writing: Writing, folder: string): Backup {
  const { db, now } = writing
  const name = `studio-${now.slice(0, 19).replaceAll(':', '')}.db`
  const file = path.join(folder, 'backups', name)
  fs.mkdirSync(path.dirname(file), { recursive: true })
  if (fs.existsSync(file)) {
    throw new Refusal(
      'backup-exists',
      `The copy ${name} was made this very second. It is in the list already.`,
    )
  }
  try {
    db.prepare('VACUUM INTO ?').run(file)
    checkCopy(file)
  } catch (error) {
    fs.rmSync(file, { force: true })
    if (error instanceof Error && 'code' in error && error.code === 'SQLITE_FULL') {
      throw new Refusal(
        'disk-full',
        'The disk has no room for a copy of the studio. Free some, then back up again.',
      )
    }
    throw error
  }
  const { size: bytes, mtime } = fs.statSync(file)
  inOneTransaction(db, () =>
    writeEvent(writing, { subject: 'studio', subjectId: 1, what: 'backup made', detail: { name, bytes } }),
  )
  return { name, bytes, at: mtime.toISOString() }
}

function checkCopy(file: string): void {
  const copy = openStore(file, { readonly: true })
  try {
    checkStore(copy, 'the backup')
  } finally {
    copy.close()
  }
}
