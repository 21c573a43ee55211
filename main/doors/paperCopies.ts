import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { extname, join } from 'node:path'
import { shell } from 'electron'
import { fileName } from './fileName.ts'

// What a double click would run rather than show must never be opened from here, whoever sent it to us.
const openable = new Set(
  '.pdf .csv .tsv .txt .md .xml .json .ics .png .jpg .jpeg .webp .tif .tiff .heic .gif .mp4 .mov .zip .xlsx .docx .ods .odt'.split(
    ' ',
  ),
)

let folder: string | undefined

/**
 * Opens a copy of a paper, under its real name, in the program the computer has for it. The copy is for
 * reading: what is written into it does not come back into the studio.
 * @returns a sentence where it could not be opened, or an empty text
 */
export async function openPaperCopy(paper: { name: string; bytes: Uint8Array }): Promise<string> {
  folder ??= mkdtempSync(join(tmpdir(), 'turnsheet-papers-'))
  const copy = join(mkdtempSync(join(folder, 'paper-')), fileName(paper.name))
  writeFileSync(copy, paper.bytes, { mode: 0o400 })
  if (!openable.has(extname(copy).toLowerCase())) {
    shell.showItemInFolder(copy)
    return ''
  }
  const problem = await shell.openPath(copy)
  return problem && `The computer could not open ${paper.name}: ${problem}. A copy of it lies at ${copy}.`
}

/** Removes the copies made in this run, as far as other programs let go of them. */
export function clearPaperCopies(): void {
  if (!folder) return
  try {
    rmSync(folder, { recursive: true, force: true })
  } catch {
    // A program that still shows a copy may hold it; the system's own clearing takes it later.
  }
}
