import { mkdtempSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { caller } from '../../main/api/caller.ts'
import { StudioHouse } from '../../main/api/house.ts'
import { makeStudio } from '../../main/api/opening.ts'
import { anOrder, deliver } from '../invoices/order.ts'
import { dialog, fillIn, hear, press, see } from '../path/person.ts'
import { describeBrowser, type OpenBrowser, openBrowser } from './kit.ts'

/** A studio whose one job is ordered at 500.00 and delivered, billed by nobody yet. */
async function aDeliveredStudio(): Promise<{ readonly folder: string; readonly jobId: number }> {
  const folder = join(mkdtempSync(join(tmpdir(), 'turnsheet-costs-')), 'studio')
  const house = new StudioHouse({ studioFolder: folder, demoFolder: `${folder}-demo`, now: () => new Date() })
  makeStudio(house, folder, {
    name: 'Lindenhof Spin Studio',
    personName: 'Mara Quist',
    country: 'DE',
    currency: 'EUR',
    timeZone: 'Europe/Berlin',
    locale: 'en-GB',
    taxName: 'VAT 20 %',
    taxRatePpm: 200_000,
    isDemo: false,
  })
  const open = house.studio
  if (!open) throw new Error('The studio did not open.')
  const { db, owner } = open
  db.prepare('UPDATE studio SET tax_number = ?').run('DE000000000')
  const writing = { db, now: new Date().toISOString(), who: owner }
  const studio = { house, api: caller(house), db, folder, writing, setNow: () => {} }
  const { jobId, shootIds } = await anOrder(studio, [
    { kind: 'spins', quantityMilli: 1000, priceMinor: 50_000, netMinor: 50_000, spins: 1 },
  ])
  deliver(studio, jobId, shootIds)
  house.leave()?.close()
  return { folder, jobId }
}

describeBrowser('costs, margin and rights in a browser', () => {
  let open: OpenBrowser
  let jobId: number
  beforeAll(async () => {
    const made = await aDeliveredStudio()
    jobId = made.jobId
    open = await openBrowser(made.folder)
  })
  afterAll(() => open?.close())

  const goToJob = (page: string) => open.page.goto(new URL(`/jobs/${jobId}/${page}`, open.host.address).href)

  it('goes from a planned cost over its receipt to the invoice and the margin after all', async () => {
    const { page } = open
    await goToJob('costs')
    await press(page, 'Add a cost')
    const add = await dialog(page, 'Add a cost')
    await press(add, 'Add the cost')
    await see(add, 'What was bought is empty. Type it in.')
    await fillIn(add, { Kind: 'Carrier', What: 'Van for the tall lamps', 'Planned, before tax': '90.00' })
    await add.getByLabel('Passed on to the client', { exact: true }).check()
    await press(add, 'Add the cost')
    await hear(page, 'Van for the tall lamps is kept.')
    await see(page, 'once it is paid')
    await press(page, 'Change: Van for the tall lamps')
    const change = await dialog(page, /^Change the cost/)
    await fillIn(change, { Supplier: 'Harrow Vans', 'Paid, before tax': '100.50', 'Tax on it': '20.10' })
    await press(change, 'Keep the change')
    await see(page, 'with the next invoice')
    await press(page, 'Keep the receipt: Van for the tall lamps')
    const receipt = await dialog(page, /^The receipt of/)
    const file = join(mkdtempSync(join(tmpdir(), 'turnsheet-receipt-')), 'van.pdf')
    writeFileSync(file, '%PDF-1.7\n')
    await receipt.locator('input[type=file]').setInputFiles(file)
    await hear(page, 'The receipt of Van for the tall lamps is kept.')
    const margin = page.getByRole('table', { name: 'Margin at the quote beside the margin after all' })
    // 500.00 + 100.50 passed on − 100.50 paid; nothing was turned.
    await see(margin, /€500\.00, /)
    await see(margin, '€600.50')

    await goToJob('invoice')
    await press(page, 'Draft the invoice')
    await page.waitForURL(/\/invoices\/\d+/)
    await see(page, 'Not issued: it has no number and can be changed.')
    expect(
      await page.getByRole('textbox').evaluateAll((all) => all.map((box) => (box as HTMLInputElement).value)),
    ).toContain('Van for the tall lamps')
    await press(page, 'Issue it')
    await press(await dialog(page, 'Issue the invoice?'), 'Issue it')
    await hear(page, /is issued\.$/)
    await goToJob('costs')
    await see(page, 'billed')

    await page.goto(new URL('/invoices/quarter', open.host.address).href)
    const sums = page.getByRole('table', { name: 'Sales and purchases of the quarter' })
    // Sales of 600.50 with 20 % tax, 120.10; purchases of 100.50 with 20.10.
    await see(sums, '€720.60')
    await see(sums, '€120.60')
    expect(open.complaints).toEqual([])
  })

  it('writes a right down, has it agreed, and lists it when it ends soon', async () => {
    const { page } = open
    await goToJob('quote')
    await press(page, 'Add a right')
    const add = await dialog(page, 'Add a right of use')
    const soon = new Date(Date.now() + 20 * 86_400_000).toISOString().slice(0, 10)
    await fillIn(add, {
      'What the pictures may be used in': 'Own web shop',
      Where: 'Europe',
      'Last day': soon,
    })
    await press(add, 'Add the right')
    await hear(page, 'The right is written down as proposed.')
    await press(page, 'Agreed: Own web shop')
    const agree = await dialog(page, /^The client agreed/)
    await fillIn(agree, { 'Who said yes, and how': 'Tove Arlund, by e-mail' })
    await press(agree, 'Write down the yes')
    await see(page, /ends soon/)
    await page.goto(new URL('/clients', open.host.address).href)
    await page.getByRole('link', { name: 'Rights that end' }).click()
    const list = page.getByRole('table', { name: 'Rights of use that end' })
    await see(list, 'Own web shop, Europe')
    expect(open.complaints).toEqual([])
  })
})
