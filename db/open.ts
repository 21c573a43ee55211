import fs from 'node:fs'
import path from 'node:path'
import Database from 'better-sqlite3'
import { Refusal } from '../main/trade/refusal.ts'
import { holdLock, type Lock } from './lock.ts'
import { migrate } from './migrate.ts'

export type Db = Database.Database

/** An open studio folder: its store, and the way to close it and let go of the lock. */
export interface StudioFolder {
  readonly folder: string
  readonly db: Db
  close(): void
}

/**
 * Opens the studio in a folder, or makes an empty one there: takes the lock, brings the store up to date
 * (with a copy first), and checks it.
 * Refuses a folder that another program holds, a file that is no studio, and a studio made by a newer
 * program; none of these is touched.
 */
export function openStudioFolder(folder: string, madeAt: Date): StudioFolder {
  for (const part of ['', 'files', 'backups']) fs.mkdirSync(path.join(folder, part), { recursive: true })
  const lock = holdLock(folder)
  const file = path.join(folder, 'studio.db')
  let db: Db | undefined
  try {
    db = openStore(file)
    migrate(db, path.join(folder, 'backups'), madeAt)
  } catch (error) {
    db?.close()
    lock.release()
    throw isNoDatabase(error) ? notAStudio(file) : error
  }
  const opened = db
  return { folder, db: opened, close: () => closeBoth(opened, lock) }
}

function isNoDatabase(error: unknown): boolean {
  return error instanceof Database.SqliteError && error.code === 'SQLITE_NOTADB'
}

function notAStudio(file: string): Refusal {
  return new Refusal(
    'not-a-studio',
    `${path.basename(file)} is not a Turnsheet studio. Choose another folder, or put a backup in its place.`,
  )
}

/** True when the folder holds a studio already. */
export function holdsStudio(folder: string): boolean {
  return fs.existsSync(path.join(folder, 'studio.db'))
}

/**
 * A connection with the promises every writer needs: durable commits, foreign keys, patience with readers.
 * `TURNSHEET_NATIVE_BINDING` names another build of the SQLite binding for a runtime that needs its own.
 */
export function openStore(file: string, options: { readonly?: boolean } = {}): Db {
  const nativeBinding = process.env.TURNSHEET_NATIVE_BINDING
  const db = new Database(file, { ...options, ...(nativeBinding ? { nativeBinding } : {}) })
  db.pragma('synchronous = FULL')
  db.pragma('foreign_keys = ON')
  db.pragma('busy_timeout = 5000')
  db.pragma('recursive_triggers = ON')
  db.pragma('cache_size = -64000')
  return db
}

function closeBoth(db: Db, lock: Lock): void {
  db.pragma('optimize')
  db.close()
  lock.release()
}
