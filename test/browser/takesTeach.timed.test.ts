import { readFileSync } from 'node:fs'
import Papa from 'papaparse'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { beginJob, bookBench, quoteJob, takeInSamples } from '../path/order.ts'
import { dialog, fact, fillIn, goToStation, hear, press, see } from '../path/person.ts'
import { shoot, startTake } from '../path/shooting.ts'
import { addClient, makeStudio, setUpStudio, takeInProducts, writeDownRig } from '../path/studioSetUp.ts'
import { describeBrowser, type OpenBrowser, openBrowser } from './kit.ts'

/** The turn of the client's brief with its overlap. */
const frames = 26

describeBrowser('what takes teach', () => {
  let open: OpenBrowser
  let bench: Page
  let quote: Page
  let figures: Page
  beforeAll(async () => {
    open = await openBrowser()
    bench = open.page
    await makeStudio(bench)
    await setUpStudio(bench)
    await addClient(bench)
    await takeInProducts(bench)
    await writeDownRig(bench)
    await beginJob(bench, 'Summer jugs')
    const draft = new URL(bench.url())
    await beginJob(bench, 'Slipware jugs')
    await quoteJob(bench)
    await takeInSamples(bench)
    await bookBench(bench)
    quote = await open.context.newPage()
    await quote.goto(draft.href)
    await goToStation(quote, 'Quote')
    await fillIn(quote, { Platter: 'Platter 400, 1,260 mm', 'Frames a turn': '24' })
    await press(quote, 'Keep the draft')
    await hear(quote, 'The draft is kept.')
    figures = await open.context.newPage()
    await figures.goto(new URL('/figures', open.host.address).href)
    await see(figures, 'No take has taught anything yet')
  }, 120_000)
  afterAll(() => open?.close())

  it('changes the step of an open quote, and the chances, within a second in other windows', async () => {
    const before = await fact(quote, 'A step')
    expect(before).toMatch(/^\d+(\.\d+)?\s+s$/)
    await goToStation(bench, 'Takes')
    await startTake(bench, 'Jug, tall')
    await shoot(bench, frames)
    const step = quote
      .getByRole('term')
      .filter({ hasText: /^A step$/ })
      .locator('xpath=following-sibling::dd')
    const changed = step
      .filter({ hasNotText: before })
      .waitFor()
      .then(() => performance.now())
    await bench.keyboard.press('e')
    const ended = bench
      .getByText(`${frames} frames shot`)
      .first()
      .waitFor()
      .then(() => performance.now())
    expect((await changed) - (await ended)).toBeLessThan(1000)
    await see(quote, /Times: from 1 take/)
    const chances = figures.getByRole('table', { name: 'The chances of a restart and of a reshoot' })
    await chances.waitFor()
    const told = chances
      .getByText(/0 of 1\s+spin\b/)
      .first()
      .waitFor()
      .then(() => performance.now())
    await press(bench, 'Keep the take')
    const kept = bench
      .getByText('Kept.')
      .first()
      .waitFor()
      .then(() => performance.now())
    expect((await told) - (await kept)).toBeLessThan(1000)
    await see(figures, 'Over the day')
    expect(open.complaints).toEqual([])
  })

  it('leaves as a file for other programs', async () => {
    await press(figures, 'Takes as CSV')
    const saved = figures.waitForEvent('download')
    await press(await dialog(figures, 'Takes as CSV'), 'Save the file')
    await hear(figures, '1 take in takes-')
    const { data } = Papa.parse<Record<string, string>>(readFileSync(await (await saved).path(), 'utf8'), {
      header: true,
      skipEmptyLines: true,
    })
    expect(data).toMatchObject([{ Spin: 'Jug, tall', 'Frames shot': '26', Verdict: 'keep' }])
  })
})
