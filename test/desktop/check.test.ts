import fs from 'node:fs'
import path from 'node:path'
import type { Locator, Page } from 'playwright-core'
import { expect, it } from 'vitest'
import type { Bridge } from '../../main/doors/bridge.ts'
import { aTakeOfJpegs } from '../check/aTakeOfJpegs.ts'
import { dialog, press, see } from '../path/person.ts'
import { aFrameFolder } from '../takes/aFolder.ts'
import { atTheBench, theTablet } from '../takes/aSpin.ts'
import { describeDesktop, openDesktop } from './kit.ts'

type PageWindow = Window & { turnsheet: Bridge }

describeDesktop('the check of a take in the desktop program', () => {
  it('reads the frames that arrive, turns and shows them, and keeps small ones of a kept take', {
    timeout: 90_000,
  }, async () => {
    const { studio, jobId, shootIds, stand } = await atTheBench()
    studio.house.leave()?.close()
    const folder = aFrameFolder()
    const jpegs = await aTakeOfJpegs({ framesPerTurn: 24, frames: 12, lightEv: [] })
    const desktop = await openDesktop(studio.folder)
    const { page } = desktop
    try {
      const takeId = (await call(page, 'takes.start', { shootId: Number(shootIds[0]), ...stand, folder }))
        .takeId as number
      await goToAddress(page, `/takes/${takeId}/check`)
      jpegs.forEach((jpeg, index) => {
        fs.writeFileSync(path.join(folder, `IMG_${String(index + 1).padStart(4, '0')}.JPG`), jpeg)
      })
      await see(page, /^12\sframes read/)
      await page.locator('canvas[data-frame="1"]').waitFor()
      const viewer = page.getByRole('slider', { name: /to be turned$/ })
      await viewer.focus()
      await page.keyboard.press('ArrowRight')
      await page.locator('canvas[data-frame="2"]').waitFor()
      await press(page, 'Play')
      await expect.poll(() => viewer.getAttribute('aria-valuenow'), { interval: 20 }).not.toBe('2')
      await press(page, 'Stop')
      await press(page, 'Beside its neighbours')
      const beside = await dialog(page, /beside its neighbours$/)
      await expect.poll(() => isDrawn(beside.getByRole('img', { name: /^Frame \d+$/ }).first())).toBe(true)
      await press(beside, 'Close')

      const acts = [{ key: 'the-end', agoMs: 0, act: { kind: 'end' } }]
      await call(page, 'takes.act', { takeId, holder: theTablet, acts })
      await call(page, 'takes.judge', { takeId, verdict: 'keep' })
      await expect.poll(async () => (await stripOf(page, takeId)) !== null, { timeout: 15_000 }).toBe(true)
      fs.rmSync(folder, { recursive: true })
      await goToAddress(page, `/jobs/${jobId}/takes`)
      await press(page.getByRole('article', { name: 'Take 1' }), 'Look')
      const look = await dialog(page, 'What take 1 looks like')
      await expect
        .poll(() => isDrawn(look.getByRole('img', { name: /small frames on one sheet$/ })))
        .toBe(true)
      expect(desktop.complaints).toEqual([])
    } finally {
      await desktop.close()
    }
  })
})

interface Answer {
  readonly result: { readonly data: Record<string, unknown> }
}

/** A call over the bridge of the page. */
async function call(page: Page, name: string, input: unknown): Promise<Record<string, unknown>> {
  const answer = await page.evaluate(
    ({ url, body }) =>
      (window as unknown as PageWindow).turnsheet.call({
        url,
        method: 'POST',
        headers: { 'content-type': 'application/json' },
        body,
      }),
    { url: `/api/${name}`, body: JSON.stringify(input) },
  )
  expect(answer.status, answer.body).toBe(200)
  return (JSON.parse(answer.body) as Answer).result.data ?? {}
}

/** The contact strip that the studio holds of a take. */
async function stripOf(page: Page, takeId: number): Promise<unknown> {
  const url = `/api/takeCheck.report?input=${encodeURIComponent(JSON.stringify({ takeId }))}`
  const answer = await page.evaluate(
    (address) =>
      (window as unknown as PageWindow).turnsheet.call({ url: address, method: 'GET', headers: {} }),
    url,
  )
  return (JSON.parse(answer.body) as Answer).result.data.strip
}

async function goToAddress(page: Page, address: string): Promise<void> {
  await page.evaluate((to) => {
    location.href = to
  }, address)
  await page.waitForURL((url) => url.pathname === address)
}

/** Whether a picture has come and has pixels. */
function isDrawn(picture: Locator): Promise<boolean> {
  return picture.evaluate((element) => element instanceof HTMLImageElement && element.naturalWidth > 0)
}
