import type { Page } from 'playwright-core'
import { expect } from 'vitest'
import { dialog, fillIn, follow, goTo, hear, press, see } from './person.ts'

/**
 * Issues the one draft there is, of 120.00 for four pieces: its paper is shown first, under the number it is given,
 * and it is asked once.
 * @returns its number
 */
export async function issueTheDraft(page: Page): Promise<string> {
  await goTo(page, 'Invoices')
  await press(page, 'Drafts')
  await page.getByRole('cell', { name: '€120.00' }).first().click()
  await press(page, 'Issue it')
  const issue = await dialog(page, 'Issue the invoice?')
  const paper = issue.getByRole('article', { name: 'The invoice as it will be' })
  const title = (await paper.getByRole('heading', { name: /^Invoice I-/ }).textContent()) ?? ''
  await see(paper, 'Fjordlicht')
  await see(paper, '€120.00')
  await press(issue, 'Issue it')
  const number = title.replace('Invoice ', '')
  await hear(page, `${number} is issued.`)
  await page.getByRole('heading', { level: 1, name: new RegExp(number) }).waitFor()
  return number
}

/** 40.00 of the 120.00 come in. */
export async function payInPart(page: Page): Promise<void> {
  await press(page, 'Enter a payment')
  const payment = await dialog(page, /^Enter a payment on/)
  await fillIn(payment, { 'Came in': '40.00' })
  await press(payment, 'Enter the payment')
  await hear(page, 'is entered.')
  await see(page, /€80\.00 open/)
}

/** One of the four pieces is credited, whose paper is shown first; 50.00 are left open. */
export async function creditOnePiece(page: Page, number: string): Promise<void> {
  await press(page, 'Write a credit note')
  const credit = await dialog(page, `Credit note on ${number}`)
  await fillIn(credit, {
    'Why it is credited': 'One spin was not wanted',
    'How much': 'Some of its lines',
    'Credited of Spins': '1',
  })
  await press(credit, 'Draft the credit note')
  await press(page, 'Issue it')
  const issue = await dialog(page, 'Issue the credit note?')
  await see(issue.getByRole('article'), number)
  await press(issue, 'Issue it')
  await hear(page, /^C-\d{4}-\d+ is issued\.$/)
  await follow(page, number)
  await see(page, /€50\.00 open/)
}

/** The page that hands an accountant lists and papers, over all days of last year and this. */
export async function goToAccountant(page: Page): Promise<void> {
  await goTo(page, 'Invoices')
  await follow(page, 'For the accountant')
  const year = new Date().getUTCFullYear()
  await fillIn(page, { 'First day': `${year - 1}-01-01`, 'Last day': `${year}-12-31` })
  await see(page, /4\sdocuments issued in these days/)
}

/** What an accountant must find in the archive. */
export function expectPapers(names: readonly string[], numbers: readonly string[]): void {
  expect(names).toEqual(
    expect.arrayContaining([
      ...numbers.map((number) => `papers/${number}.pdf`),
      'manifest.csv',
      'sales-journal.csv',
    ]),
  )
}
