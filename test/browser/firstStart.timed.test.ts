import { afterAll, beforeAll, expect, it } from 'vitest'
import { press } from '../path/person.ts'
import { describeBrowser, type OpenBrowser, openBrowser } from './kit.ts'

describeBrowser('the first start', () => {
  let there: OpenBrowser
  beforeAll(async () => {
    there = await openBrowser()
  })
  afterAll(() => there?.close())

  it('makes and opens the demo studio in one press', async () => {
    const { page } = there
    await press(page, /demo studio/)
    await page.getByRole('heading', { level: 1, name: 'Board' }).waitFor({ timeout: 60_000 })
    await page.getByText(/\d+\sopen\sjobs/).waitFor()
    expect(there.complaints).toEqual([])
  })
})
