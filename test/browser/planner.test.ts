import { afterAll, beforeAll, expect, it } from 'vitest'
import { aClient, aProduct } from '../builders.ts'
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

const aJob = {
  contactId: null,
  title: 'Kettles',
  orderNumber: null,
  buyerReference: null,
  costCentre: null,
  callBackDay: null,
  dueDay: null,
  promiseWorkingDays: null,
  returnByDay: null,
  note: null,
}

describeBrowser('the planner', () => {
  let open: OpenBrowser
  /** Calls the studio as its pages do. */
  const ask = async (path: string, input: unknown): Promise<Record<string, number>> => {
    const { status, answer } = await open.page.evaluate(
      async ([name, body]) => {
        const headers = { 'content-type': 'application/json' }
        const response = await fetch(`/api/${name}`, { method: 'POST', headers, body })
        return { status: response.status, answer: await response.json() }
      },
      [path, JSON.stringify(input)] as const,
    )
    expect(status, JSON.stringify(answer)).toBe(200)
    return answer.result?.data
  }
  const go = async (address: string) => {
    await open.page.goto(new URL(address, open.host.address).href)
    await open.page.getByRole('heading', { name: 'Planner' }).waitFor()
  }
  beforeAll(async () => {
    open = await openBrowser()
    await ask('start.createStudio', newStudio)
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

  it('shows the middle of the turns at true size, and every row from its own angle', async () => {
    const { page } = open
    await go('/planner?rows=2&angle=5')
    await page.getByRole('button', { name: 'True size' }).click()
    await page.getByText('a delivered pixel on a pixel of this screen').waitFor()
    await page.getByLabel('Row 2, down by').fill('steep')
    await page.getByText('not a number').waitFor()
    expect(await page.getByRole('button', { name: 'Print the mark table' }).isDisabled()).toBe(true)
    await page.getByLabel('Row 2, down by').fill('35')
    await page.getByText(/row 2, 35° down, fills/).waitFor()
    await page.getByLabel('Row shown').selectOption({ label: 'row 2' })
    await page.getByText(/the figures above are row 2’s/).waitFor()
  })

  it('shows a row’s wrong field also where the address is wrong from the start', async () => {
    const { page } = open
    await go('/planner?rows=3&parted=yes&frames3=9999&angle2=steep')
    await page.getByText('The number of frames is 9999 frames. Enter from 2 to 1440 frames.').waitFor()
    expect(await page.getByLabel('Row 3, frames a turn').getAttribute('aria-invalid')).toBe('true')
    await page.getByLabel('Row 2, down by').fill('20')
    await page.getByLabel('Row 3, frames a turn').fill('61')
    await page.getByText('558 frames to shoot').waitFor()
    await page.getByText(/row 2, 20° down, fills/).waitFor()
  })

  it('brings its turn into the quote of a job, and the quote’s turn back to it', async () => {
    const { page } = open
    const { clientId } = await ask('clients.add', aClient())
    const { productId } = await ask('products.add', { clientId, product: aProduct() })
    const { jobId } = await ask('jobs.add', { clientId, job: aJob, spins: [{ productIds: [productId] }] })
    await go(`/planner?job=${jobId}`)
    const use = page.getByRole('link', { name: 'Use in the quote' })
    await page.getByLabel('Frames a turn').fill('1')
    await page.getByRole('button', { name: 'Use in the quote', disabled: true }).waitFor()
    await page.getByLabel('Frames a turn').fill('122')
    await page.getByLabel('Rows').fill('2')
    await page.getByText('250 frames to shoot: 2 rows of 122 and 3 past the turn.').waitFor()
    await use.click()
    const figure = (label: string) => page.getByLabel(label, { exact: true }).inputValue()
    await page.getByLabel('Frames a turn', { exact: true }).waitFor()
    await expect.poll(() => figure('Frames a turn')).toBe('122')
    expect(await figure('Rows')).toBe('2')
    expect(await figure('Rim')).toContain('1,220')
    expect(new URL(page.url()).search).toBe('')
    await page.getByRole('button', { name: 'Keep the draft' }).click()
    await page.getByText('Kept. Nothing has changed since.').waitFor()
    await page.reload()
    await page.getByLabel('Frames a turn', { exact: true }).waitFor()
    await expect.poll(() => figure('Frames a turn')).toBe('122')
    await page.getByRole('link', { name: 'Look at it in the planner' }).click()
    await page.getByText('122 frames are a step of 10 mm: the turn closes, every step alike.').waitFor()
    expect(await figure('Rows')).toBe('2')
    expect(open.complaints).toEqual([])
  })

  it('plans two unequal rows, and hands them to the quote and back', async () => {
    const { page } = open
    const { clientId } = await ask('clients.add', aClient({ name: 'Fenwood Kettles' }))
    const { productId } = await ask('products.add', { clientId, product: aProduct() })
    const { jobId } = await ask('jobs.add', { clientId, job: aJob, spins: [{ productIds: [productId] }] })
    await go(`/planner?job=${jobId}`)
    const figure = (label: string) => page.getByLabel(label, { exact: true }).inputValue()
    await page.getByLabel('Frames a turn').fill('244')
    await page.getByLabel('Overlap', { exact: true }).fill('82')
    await page.getByLabel('Rows').fill('2')
    await page.getByLabel('Each row has its own frames').check()
    await page.getByLabel('Row 2, frames a turn').fill('1')
    await page.getByText('The number of frames is 1 frames. Enter from 2 to 1440 frames.').waitFor()
    await page.getByRole('button', { name: 'Use in the quote', disabled: true }).waitFor()
    await page.getByLabel('Row 2, frames a turn').fill('122')
    await page.getByLabel('Row 2, overlap').fill('41')
    await page
      .getByText('489 frames to shoot: 244 and 82 past the turn in row 1, 122 and 41 past the turn in row 2.')
      .waitFor()
    await page.getByLabel('Row 2, down by').fill('30')
    await page.getByRole('img', { name: /The planned turn of row 1, 244 frames/ }).waitFor()
    await page.getByRole('button', { name: 'Row 2, 30°' }).click()
    await page.getByRole('img', { name: /The planned turn of row 2, 122 frames/ }).waitFor()
    await page.getByText('One turn of 122 frames lasts 4.88 s').waitFor()
    await page.getByRole('button', { name: '120 frames', exact: true }).click()
    await expect.poll(() => figure('Row 2, frames a turn')).toBe('120')
    expect(await figure('Row 1, frames a turn')).toBe('244')
    await page.getByLabel('Row 2, frames a turn').fill('122')
    await page.getByRole('link', { name: 'Use in the quote' }).click()
    await page.getByRole('listitem', { name: 'Row 2' }).waitFor()
    const row = (number: number, label: string) =>
      page
        .getByRole('listitem', { name: `Row ${number}` })
        .getByLabel(label)
        .inputValue()
    const rows = async () => [
      await row(1, 'Frames per turn'),
      await row(1, 'Overlap'),
      await row(2, 'Viewing angle'),
      await row(2, 'Frames per turn'),
      await row(2, 'Overlap'),
    ]
    expect(await rows()).toEqual(['244', '82', '30', '122', '41'])
    await page
      .getByText(/1 spin × \(244 \+ 82 \+ 122 \+ 41\) frames/)
      .first()
      .waitFor()
    await page.getByRole('button', { name: 'Keep the draft' }).click()
    await page.getByText('Kept. Nothing has changed since.').waitFor()
    await page.reload()
    await page.getByRole('listitem', { name: 'Row 2' }).waitFor()
    expect(await rows()).toEqual(['244', '82', '30', '122', '41'])
    await page.getByRole('button', { name: 'Row 2', exact: true }).click()
    await page.getByRole('img', { name: /The turn that is quoted, row 2, 122 frames/ }).waitFor()
    await page.getByRole('link', { name: 'Look at it in the planner' }).click()
    await page.getByText('489 frames to shoot').waitFor()
    expect(await figure('Row 2, frames a turn')).toBe('122')
    expect(await figure('Row 2, down by')).toBe('30')
    await page.goBack()
    await page.getByRole('button', { name: 'All rows like row 1' }).click()
    await expect.poll(() => figure('Frames a turn')).toBe('244')
    expect(await figure('Rows')).toBe('2')
    await page.getByText('Seen from 0° and 30°, every row alike.').waitFor()
    expect(open.complaints).toEqual([])
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
