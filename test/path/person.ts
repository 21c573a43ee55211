import type { Locator, Page } from 'playwright-core'

/** What a person can be looking at: a page, a dialog or a part of one. */
export type Place = Page | Locator

/** Goes to one of the places of work in the top line. */
export async function goTo(page: Page, place: string): Promise<void> {
  await page.getByRole('navigation', { name: 'Places of work' }).getByRole('link', { name: place }).click()
  await page.getByRole('heading', { level: 1, name: place }).waitFor()
}

/** Goes to one of a job's pages by the path across its top. */
export async function goToStation(page: Page, station: string): Promise<void> {
  await page
    .getByRole('navigation', { name: /^Stations of job/ })
    .getByRole('link', { name: new RegExp(`\\b${station}$`) })
    .click()
}

/** Presses a button. An empty list offers its act twice, above and beside what it says; the first is pressed. */
export async function press(place: Place, button: string | RegExp): Promise<void> {
  await place.getByRole('button', { name: button, exact: true }).first().click()
}

/** Follows a link, the first of those that bear these words. */
export async function follow(place: Place, link: string | RegExp): Promise<void> {
  await place.getByRole('link', { name: link, exact: true }).first().click()
}

/** Types into the fields that bear these labels; a choice is made by its words. */
export async function fillIn(place: Place, fields: Readonly<Record<string, string>>): Promise<void> {
  for (const [label, value] of Object.entries(fields)) {
    const field = place.getByLabel(label, { exact: true })
    const isChoice = (await field.evaluate((element) => element.tagName)) === 'SELECT'
    if (isChoice) await field.selectOption({ label: value })
    else await field.fill(value)
  }
}

/** The dialog that bears this title, once it is open. */
export async function dialog(page: Page, title: string | RegExp): Promise<Locator> {
  const open = page.getByRole('dialog', { name: title })
  await open.waitFor()
  return open
}

/** Waits until the program has said this, at the foot of the window or beside what was done. */
export async function hear(page: Page, sentence: string | RegExp): Promise<void> {
  await page.getByRole('status').filter({ hasText: sentence }).first().waitFor()
}

/** Waits until the page shows these words. */
export async function see(place: Place, words: string | RegExp): Promise<void> {
  await place.getByText(words).filter({ visible: true }).first().waitFor()
}

/** The value beside a fact's label, such as `Total`. */
export async function fact(place: Place, label: string): Promise<string> {
  const term = place.getByRole('term').filter({ hasText: new RegExp(`^${label}$`) })
  return (await term.locator('xpath=following-sibling::dd').textContent()) ?? ''
}
