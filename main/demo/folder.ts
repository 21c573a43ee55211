import fs from 'node:fs'
import path from 'node:path'
import { holdLock } from '../../db/lock.ts'
import { holdsStudio, openStore } from '../../db/open.ts'
import { findStudio } from '../../db/studio.ts'
import { Refusal } from '../trade/refusal.ts'

/**
 * Clears a folder for a new demo studio. Refuses a folder with anything in it but a demo studio, and a demo
 * studio that is open elsewhere; neither is touched.
 */
export function clearDemoFolder(folder: string): void {
  if (!fs.existsSync(folder) || fs.readdirSync(folder).length === 0) return
  if (!holdsStudio(folder)) {
    throw new Refusal(
      'no-demo-studio',
      `The folder ${folder} holds other files. Choose an empty folder for the demo studio.`,
    )
  }
  const lock = holdLock(folder)
  try {
    if (!isDemo(path.join(folder, 'studio.db'))) {
      throw new Refusal(
        'no-demo-studio',
        `The folder ${folder} holds a studio that is no demo. It stays as it is; choose another folder for the demo.`,
      )
    }
  } finally {
    lock.release()
  }
  fs.rmSync(folder, { recursive: true })
}

/** A store whose making was broken off before the studio's row was written holds nobody's work either. */
function isDemo(file: string): boolean {
  const db = openStore(file, { readonly: true })
  try {
    const tables = db.prepare(`SELECT count(*) FROM sqlite_schema WHERE name = 'studio'`).pluck().get()
    return tables === 0 || (findStudio(db)?.isDemo ?? true)
  } finally {
    db.close()
  }
}
