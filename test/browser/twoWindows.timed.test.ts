import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { beginJob, quoteJob } from '../path/order.ts'
import { dialog, fillIn, follow, goTo, goToStation, hear, press, see } from '../path/person.ts'
import { addClient, makeStudio, setUpStudio, takeInProducts, writeDownRig } from '../path/studioSetUp.ts'
import { describeBrowser, type OpenBrowser, openBrowser } from './kit.ts'

describeBrowser('two windows on one studio', () => {
  let open: OpenBrowser
  let here: Page
  let there: Page
  beforeAll(async () => {
    open = await openBrowser()
    here = open.page
    await makeStudio(here)
    await setUpStudio(here)
    await addClient(here)
    await takeInProducts(here)
    await writeDownRig(here)
    there = await open.context.newPage()
    await there.goto(new URL('/board', open.host.address).href)
    await see(there, 'Nothing is open.')
  })
  afterAll(() => open?.close())

  it('show a change made in one in the other within a second', async () => {
    const hung = there.getByRole('link', { name: /Brackwell Ceramics/ })
    const seenAt = hung.waitFor().then(() => performance.now())
    await beginJob(here, 'Spring jugs')
    const doneAt = performance.now()
    expect((await seenAt) - doneAt).toBeLessThan(1000)
  })

  it('keep what was typed where the other was quicker, and say what is wrong with it', async () => {
    for (const page of [here, there]) {
      await goTo(page, 'Clients')
      await follow(page, 'Brackwell Ceramics')
      await follow(page, 'Add a product')
      await fillIn(page, { Code: 'BW-200', Name: 'Plate', Width: '260', Depth: '260', Height: '24' })
    }
    await fillIn(there, { Name: 'Plate, deep' })
    await press(here, 'Add the product')
    await here.getByRole('heading', { level: 1, name: 'Plate' }).waitFor()
    await press(there, 'Add the product')
    const refusal = there.getByRole('alert')
    await refusal.waitFor()
    expect(await refusal.textContent()).toBe(
      'This client already has a product with the code BW-200: Plate. Use another code, or change that product.',
    )
    const code = there.getByLabel('Code', { exact: true })
    expect(await code.getAttribute('aria-invalid')).toBe('true')
    expect(await code.evaluate((field) => field === document.activeElement)).toBe(true)
    expect(await code.inputValue()).toBe('BW-200')
    expect(await there.getByLabel('Name', { exact: true }).inputValue()).toBe('Plate, deep')
    expect(await there.getByLabel('Height', { exact: true }).inputValue()).toBe('24')
    await fillIn(there, { Code: 'BW-201' })
    await press(there, 'Add the product')
    await there.getByRole('heading', { level: 1, name: 'Plate, deep' }).waitFor()
  })

  it('give two invoices that are issued at once two numbers, without a gap', async () => {
    await draftDeposit(here, 'Autumn jugs')
    await draftDeposit(there, 'Winter jugs')
    const windows = [here, there]
    const asked = await Promise.all(
      windows.map(async (page) => {
        await press(page, 'Issue it')
        return dialog(page, /^Issue the deposit/)
      }),
    )
    await Promise.all(asked.map((issue) => press(issue, 'Issue it')))
    const numbers = await Promise.all(
      windows.map(async (page) => {
        await hear(page, /is issued\.$/)
        await page.getByRole('button', { name: 'Enter a payment' }).waitFor()
        const heading = (await page.getByRole('heading', { level: 1 }).textContent()) ?? ''
        return Number(/-\d{4}-(\d+)/.exec(heading)?.[1])
      }),
    )
    expect(numbers.sort()).toEqual([1, 2])
  })

  it('leave no complaint in the console', () => {
    expect(open.complaints).toEqual([])
  })
})

/** Takes a job of its own as far as the draft of its deposit. */
async function draftDeposit(page: Page, title: string): Promise<void> {
  // A window behind another is drawn once a second at most, and every press waits for a drawing.
  await page.bringToFront()
  await beginJob(page, title)
  await quoteJob(page)
  await goToStation(page, 'Invoice')
  await press(page, 'Draft a deposit')
  const deposit = await dialog(page, 'Draft a deposit')
  await fillIn(deposit, { 'Of the quote before tax': '30' })
  await press(deposit, 'Draft the deposit')
  await see(page, 'Not issued: it has no number and can be changed.')
}
