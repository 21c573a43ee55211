import type { Page } from 'playwright-core'
import { afterEach, beforeEach, expect, it } from 'vitest'
import { aStudioToTurn, startTheTake } from '../path/longTake.ts'
import { press, see } from '../path/person.ts'
import { describeBrowser, type OpenBrowser, openBrowser } from './kit.ts'

const viewport = { width: 1024, height: 768 }

describeBrowser('a running take and two people', () => {
  let open: OpenBrowser
  beforeEach(async () => {
    open = await openBrowser(await aStudioToTurn(), [], { context: { viewport, hasTouch: true } })
  })
  afterEach(() => open?.close())

  it('is watched by the second, who takes it over; what the first had not sent is kept and offered', async () => {
    const tablet = open.page
    await startTheTake(tablet)
    await shoot(tablet, 3)
    await see(tablet, 'frame 3 kept')
    const desk = await anotherDevice(open)
    const running = desk.getByRole('region', { name: 'At the bench now' })
    await see(running, /Take 1 of Kettle is running, frame 3 of 244\./)
    await see(running, /Mara Quist, at the tablet, since \d\d:\d\d, last frame just now/)
    await running.getByRole('link', { name: 'Watch it' }).click()
    await see(desk, /In other hands: Mara Quist, at the tablet, since .*Here you can watch it\./)
    await desk.keyboard.press('Space')
    await shoot(tablet, 1)
    await see(desk, 'frame 4 kept')

    await open.context.setOffline(true)
    await shoot(tablet, 2)
    await see(tablet, /kept on this tablet, 2\sframes to send/)
    await press(desk, 'Take it over')
    await shoot(desk, 1)
    await see(desk, 'frame 5 kept')
    await open.context.setOffline(false)
    await see(tablet, /2\sframes done here have not reached the studio/)
    await see(
      tablet,
      /1\sframe was shot there since\. Sent now, those from here come after it, at marks 6 to 7\./,
    )
    await tablet.keyboard.press('Space')
    await tablet.reload()
    await see(tablet, /2\sframes done here have not reached the studio/)
    await press(tablet, 'Take it back and send them')
    await see(tablet, 'frame 7 kept')
    await see(desk, /In other hands: Mara Quist, at the tablet, since .*Here you can watch it\./)
    await see(desk, 'frame 7 kept')
    expect(open.complaints.filter((line) => !/ERR_/.test(line))).toEqual([])
  })

  it('is turned in one window of a device at a time, and goes on in the other where that is asked for', async () => {
    const { page, context } = open
    await startTheTake(page)
    await shoot(page, 2)
    await see(page, 'frame 2 kept')
    const second = await context.newPage()
    await second.goto(page.url())
    await see(second, 'This take is open in another window of this device.')
    await press(second, 'Go on in this window')
    await shoot(second, 1)
    await see(second, 'frame 3 kept')
    await page.bringToFront()
    await see(page, 'This take is open in another window of this device.')
    await second.close()
    await shoot(page, 1)
    await see(page, 'frame 4 kept')
    expect(open.complaints).toEqual([])
  })
})

async function shoot(page: Page, frames: number): Promise<void> {
  await page.getByRole('button', { name: /^Frame/ }).waitFor()
  for (let frame = 0; frame < frames; frame += 1) await page.keyboard.press('Space')
}

/** A browser of another device that has been let in as well. */
async function anotherDevice({ browser, context, page }: OpenBrowser): Promise<Page> {
  const other = await browser.newContext({ viewport: { width: 1280, height: 800 }, locale: 'en-GB' })
  await other.addCookies(await context.cookies())
  const desk = await other.newPage()
  await desk.goto(new URL('/board', page.url()).href)
  return desk
}
