import fs from 'node:fs'
import path from 'node:path'
import { Refusal } from '../main/trade/refusal.ts'
import { migrations } from './migrations/index.ts'
import type { Db } from './open.ts'

/** The mark of a Turnsheet studio in the SQLite header (`application_id`): the letters 'Turn'. */
const applicationId = 0x5475726e

/**
 * Brings a store to the newest schema. Each numbered step and its version number commit together; before the
 * first step on a store that holds data, a copy is put into the backups folder; afterwards the whole file is
 * checked. Refuses a store from a newer program, and a SQLite file of another program, and touches neither.
 */
export function migrate(db: Db, backupFolder: string, at: Date, steps: readonly string[] = migrations): void {
  const version = Number(db.pragma('user_version', { simple: true }))
  const mark = Number(db.pragma('application_id', { simple: true }))
  if (version > steps.length) {
    throw new Refusal(
      'studio-is-newer',
      `This studio was last opened by a newer Turnsheet (its store is number ${version}, this program knows ${steps.length}). Update Turnsheet; nothing was changed.`,
    )
  }
  if (mark !== applicationId && (version > 0 || hasTables(db))) {
    throw new Refusal(
      'not-a-studio',
      'This file belongs to another program, not to Turnsheet. Nothing was changed.',
    )
  }
  // Kept in the file itself, so not before it is known to be ours.
  db.pragma('journal_mode = WAL')
  if (version === steps.length) return
  if (version > 0) copyBefore(db, backupFolder, version, at)

  // Inside a transaction this pragma does nothing, and a step that rebuilds a table needs it off.
  db.pragma('foreign_keys = OFF')
  try {
    steps.slice(version).forEach((sql, index) => {
      const step = version + index + 1
      db.transaction(() => {
        db.exec(sql)
        db.pragma(`application_id = ${applicationId}`)
        db.pragma(`user_version = ${step}`)
        checkStore(db, `migration ${step}`)
      })()
    })
  } finally {
    db.pragma('foreign_keys = ON')
  }
}

function hasTables(db: Db): boolean {
  return db.prepare('SELECT 1 FROM sqlite_schema LIMIT 1').get() !== undefined
}

function copyBefore(db: Db, backupFolder: string, version: number, at: Date): void {
  fs.mkdirSync(backupFolder, { recursive: true })
  const stamp = at.toISOString().slice(0, 19).replaceAll(':', '')
  const file = path.join(backupFolder, `before-step-${version + 1}-${stamp}.db`)
  db.prepare('VACUUM INTO ?').run(file)
}

/** Throws when SQLite finds a broken page or a row that points nowhere. */
export function checkStore(db: Db, after: string): void {
  const integrity = db.pragma('integrity_check', { simple: true })
  const dangling = db.pragma('foreign_key_check') as readonly unknown[]
  if (integrity !== 'ok' || dangling.length > 0) {
    throw new Error(
      `The store is damaged after ${after}: ${String(integrity)}, ${dangling.length} dangling rows.`,
    )
  }
}
