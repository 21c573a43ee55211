import { afterAll, beforeAll, expect, it } from 'vitest'
import { describeBrowser, type OpenBrowser, openBrowser } from './kit.ts'

const newStudio = {
  name: 'Quarry Lane Spins',
  personName: 'Ada Winter',
  country: 'DE',
  currency: 'EUR',
  timeZone: 'Europe/Berlin',
  locale: 'en-GB',
  taxName: 'VAT',
  taxRatePpm: 190_000,
}

describeBrowser('the planner', () => {
  let open: OpenBrowser
  const go = async (address: string) => {
    await open.page.goto(new URL(address, open.host.address).href)
    await open.page.getByRole('heading', { name: 'Planner' }).waitFor()
  }
  beforeAll(async () => {
    open = await openBrowser()
    const status = await open.page.evaluate(async (studio) => {
      const headers = { 'content-type': 'application/json' }
      return (
        await fetch('/api/start.createStudio', { method: 'POST', headers, body: JSON.stringify(studio) })
      ).status
    }, newStudio)
    expect(status).toBe(200)
  })
  afterAll(() => open?.close())

  it('follows typing, and its address gives the plan back', async () => {
    const { page } = open
    await go('/planner')
    await page.getByLabel('Rim, as its tape reads').fill('1223')
    await page.getByText('245 steps leave the seam short by 2 mm').waitFor()
    await page.waitForURL(/rim=1223/)
    await page.reload()
    expect(await page.getByLabel('Rim, as its tape reads').inputValue()).toBe('1223')
    await page.getByText('245 steps leave the seam short by 2 mm').waitFor()
  })

  it('says at each field what is wrong, and keeps the rest and what was typed', async () => {
    const { page } = open
    await go('/planner')
    await page.getByLabel('Step', { exact: true }).fill('2000')
    await page.getByLabel('Focal length').fill('3000')
    await page.getByText('is over half of the rim').waitFor()
    await page.getByText('is not shorter than the distance').waitFor()
    expect(await page.getByLabel('Step', { exact: true }).getAttribute('aria-invalid')).toBe('true')
    expect(await page.getByRole('img', { name: /The planned turn, 244 frames/ }).count()).toBe(1)
    await page.getByLabel('Swept width').fill('100')
    await page.getByLabel('Step', { exact: true }).fill('6.1')
    await page.getByText('1,220 mm ÷ 6.1 mm = 200: the turn closes.').waitFor()
    expect(await page.getByLabel('Focal length').inputValue()).toBe('3000')
  })

  it('takes a turn that closes from the list by keyboard', async () => {
    const { page } = open
    await go('/planner?stepIn=frames&step=240')
    const turn = page.getByRole('button', { name: '244 frames', exact: true })
    await turn.focus()
    await page.keyboard.press('Enter')
    await page.getByText('244 frames are a step of 5 mm: the turn closes, every step alike.').waitFor()
    expect(await turn.getAttribute('aria-pressed')).toBe('true')
  })

  it('plays the turns, and leaves them still for whoever wants less motion', async () => {
    const { page } = open
    await go('/planner')
    const solid = page.getByRole('img', { name: /A drawn solid turning in 244 frames/ })
    const picture = () => solid.evaluate((canvas: HTMLCanvasElement) => canvas.toDataURL())
    const before = await picture()
    await expect.poll(picture, { timeout: 5000 }).not.toBe(before)
    await page.getByRole('button', { name: 'Pause the turns' }).click()
    await page.emulateMedia({ reducedMotion: 'reduce' })
    await go('/planner')
    await page.getByRole('button', { name: 'Play the turns' }).waitFor()
    const still = await picture()
    await page.waitForTimeout(300)
    expect(await picture()).toBe(still)
    await page.emulateMedia({ reducedMotion: null })
  })

  it('prints the mark table and the rim strip as papers of the studio', async () => {
    const { page, context } = open
    await go('/planner')
    for (const name of ['Print the mark table', 'Print the rim strip']) {
      const [paper] = await Promise.all([
        context.waitForEvent('page'),
        page.getByRole('button', { name }).click(),
      ])
      await paper.waitForURL(/\/papers\/\d+$/)
      const answer = await context.request.get(paper.url())
      expect((await answer.body()).subarray(0, 5).toString()).toBe('%PDF-')
      await paper.close()
    }
    await page.getByLabel('Check bar measured').fill('150')
    await page.getByText('The bar measures 150 mm and should be 200 mm.').waitFor()
    expect(await page.getByRole('button', { name: 'Print the rim strip' }).isDisabled()).toBe(true)
  })

  it('says so where there is no such job, and complains of nothing', async () => {
    await go('/planner?job=99')
    await open.page.getByText('not in the studio').waitFor()
    await open.page.getByRole('link', { name: 'Plan without a job' }).click()
    await open.page.getByRole('region', { name: 'The turn' }).waitFor()
    expect(open.complaints).toEqual([])
  })
})
