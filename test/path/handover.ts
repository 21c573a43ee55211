import { mkdirSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { dialog, fillIn, goToStation, hear, press, see } from './person.ts'

/** The picks, shown to the client, who says yes to both at once. */
export async function pickAndShow(page: Page): Promise<void> {
  await goToStation(page, 'Yes')
  await press(page, 'Pick the newest for all')
  await hear(page, '2 picks made.')
  await chooseAll(page)
  await press(page, 'Show to the client')
  await press(await dialog(page, 'Show 2 deliverables to the client'), 'It is shown')
  await hear(page, '2 deliverables shown to the client.')
  await chooseAll(page)
  await press(page, 'The client said yes')
  const yes = await dialog(page, 'Yes to 2 deliverables')
  await fillIn(yes, { 'In the client’s words': 'Just like that.' })
  await press(yes, 'Write down the yes')
  await hear(page, 'Yes to 2 deliverables written down.')
}

/** The delivery: its list, the exported files read against it, and sent. */
export async function deliver(page: Page, folder: string): Promise<void> {
  await goToStation(page, 'Delivery')
  await press(page, 'Prepare a delivery')
  const prepare = await dialog(page, 'Prepare 2 deliverables')
  await fillIn(prepare, { 'How the files go': 'download link' })
  await press(prepare, 'Prepare the delivery')
  await prepare.waitFor({ state: 'detached' })
  await exportFiles(page, folder)
  await fillIn(page, { 'Folder with the exported files': folder })
  await press(page, 'Read the files')
  await hear(page, 'All 48 files of the list are there.')
  await press(page, 'It is sent')
  await hear(page, 'is sent. Its note and file list are kept.')
}

/** The files a raw converter would write, under the names on the screen. */
async function exportFiles(page: Page, folder: string): Promise<void> {
  mkdirSync(folder, { recursive: true })
  const list = page.getByRole('table', { name: 'Files of the delivery' })
  await list.getByRole('row').nth(48).waitFor()
  const names = await list.getByRole('rowheader').allTextContents()
  for (const name of names) writeFileSync(join(folder, name), `picture ${name}`)
}

/** Both samples go back to the client. */
export async function sendSamplesBack(page: Page): Promise<void> {
  await goToStation(page, 'Samples')
  await chooseAll(page)
  await press(page, 'Send back')
  const back = await dialog(page, 'Going back: 2 samples')
  await fillIn(back, { 'By whom': 'Arlund’s van' })
  await press(back, 'They have gone back')
  await hear(page, '2 samples: back with the client.')
  await see(page, 'back')
}

async function chooseAll(page: Page): Promise<void> {
  await page.getByRole('checkbox', { name: 'Choose every row on this page' }).check()
}
