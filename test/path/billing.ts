import type { Page } from 'playwright-core'
import { dialog, fact, goTo, goToStation, hear, press, see } from './person.ts'

/** What the screen says of an issued invoice. */
export interface IssuedInvoice {
  readonly number: string
  /** As written on the screen, with its currency. */
  readonly net: string
  readonly tax: string
  readonly total: string
}

/** The invoice of what was delivered: drafted, looked at, issued. */
export async function issueInvoice(page: Page): Promise<IssuedInvoice> {
  await goToStation(page, 'Invoice')
  await press(page, 'Draft the invoice')
  await see(page, 'Not issued: it has no number and can be changed.')
  await press(page, 'Issue it')
  const issue = await dialog(page, 'Issue the invoice?')
  await press(issue, 'Issue it')
  await hear(page, /is issued\.$/)
  await page.getByRole('button', { name: 'Enter a payment' }).waitFor()
  const heading = (await page.getByRole('heading', { level: 1 }).textContent()) ?? ''
  return {
    number: /[A-Z]+-\d{4}-\d+/.exec(heading)?.[0] ?? '',
    net: await fact(page, 'Before tax'),
    tax: await fact(page, 'Tax, .*'),
    total: await fact(page, 'Total'),
  }
}

/** The whole amount comes in; the board has nothing left, and the job says that it is paid. */
export async function takePayment(page: Page): Promise<void> {
  await press(page, 'Enter a payment')
  await press(await dialog(page, /^Enter a payment on/), 'Enter the payment')
  await hear(page, 'is entered.')
  await see(page, 'Brackwell Ceramics: paid')
  await goTo(page, 'Board')
  await see(page, 'Nothing is open.')
  await page.keyboard.press('/')
  await page.keyboard.type('Slipware jugs')
  await page.getByRole('option').first().waitFor()
  await page.keyboard.press('Enter')
  await see(page, 'Paid. Nothing is left to do.')
}
