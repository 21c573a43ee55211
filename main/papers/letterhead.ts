import fs from 'node:fs'
import { attachmentPath } from '../../db/attachments.ts'
import { studioLogo } from '../../db/logo.ts'
import type { Db } from '../../db/open.ts'
import { printSheet, type Sheet } from './sheet.ts'

/** What papers of the studio need besides the sheet: where its files lie. */
export interface PaperPlace {
  readonly db: Db
  readonly folder: string
}

/** Prints a sheet on the studio's letterhead: with its logo, where it has one. */
export function printOnLetterhead({ db, folder }: PaperPlace, sheet: Sheet): Buffer {
  return printSheet({ ...sheet, logo: logoBytes(db, folder) })
}

/** A logo whose file was lost is left out: a paper without it still says everything. */
function logoBytes(db: Db, folder: string): Buffer | null {
  const logo = studioLogo(db)
  if (!logo) return null
  const file = attachmentPath(folder, logo.sha256)
  return fs.existsSync(file) ? fs.readFileSync(file) : null
}
