import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import axe from 'axe-core'
import type { Locator } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { type Db, openStore } from '../../db/open.ts'
import { aTakeOfJpegs } from '../check/aTakeOfJpegs.ts'
import { dialog, fillIn, follow, press, see } from '../path/person.ts'
import { aReadySpin } from './aReadySpin.ts'
import { describeBrowser, type OpenBrowser, openBrowser } from './kit.ts'

const framesPerTurn = 24
const overlapFrames = 2
/** From this frame on a lamp is out: 0.4 EV darker. */
const darkFrom = 15

describeBrowser('the check of a take', () => {
  const place = mkdtempSync(join(tmpdir(), 'turnsheet-check-'))
  const folder = mkdtempSync(join(place, 'card-'))
  let open: OpenBrowser
  let db: Db
  let jpegs: readonly Buffer[]
  let takeId = 0
  const go = (address: string) => open.page.goto(new URL(address, open.host.address).href)
  const faults = () =>
    db.prepare('SELECT kind, frame FROM take_fault WHERE take_id = ?').all(takeId) as { kind: string }[]
  const viewer = () => open.page.getByRole('slider', { name: /to be turned$/ })
  const frameNow = async () => Number(await viewer().getAttribute('aria-valuenow'))
  const shoot = (frame: number) =>
    writeFileSync(join(folder, `IMG_${String(frame).padStart(4, '0')}.JPG`), jpegs[frame - 1] ?? '')

  beforeAll(async () => {
    const studio = join(place, 'studio')
    const shootId = await aReadySpin(studio, [{ angleMdeg: 0, framesPerTurn, overlapFrames }])
    const lightEv = Array.from({ length: framesPerTurn + overlapFrames }, (_, frame) =>
      frame + 1 >= darkFrom ? -0.4 : 0,
    )
    jpegs = await aTakeOfJpegs({ framesPerTurn, frames: framesPerTurn + overlapFrames, lightEv })
    open = await openBrowser(studio)
    await open.context.addInitScript(axe.source)
    db = openStore(join(studio, 'studio.db'), { readonly: true })
    takeId = await startTake(shootId)
  }, 180_000)
  afterAll(async () => {
    db?.close()
    await open?.close()
    rmSync(place, { recursive: true, force: true })
  })

  it('begins by itself where files count the take, is stopped, and begins again in a folder that is there', async () => {
    const { page } = open
    await go(`/takes/${takeId}`)
    await see(page, 'The pictures are checked as they arrive.')
    await follow(page, 'Look at the pictures')
    await press(page, 'Stop checking')
    await see(page, /were read before it was stopped/)
    await press(page, 'Read the pictures again')
    const typed = page.getByLabel('Folder with the frames')
    await typed.fill(join(place, 'nowhere'))
    await press(page, 'Check the pictures')
    await page.getByRole('alert').filter({ hasText: 'nowhere' }).waitFor()
    expect(await typed.inputValue()).toBe(join(place, 'nowhere'))
    expect(await wrongWith(open)).toEqual([])
    await typed.fill(folder)
    await press(page, 'Check the pictures')
    await see(page, /read as they arrive\./)
  })

  it('goes on in another folder, chosen at the bench, and refuses one that is not there', async () => {
    const { page } = open
    const another = mkdtempSync(join(place, 'card-'))
    const choose = async (named: string) => {
      await press(page, 'Another folder')
      const asked = await dialog(page, 'The take goes on in another folder')
      await asked.getByLabel(/^Folder the camera/).fill(named)
      await press(page, 'Count by this folder')
      return asked
    }
    await go(`/takes/${takeId}`)
    const asked = await choose(join(place, 'nowhere'))
    await asked.getByRole('alert').filter({ hasText: 'nowhere' }).waitFor()
    expect(await wrongWith(open)).toEqual([])
    await asked.getByLabel(/^Folder the camera/).fill(another)
    await press(page, 'Count by this folder')
    await see(page, new RegExp(`arriving in ${another}`))
    expect(await wrongWith(open)).toEqual([])
    await choose(folder)
    await see(page, new RegExp(`arriving in ${folder}`))
  })

  it('says at the bench within seconds that the light has changed, in one sentence and a mark', async () => {
    const { page } = open
    await go(`/takes/${takeId}`)
    await see(page, 'turn to')
    for (let frame = 1; frame <= darkFrom + 5; frame += 1) shoot(frame)
    await see(page, `${darkFrom + 5} of ${framesPerTurn}`)
    await page
      .getByText(/EV darker/)
      .filter({ visible: true })
      .first()
      .waitFor({ timeout: 15_000 })
    // Seen from two metres too, while it is fresh.
    await page.locator('[data-far]').filter({ hasText: 'light change' }).waitFor()
    expect(faults()).toEqual([])
    expect(await wrongWith(open)).toEqual([])
  })

  it('opens the frame beside its neighbours over the bench, and makes it a fault once the person agrees', async () => {
    const { page } = open
    await press(page, /^Look at frame \d+ beside its neighbours/)
    const beside = await dialog(page, new RegExp(`^Frame ${darkFrom} beside`))
    for (const frame of [darkFrom - 1, darkFrom, darkFrom + 1]) {
      await expect
        .poll(() => isDrawn(beside.getByRole('img', { name: `Frame ${frame}`, exact: true })))
        .toBe(true)
    }
    expect(await wrongWith(open)).toEqual([])
    await beside.getByRole('button', { name: 'Frame after' }).focus()
    await page.keyboard.press('ArrowRight')
    await dialog(page, new RegExp(`^Frame ${darkFrom + 1} beside`))
    await page.keyboard.press('ArrowLeft')
    const again = await dialog(page, new RegExp(`^Frame ${darkFrom} beside`))
    await press(again, 'It is a fault')
    await see(again, 'A fault of the take: light change.')
    expect(faults()).toMatchObject([{ kind: 'light change' }])
    await press(again, 'Take that back')
    await again.getByRole('button', { name: 'It is a fault' }).waitFor()
    expect(faults()).toEqual([])
    await press(again, 'It is a fault')
    await see(again, 'A fault of the take: light change.')
    await press(again, 'Close')
    await page.getByRole('img', { name: new RegExp(`light change at frame ${darkFrom}`) }).waitFor()
  })

  it('stands beside the verdict, and its strip and viewer a press away', async () => {
    const { page } = open
    for (let frame = darkFrom + 6; frame <= framesPerTurn + overlapFrames; frame += 1) shoot(frame)
    await see(page, 'The turn is closed')
    await page.keyboard.press('e')
    await see(page, 'Or what is wrong with it')
    await expect.poll(() => page.getByRole('button', { name: 'light change', pressed: true }).count()).toBe(1)
    expect(await wrongWith(open)).toEqual([])
    await follow(page, 'Turn it and look at every frame')
    await see(page, /^26\sframes read/)
    await page.getByRole('img', { name: /26\sframes of 26 read/ }).waitFor()
    await press(page, 'Every frame as a table')
    const table = page.getByRole('table', { name: 'Figures of each frame' })
    await table.getByRole('row').filter({ hasText: 'IMG_0026.JPG' }).waitFor()
    expect(await wrongWith(open)).toEqual([])
  })

  it('is turned by hand and by keys, and is played round', async () => {
    const { page } = open
    await drawn(1)
    await viewer().scrollIntoViewIfNeeded()
    const box = await viewer().boundingBox()
    if (!box) throw new Error('The viewer has no place.')
    const y = box.y + box.height / 2
    await page.mouse.move(box.x + box.width * 0.75, y)
    await page.mouse.down()
    await page.mouse.move(box.x + box.width * 0.25, y, { steps: 5 })
    await page.mouse.up()
    // Half the picture is a quarter of the turn; a frame more or less by rounding.
    expect(Math.abs((await frameNow()) - (1 + framesPerTurn / 4))).toBeLessThanOrEqual(1)
    await viewer().focus()
    await page.keyboard.press('Home')
    await page.keyboard.press('ArrowRight')
    await drawn(2)
    await page.keyboard.press('ArrowLeft')
    await page.keyboard.press('ArrowLeft')
    // Back over the seam: the loop's last frame.
    const last = Number(await viewer().getAttribute('aria-valuemax'))
    await drawn(last)
    const seen = new Set<number>()
    const large: string[] = []
    page.on('request', (request) => request.url().endsWith('/large') && large.push(request.url()))
    await page.keyboard.press('Space')
    for (const until = Date.now() + 1500; Date.now() < until; ) seen.add(await frameNow())
    expect(large).toEqual([])
    // A frame that is stopped at is fetched once more, large.
    const fetched = page.waitForResponse((answer) => answer.url().endsWith('/large'))
    await page.keyboard.press('Space')
    expect(seen.size).toBeGreaterThan(framesPerTurn / 3)
    const stopped = await frameNow()
    const answer = await fetched
    expect([new URL(answer.url()).pathname, answer.status()]).toEqual([
      `/frames/${takeId}/${stopped}/large`,
      200,
    ])
    await page.waitForTimeout(200)
    expect(await frameNow()).toBe(stopped)
  })

  it('blinks the seam between its two frames, and stands still where less motion is asked for', async () => {
    const { page } = open
    await press(page, 'Blink the seam')
    const shown = new Set<string | null>()
    await expect
      .poll(async () => shown.add(await viewer().getAttribute('aria-valuetext')).size, { timeout: 4000 })
      .toBe(2)
    expect([...shown].sort()).toEqual([
      expect.stringMatching(/^First frame of the loop, 1$/),
      expect.stringMatching(/^Last frame of the loop, \d+$/),
    ])
    await page.emulateMedia({ reducedMotion: 'reduce' })
    await see(page, /asks for less motion/)
    const still = await viewer().getAttribute('aria-valuetext')
    await page.waitForTimeout(1200)
    expect(await viewer().getAttribute('aria-valuetext')).toBe(still)
    await press(page, 'One on')
    expect(await viewer().getAttribute('aria-valuetext')).not.toBe(still)
    await page.emulateMedia({ reducedMotion: 'no-preference' })
    await press(page, 'Blink the seam')
  })

  it('opens with the loop and the way round that were chosen, and goes back to what the check proposes', async () => {
    const { page } = open
    const proposed = await viewer().getAttribute('aria-valuemax')
    await page.getByRole('textbox', { name: 'Loop from frame' }).fill('4')
    await press(page, 'Other way round')
    await page.getByRole('img', { name: /loop from frame 4 to / }).waitFor()
    await go(`/takes/${takeId}`)
    await go(`/takes/${takeId}/check`)
    await see(
      page,
      /^This loop was chosen here; the check proposes frame 1 to \d+\. It is played backwards\./,
    )
    expect(await viewer().getAttribute('aria-valuemin')).toBe('4')
    expect(await page.getByRole('button', { name: 'Other way round', pressed: true }).count()).toBe(1)
    await press(page, 'As proposed')
    await press(page, 'Other way round')
    await see(page, 'The loop is as the check proposes it.')
    await page.getByRole('img', { name: /loop from frame 1 to / }).waitFor()
    expect(await viewer().getAttribute('aria-valuemax')).toBe(proposed)
    await expect.poll(() => db.prepare('SELECT count(*) FROM take_loop').pluck().get()).toBe(0)
  })

  it('has the ends of the loop typed key by key, and takes over what another window chose', async () => {
    const { page } = open
    await go(`/takes/${takeId}/check`)
    const from = page.getByRole('textbox', { name: 'Loop from frame' })
    const to = page.getByRole('textbox', { name: 'to frame', exact: true })
    await from.fill('8')
    await to.focus()
    // Over frame 1, which lies before the loop, and over nothing.
    for (const key of ['Control+A', 'Backspace', '1', '5']) await page.keyboard.press(key)
    expect([await from.inputValue(), await to.inputValue()]).toEqual(['8', '15'])
    await page.keyboard.press('Tab')
    expect([await from.inputValue(), await to.inputValue()]).toEqual(['8', '15'])
    await page.getByRole('img', { name: /loop from frame 8 to 15/ }).waitFor()
    // The loop is short: its ends are named together.
    await see(page, 'loop from 8 to 15')
    const other = await open.context.newPage()
    await other.goto(page.url())
    await other.getByRole('button', { name: 'Other way round' }).click()
    await page.getByRole('button', { name: 'Other way round', pressed: true }).waitFor()
    await other.close()
    expect([await from.inputValue(), await to.inputValue()]).toEqual(['8', '15'])
    await press(page, 'As proposed')
    await press(page, 'Other way round')
    await expect.poll(() => db.prepare('SELECT count(*) FROM take_loop').pluck().get()).toBe(0)
  })

  it('has the band of the edge mark drawn by pointer, keys and figures, kept, shown again and taken away', async () => {
    const { page } = open
    const title = 'Band of the mark on the platter’s edge'
    await press(page, 'Draw the band')
    const draw = await dialog(page, title)
    const picture = draw.getByRole('img', { name: 'Frame 1 with the band' })
    await expect.poll(() => isDrawn(picture)).toBe(true)
    const box = await picture.boundingBox()
    if (!box) throw new Error('The picture has no place.')
    await page.mouse.move(box.x + box.width * 0.2, box.y + box.height * 0.6)
    await page.mouse.down()
    await page.mouse.move(box.x + box.width * 0.7, box.y + box.height * 0.8, { steps: 4 })
    await page.mouse.up()
    const side = (label: string) => draw.getByLabel(label, { exact: true })
    // The pointer stands on whole pixels: half a percent of this picture.
    expect(Math.abs(Number(await side('Left side').inputValue()) - 20)).toBeLessThan(0.5)
    expect(Math.abs(Number(await side('Lower side').inputValue()) - 80)).toBeLessThan(0.5)
    await side('Upper side').fill('90')
    await press(draw, 'Keep the band')
    await see(draw, /lies below its upper side/)
    expect(await side('Lower side').getAttribute('aria-invalid')).toBe('true')
    const typed = { 'Left side': '10', 'Upper side': '70', 'Right side': '80', 'Lower side': '82.5' }
    await fillIn(draw, typed)
    await draw.getByRole('button', { name: /^Band from left/ }).focus()
    await page.keyboard.press('ArrowRight')
    await page.keyboard.press('Shift+ArrowDown')
    const drawnNow = { 'Left side': '10.5', 'Upper side': '70', 'Right side': '80.5', 'Lower side': '83' }
    const shown = async () => Promise.all(Object.keys(drawnNow).map((label) => side(label).inputValue()))
    expect(await shown()).toEqual(Object.values(drawnNow))
    expect(await wrongWith(open)).toEqual([])
    await press(draw, 'Keep the band')
    await see(page, /told by the mark in the band drawn for/)
    expect(db.prepare('SELECT left_ppm, top_ppm, right_ppm, bottom_ppm FROM edge_band').all()).toEqual([
      { left_ppm: 105_000, top_ppm: 700_000, right_ppm: 805_000, bottom_ppm: 830_000 },
    ])
    await press(page, 'Draw the band anew')
    await dialog(page, title)
    expect(await shown()).toEqual(Object.values(drawnNow))
    await press(draw, 'Leave it as it was')
    await press(page, 'Take the band away')
    await see(page, /^A strip of tape/)
    expect(db.prepare('SELECT count(*) FROM edge_band').pluck().get()).toBe(0)
  })

  it('tells the centre anew by what a person wants on the axis, by keyboard, and the help goes by it too', async () => {
    const { page } = open
    await go(`/takes/${takeId}/check`)
    const part = page.getByRole('region', { name: 'What stands on the axis' })
    const field = part.getByLabel('Centre', { exact: true })
    const usual = await field.inputValue()
    const usualLabel = (await field.locator('option:checked').textContent()) ?? ''
    expect(usualLabel).toMatch(/\(usual\)$/)
    const other = usual === 'body' ? 'least sweep' : 'body'
    const toldBy = () =>
      db.prepare(`SELECT json_extract(report, '$.centre.choice') FROM take_check WHERE take_id = ?`)
    await expect.poll(() => toldBy().pluck().get(takeId)).toBe(usual)
    await field.focus()
    await page.keyboard.press(usual === 'body' ? 'ArrowDown' : 'ArrowUp')
    await see(part, /^Kept with the spin/)
    await expect.poll(() => toldBy().pluck().get(takeId), { timeout: 15_000 }).toBe(other)
    expect(await wrongWith(open)).toEqual([])
    const shootId = db.prepare('SELECT shoot_id FROM take WHERE id = ?').pluck().get(takeId)
    await go(`/takes/of/${shootId}?aid=centre`)
    await expect
      .poll(() => page.getByLabel('Centre', { exact: true }).inputValue(), { timeout: 15_000 })
      .toBe(other)
    await go(`/takes/${takeId}/check`)
    await field.selectOption(usual)
    await expect.poll(() => toldBy().pluck().get(takeId), { timeout: 15_000 }).toBe(usual)
  })

  it('keeps small frames with a kept take, which are there when the card is not', async () => {
    const { page } = open
    await go(`/takes/${takeId}`)
    await press(page, 'light change')
    await press(page, 'Keep the take')
    await see(page, 'Kept.')
    await expect
      .poll(() => db.prepare('SELECT count(*) FROM contact_strip WHERE take_id = ?').pluck().get(takeId), {
        timeout: 15_000,
      })
      .toBe(1)
    rmSync(folder, { recursive: true })
    await page
      .getByRole('link', { name: /^Takes of J-/ })
      .last()
      .click()
    await press(page.getByRole('article', { name: 'Take 1' }), 'Look')
    const look = await dialog(page, 'What take 1 looks like')
    await expect
      .poll(() => isDrawn(look.getByRole('img', { name: /24 small frames on one sheet$/ })))
      .toBe(true)
    await look.getByRole('slider').focus()
    await page.keyboard.press('ArrowRight')
    await see(look, 'Frame 2 of the take')
    expect(await wrongWith(open)).toEqual([])
    expect(open.complaints).toEqual([])
  })

  async function startTake(shootId: number): Promise<number> {
    const answer = await open.page.evaluate(
      async (body) =>
        (
          await fetch('/api/takes.start', {
            method: 'POST',
            headers: { 'content-type': 'application/json' },
            body: JSON.stringify(body),
          })
        ).json(),
      { shootId, folder, overruleReason: 'The other take stands still.' },
    )
    return answer.result.data.takeId
  }

  /** Waits until the picture of this very frame is drawn. */
  async function drawn(frame: number): Promise<void> {
    await open.page.locator(`canvas[data-frame="${frame}"]`).waitFor()
    expect(await frameNow()).toBe(frame)
  }
})

/** Whether a picture has come and has pixels. */
function isDrawn(picture: Locator): Promise<boolean> {
  return picture.evaluate((element) => element instanceof HTMLImageElement && element.naturalWidth > 0)
}

/** What axe finds on the page against A and AA up to WCAG 2.2, as sentences. */
async function wrongWith({ page }: OpenBrowser): Promise<string[]> {
  const { violations } = await page.evaluate(() =>
    (window as unknown as { axe: typeof axe }).axe.run({
      runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'],
      resultTypes: ['violations'],
    }),
  )
  return violations.map(({ id, nodes }) => `${id}: ${nodes[0]?.target.join(' ')} ${nodes[0]?.failureSummary}`)
}
