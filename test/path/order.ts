import type { Page } from 'playwright-core'
import { dialog, fillIn, follow, goTo, goToStation, hear, press, see } from './person.ts'

/** An enquiry of two spins, from the client's page. */
export async function beginJob(page: Page, title: string): Promise<void> {
  await goTo(page, 'Board')
  await follow(page, 'New job')
  await fillIn(page, { Client: 'Brackwell Ceramics', 'What the job is called': title })
  await fillIn(page, { 'Paste product codes': 'BW-101\nBW-102' })
  await press(page, 'Take these codes')
  await page.getByRole('table', { name: 'Spins of the job' }).getByText('BW-102').waitFor()
  await press(page, 'Add the job')
  await page.getByRole('heading', { level: 1, name: title }).waitFor()
}

/** The quote: its turn on the platter's rim, sent as a PDF and accepted. Gives its number. */
export async function quoteJob(page: Page): Promise<string> {
  await goToStation(page, 'Quote')
  await fillIn(page, { Platter: 'Platter 400, 1,260 mm', 'Frames a turn': '24' })
  await press(page, 'Keep the draft')
  await hear(page, 'The draft is kept.')
  await press(page, 'Send the quote')
  await press(await dialog(page, 'Send the quote'), 'Freeze and write the paper')
  await hear(page, 'is frozen and its paper is written.')
  await press(page, 'The client said yes')
  const accepted = await dialog(page, /^Quote .* accepted$/)
  await fillIn(accepted, { 'Who said yes': 'Tove Arlund', 'The client’s order number': 'PO-7731' })
  await press(accepted, 'Write down the yes')
  await hear(page, 'is accepted.')
  const heading = (await page.getByRole('heading', { level: 2, name: /^Quote / }).textContent()) ?? ''
  return /Q-\d{4}-\d+/.exec(heading)?.[0] ?? ''
}

/** Both samples arrive and are put on the shelf. */
export async function takeInSamples(page: Page): Promise<void> {
  await goToStation(page, 'Samples')
  await press(page, 'Choose all 2 that are expected')
  await press(page, 'Arrived')
  const arrived = await dialog(page, 'Arrived: 2 samples')
  await fillIn(arrived, { 'Where it is put': 'shelf B', Condition: 'unopened' })
  await press(arrived, 'Take them in')
  await hear(page, '2 samples: taken in.')
}

/** The rig and settings are planned, and both spins booked where the bench is free. */
export async function bookBench(page: Page): Promise<void> {
  await goToStation(page, 'Bench')
  await fillIn(page, { Rig: 'White sweep, revision 1' })
  await press(page, 'New settings')
  const settings = await dialog(page, 'New settings')
  await fillIn(settings, { 'Aperture, f/': '11', ISO: '100' })
  await press(settings, 'Keep these settings')
  await settings.waitFor({ state: 'detached' })
  await press(page, 'Plan it for all 2 spins')
  await hear(page, '2 spins planned.')
  await press(page, /^Book J-/)
  const booking = await dialog(page, /^Book J-/)
  await press(booking, /^Book (this block|these \d+ blocks)$/)
  await hear(page, /blocks? booked for J-/)
  // Late in the day the spins may not fit into one block any more.
  await see(page.getByRole('table', { name: 'Blocks booked for this job' }), /[12]\sspins? on White sweep/)
}
