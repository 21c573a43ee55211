import { afterAll, beforeAll, expect, it } from 'vitest'
import { aPlatter, aRevision } from '../rigs/builders.ts'
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

describeBrowser('the drawing of a rig', () => {
  let open: OpenBrowser
  let rigId = 0
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
  const plan = () => open.page.getByRole('group', { name: /from above/ })
  const side = () => open.page.getByRole('group', { name: /from the side/ })
  const field = (name: string) => open.page.locator(`[name="${name}"]`)
  const revise = async () => {
    await open.page.goto(new URL(`/rigs/${rigId}/revise`, open.host.address).href)
    await plan().waitFor()
  }

  beforeAll(async () => {
    open = await openBrowser()
    await ask('start.createStudio', newStudio)
    const { platterId } = await ask('platters.add', aPlatter())
    const made = await ask('rigs.add', {
      rig: { name: 'Glass', sizeClass: 'small', note: null },
      revision: aRevision(Number(platterId)),
    })
    rigId = Number(made.rigId)
  })
  afterAll(() => open?.close())

  it('is dragged by the pointer, and the figures follow; typed, and the drawing follows', async () => {
    const { page } = open
    await revise()
    const grip = plan().getByRole('slider', { name: 'Light A' })
    const middle = async () => {
      const box = await grip.boundingBox()
      if (!box) throw new Error('The light is not drawn.')
      return { x: box.x + box.width / 2, y: box.y + box.height / 2 }
    }
    const from = await middle()
    await page.mouse.move(from.x, from.y)
    await page.mouse.down()
    await page.mouse.move(from.x - 20, from.y - 30, { steps: 5 })
    await page.mouse.up()
    const bearing = Number(await field('lights.0.bearingDeg').inputValue())
    const distance = Number((await field('lights.0.distanceMm').inputValue()).replace(',', ''))
    // To the left and away from the camera: farther round, clockwise from it. Whole degrees, five millimetres.
    expect(bearing).toBeGreaterThan(45)
    expect(bearing).toBeLessThan(110)
    expect(Number.isInteger(bearing) && distance % 5 === 0).toBe(true)
    expect(await grip.getAttribute('aria-valuetext')).toContain(`bearing ${bearing}°`)
    await field('lights.0.bearingDeg').fill('90')
    await field('lights.0.distanceMm').fill('700')
    expect(await grip.getAttribute('aria-valuetext')).toMatch(/^bearing 90°, 700\smm/)
    await plan().getByText('90° 700').waitFor()
  })

  it('is moved by the arrow keys on what has the focus, ten times as far with Shift', async () => {
    await revise()
    await plan().getByRole('slider', { name: 'Light B' }).focus()
    await open.page.keyboard.press('ArrowRight')
    await open.page.keyboard.press('Shift+ArrowUp')
    expect(await field('lights.1.bearingDeg').inputValue()).toBe('316')
    expect(await field('lights.1.distanceMm').inputValue()).toBe('1,000')
    await side().getByRole('slider', { name: 'Light B' }).focus()
    await open.page.keyboard.press('ArrowUp')
    expect(await field('lights.1.heightMm').inputValue()).toBe('410')
    await side().getByRole('slider', { name: 'Where the camera looks' }).focus()
    await open.page.keyboard.press('ArrowDown')
    expect(await field('cameraTiltDeg').inputValue()).toBe('0.5')
  })

  it('is kept as the next revision as it was dragged, with the reason why', async () => {
    await revise()
    await plan().getByRole('slider', { name: 'Camera' }).focus()
    await open.page.keyboard.press('ArrowDown')
    await open.page.getByLabel('Why', { exact: true }).fill('lamp arms swept out of the frame')
    await open.page.getByRole('button', { name: 'Keep as revision 2' }).click()
    await open.page.getByText('revision 2 of 2').waitFor()
    await open.page.getByRole('cell', { name: 'lamp arms swept out of the frame' }).waitFor()
    const { cameraDistanceMm } = await ask('rigs.revision', { rigRevisionId: 2 })
    expect(cameraDistanceMm).toBe(1_860)
    expect(open.complaints).toEqual([])
  })

  it('is dragged by a finger on a tablet, and the page does not scroll away', async () => {
    const touch = await open.browser.newContext({
      viewport: { width: 1024, height: 768 },
      hasTouch: true,
      storageState: await open.context.storageState(),
    })
    const page = await touch.newPage()
    await page.goto(new URL(`/rigs/${rigId}/revise`, open.host.address).href)
    const grip = page.getByRole('group', { name: /from above/ }).getByRole('slider', { name: 'Light A' })
    await grip.scrollIntoViewIfNeeded()
    const box = await grip.boundingBox()
    if (!box) throw new Error('The light is not drawn.')
    // A finger needs 24 px at least (WCAG 2.2, 2.5.8); here it has 44.
    expect(Math.min(box.width, box.height)).toBeGreaterThanOrEqual(24)
    const before = await page.evaluate(() => window.scrollY)
    const [x, y] = [box.x + box.width / 2, box.y + box.height / 2]
    const finger = await touch.newCDPSession(page)
    const at = (dx: number, dy: number) => [{ x: x + dx, y: y + dy }]
    await finger.send('Input.dispatchTouchEvent', { type: 'touchStart', touchPoints: at(0, 0) })
    for (const step of [10, 20, 30]) {
      await finger.send('Input.dispatchTouchEvent', { type: 'touchMove', touchPoints: at(0, -step) })
    }
    await finger.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] })
    expect(Number(await page.locator('[name="lights.0.bearingDeg"]').inputValue())).toBeGreaterThan(45)
    expect(await page.evaluate(() => window.scrollY)).toBe(before)
    await touch.close()
  })
})
