import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { unzipSync } from 'fflate'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { aBilledStudio } from '../browser/aBilledStudio.ts'
import { creditOnePiece, expectPapers, goToAccountant, issueTheDraft, payInPart } from '../path/money.ts'
import { hear, press, see } from '../path/person.ts'
import { type Desktop, describeDesktop, openDesktop } from './kit.ts'

describeDesktop('money on paper in the desktop window', () => {
  let desktop: Desktop
  let billed: Awaited<ReturnType<typeof aBilledStudio>>
  let journal = ''
  beforeAll(async () => {
    billed = await aBilledStudio()
    desktop = await openDesktop(billed.folder)
    journal = join(billed.folder, '..', 'journal.csv')
    // The computer's own programs and its dialog for saving are no part of this: both are told what a person would.
    await desktop.app.evaluate(({ shell, session }, to) => {
      const opened: string[] = []
      shell.openPath = async (path) => {
        opened.push(path)
        return ''
      }
      Object.assign(globalThis, { opened })
      session.defaultSession.on('will-download', (_, item) => item.setSavePath(to))
    }, journal)
  })
  afterAll(() => desktop?.close())

  it('is issued, paid in part, credited, and handed to the accountant', async () => {
    const { page } = desktop
    const number = await issueTheDraft(page)
    await payInPart(page)
    await creditOnePiece(page, number)
    await goToAccountant(page)
    await press(page, 'Sales journal as CSV')
    await hear(page, /^.*\.csv is saved\.$/)
    await expect.poll(() => readIfThere(journal)).toContain(number)
    await press(page, 'Make the ZIP file')
    await see(page, 'The file is ready.')
    await press(page, 'Open the ZIP file')
    await expect.poll(async () => (await opened()).at(-1)).toMatch(/\.zip$/)
    const zip = (await opened()).at(-1) ?? ''
    expectPapers(Object.keys(unzipSync(readFileSync(zip))), [billed.small.number, number])
    expect(desktop.complaints).toEqual([])
  })

  function opened(): Promise<readonly string[]> {
    return desktop.app.evaluate(() => (globalThis as unknown as { opened: string[] }).opened)
  }
})

function readIfThere(file: string): string {
  try {
    return readFileSync(file, 'utf8')
  } catch {
    return ''
  }
}
