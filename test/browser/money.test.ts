import { readFileSync } from 'node:fs'
import { unzipSync } from 'fflate'
import type { Download, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { creditOnePiece, expectPapers, goToAccountant, issueTheDraft, payInPart } from '../path/money.ts'
import { dialog, fillIn, follow, goTo, hear, press, see } from '../path/person.ts'
import { aBilledStudio } from './aBilledStudio.ts'
import { describeBrowser, type OpenBrowser, openBrowser } from './kit.ts'

describeBrowser('money on paper, from issue to the accountant', () => {
  let open: OpenBrowser
  let page: Page
  let number = ''
  let billed: Awaited<ReturnType<typeof aBilledStudio>>
  beforeAll(async () => {
    billed = await aBilledStudio()
    open = await openBrowser(billed.folder)
    page = open.page
  })
  afterAll(() => open?.close())

  it('shows what is open by the days after it was due', async () => {
    await goTo(page, 'Invoices')
    await see(page, '€350.00 open.')
    await page.getByRole('cell', { name: '€350.00' }).first().waitFor()
    await follow(page, '€350.00')
    await see(page, /31 to 60 days: show all/)
  })

  it('takes a part payment and writes a rest off', async () => {
    await follow(page, billed.small.number)
    await press(page, 'Enter a payment')
    const payment = await dialog(page, /^Enter a payment on/)
    await fillIn(payment, { 'Came in': '40.00' })
    await press(payment, 'Enter the payment')
    await hear(page, 'is entered.')
    await see(page, /€60\.00 open/)
    await press(page, 'Write off')
    const off = await dialog(page, /^Write off/)
    await fillIn(off, { 'Written off': '10.00', Why: 'Agreed on the phone' })
    await press(off, 'Write it off')
    await see(page, /€50\.00 open/)
  })

  it('takes the write-off back with a reason, and says by which ways the invoice was settled', async () => {
    await see(page, 'Paid and written off')
    await press(page, /^Take back the write-off of/)
    const back = await dialog(page, 'Take the write-off back?')
    await press(back, 'Take the write-off back')
    await see(back, 'The reason is empty.')
    await fillIn(back, { Why: 'It was meant for another invoice' })
    await press(back, 'Take the write-off back')
    await hear(page, 'The write-off is taken back.')
    await see(page, /€60\.00 open/)
    await page.getByText('Paid', { exact: true }).waitFor()
  })

  it('issues a draft after its paper was shown, takes a part of it, and credits a piece', async () => {
    number = await issueTheDraft(page)
    await payInPart(page)
    await creditOnePiece(page, number)
  })

  it('keeps what was paid too much as credit, and enters what of it was paid back, never more', async () => {
    await press(page, 'Enter a payment')
    const payment = await dialog(page, /^Enter a payment on/)
    await fillIn(payment, { 'Came in': '70.00' })
    await see(payment, /€20\.00 more than is open/)
    await press(payment, 'Enter the payment')
    await hear(page, 'is entered.')
    await follow(page, 'Account of Fjordlicht')
    await press(page, 'Pay back credit of €20.00')
    const back = await dialog(page, 'Enter what was paid back to Fjordlicht')
    await see(back, /At most €20\.00 can be paid back/)
    await fillIn(back, { 'Paid back': '20.01' })
    await press(back, 'Enter it')
    await see(back, 'Less than that is the client’s credit.')
    await fillIn(back, { 'Paid back': '20.00' })
    await press(back, 'Enter it')
    await hear(page, 'What was paid back is entered.')
    await page.getByRole('cell', { name: 'Paid back', exact: true }).waitFor()
    await page.getByRole('button', { name: /^Pay back credit/ }).waitFor({ state: 'detached' })
  })

  it('shows no statement of other days under days that make none', async () => {
    await see(page, /at the beginning of/)
    await fillIn(page, { 'Last day': '2020-01-01' })
    await see(page, 'The last day is before the first.')
    expect(await page.getByText(/at the (beginning|end) of/).count()).toBe(0)
  })

  it('takes a statement in, and enters what a person confirms', async () => {
    await goTo(page, 'Invoices')
    await follow(page, 'Bank statements')
    await see(page, 'Nothing waits.')
    await follow(page, 'Take a statement in')
    await page
      .locator('input[type=file]')
      .setInputFiles({ name: 'holiday.csv', mimeType: 'text/csv', buffer: Buffer.from('Away\n') })
    await see(page, 'holiday.csv: No movements were found in this file.')
    const { yesterday, large } = billed
    const csv = `Date,Payer,Purpose,Amount\n${yesterday},FJORDLICHT GMBH,${large.number},249.00\n${yesterday},City works,Power,-80.00\n`
    await page
      .locator('input[type=file]')
      .setInputFiles({ name: 'bank.csv', mimeType: 'text/csv', buffer: Buffer.from(csv) })
    await see(page, /2\snew movements/)
    await press(page, /^Take 2\smovements in$/)
    await see(page, /perhaps a bank’s fee/)
    await page.getByRole('button', { name: /^Say what the money/ }).click()
    const book = await dialog(page, /^€249\.00/)
    const share = book.getByLabel(`For ${large.number}`, { exact: true })
    await share.fill('')
    await press(book, 'Enter it')
    await see(book, 'An amount is missing.')
    await page.waitForFunction(() => document.activeElement?.getAttribute('name') === 'shares.0.minor')
    await share.fill('249.00')
    await press(book, 'Enter it')
    await hear(page, 'The payment is entered.')
    await see(page, 'Nothing waits.')
  })

  it('writes down a reminder that a person sent', async () => {
    await goTo(page, 'Invoices')
    await follow(page, 'Reminders')
    await see(page, new RegExp(`${billed.large.number}: €1\\.00`))
    const draft = page.waitForEvent('popup')
    await page.getByRole('button', { name: 'Look at the paper' }).click()
    await (await draft).close()
    const paper = page.waitForEvent('popup')
    await page.getByRole('button', { name: /^Mark .* sent$/ }).click()
    await hear(page, /The reminder to Fjordlicht is written down\./)
    expect((await paper).url()).toMatch(/\/papers\/\d+$/)
    await (await paper).close()
    await see(page, 'Nobody has to be reminded today.')
  })

  it('shows the client’s account, and hands the accountant journal and papers', async () => {
    await goToAccountant(page)
    const journal = await saved(() => press(page, 'Sales journal as CSV'))
    expect(readFileSync(await journal.path(), 'utf8')).toContain(billed.large.number)
    await press(page, 'Make the ZIP file')
    await see(page, 'The file is ready.')
    const asked = open.context.waitForEvent('request', (request) => request.url().includes('/papers/'))
    await press(page, 'Open the ZIP file')
    const zip = await page.request.get((await asked).url())
    expectPapers(Object.keys(unzipSync(await zip.body())), [billed.small.number, number])
    expect(open.complaints).toEqual([])
  })

  async function saved(act: () => Promise<void>): Promise<Download> {
    const download = page.waitForEvent('download')
    await act()
    return download
  }
})
