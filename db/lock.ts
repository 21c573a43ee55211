import path from 'node:path'
import Database from 'better-sqlite3'
import { Refusal } from '../main/trade/refusal.ts'

export interface Lock {
  release(): void
}

/**
 * Holds a studio folder for this program alone. The lock is a write transaction on a small SQLite file that
 * stays open, so the operating system lets go of it when the program ends in whatever way: no stale locks.
 * Refuses when another program holds it, and says which process and since when.
 */
export function holdLock(folder: string): Lock {
  const nativeBinding = process.env.TURNSHEET_NATIVE_BINDING
  const db = new Database(path.join(folder, 'studio.lock'), {
    timeout: 0,
    ...(nativeBinding ? { nativeBinding } : {}),
  })
  try {
    // WAL lets the refused program read who holds the lock.
    db.pragma('journal_mode = WAL')
    db.exec(
      'CREATE TABLE IF NOT EXISTS holder (id INTEGER PRIMARY KEY CHECK (id = 1), pid INTEGER, since TEXT) STRICT',
    )
    db.prepare('INSERT OR REPLACE INTO holder VALUES (1, ?, ?)').run(process.pid, new Date().toISOString())
    db.exec('BEGIN IMMEDIATE')
  } catch (error) {
    if (!(error instanceof Database.SqliteError) || !error.code.startsWith('SQLITE_BUSY')) {
      db.close()
      throw error
    }
    const holder = readHolder(db)
    db.close()
    throw new Refusal(
      'studio-is-open-elsewhere',
      `This studio is already open in another Turnsheet${holder}. Close it there, or use its browser door.`,
    )
  }
  return {
    release() {
      db.exec('ROLLBACK')
      db.close()
    },
  }
}

function readHolder(db: Database.Database): string {
  try {
    const row = db.prepare<[], { pid: number; since: string }>('SELECT pid, since FROM holder').get()
    return row ? ` (process ${row.pid}, since ${row.since.slice(0, 16).replace('T', ' ')} UTC)` : ''
  } catch {
    return ''
  }
}
