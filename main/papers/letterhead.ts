import fs from 'node:fs'
import { attachmentPath, keepFile } from '../../db/attachments.ts'
import type { Writing } from '../../db/events.ts'
import type { Id } from '../../db/ids.ts'
import { studioLogo } from '../../db/logo.ts'
import type { Db } from '../../db/open.ts'
import { safeText } from '../trade/names.ts'
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

/** Prints a sheet and keeps it as a file of the studio; the same sheet is the same file. */
export function keepPaper(writing: PaperPlace & Pick<Writing, 'now'>, sheet: Sheet): Id<'attachment'> {
  const pdf = printOnLetterhead(writing, sheet)
  return keepFile(writing, writing.folder, pdf, `${safeText(sheet.title)}.pdf`, 'application/pdf')
}

/** A logo whose file was lost is left out: a paper without it still says everything. */
function logoBytes(db: Db, folder: string): Buffer | null {
  const logo = studioLogo(db)
  if (!logo) return null
  const file = attachmentPath(folder, logo.sha256)
  return fs.existsSync(file) ? fs.readFileSync(file) : null
}
