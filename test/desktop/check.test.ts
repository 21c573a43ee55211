import fs from 'node:fs'
import path from 'node:path'
import { expect, it } from 'vitest'
import type { Bridge } from '../../main/doors/bridge.ts'
import { aTakeOfJpegs } from '../check/aTakeOfJpegs.ts'
import { press, see } from '../path/person.ts'
import { aFrameFolder } from '../takes/aFolder.ts'
import { atTheBench } from '../takes/aSpin.ts'
import { describeDesktop, openDesktop } from './kit.ts'

type PageWindow = Window & { turnsheet: Bridge }

describeDesktop('the check of a take in the desktop program', () => {
  it('reads the frames that arrive, and turns them in its viewer', { timeout: 90_000 }, async () => {
    const { studio, shootIds, stand } = await atTheBench()
    studio.house.leave()?.close()
    const folder = aFrameFolder()
    const jpegs = await aTakeOfJpegs({ framesPerTurn: 24, frames: 12, lightEv: [] })
    const desktop = await openDesktop(studio.folder)
    const { page } = desktop
    try {
      const answer = await page.evaluate(
        (body) =>
          (window as unknown as PageWindow).turnsheet.call({
            url: '/api/takes.start',
            method: 'POST',
            headers: { 'content-type': 'application/json' },
            body,
          }),
        JSON.stringify({ shootId: Number(shootIds[0]), ...stand, folder }),
      )
      const takeId: number = JSON.parse(answer.body).result.data.takeId
      await page.evaluate((address) => {
        location.href = address
      }, `/takes/${takeId}/check`)
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
      expect(desktop.complaints).toEqual([])
    } finally {
      await desktop.close()
    }
  })
})
