import { rmSync } from 'node:fs'
import { dirname } from 'node:path'
import type { Locator } from 'playwright-core'
import { afterEach, beforeEach, expect, it } from 'vitest'
import { type Db, openStore } from '../../db/open.ts'
import { addDays } from '../../main/trade/calendar.ts'
import { aBookedStudio, type BookedStudio } from './aBookedStudio.ts'
import { describeBrowser, type OpenBrowser, openBrowser } from './kit.ts'

describeBrowser('moving blocks on the bench plan', () => {
  let booked: BookedStudio
  let open: OpenBrowser
  let db: Db
  const block = (name: keyof BookedStudio['bookingIds']) =>
    open.page.locator(`[data-block="${booked.bookingIds[name]}"]`)
  const strip = (bench: number, day: string) => open.page.locator(`[data-strip="${bench} ${day}"]`)
  const panel = () => open.page.getByRole('region', { name: 'Moving a block' })
  /** The bench, day and clock of a block as they are stored, the day in the studio’s winter time. */
  const stored = (name: keyof BookedStudio['bookingIds']) =>
    db
      .prepare(
        `SELECT bench_id || ' ' || strftime('%Y-%m-%d %H:%M', starts_at, '+1 hour') FROM booking WHERE id = ?`,
      )
      .pluck()
      .get(booked.bookingIds[name])

  beforeEach(async () => {
    booked = await aBookedStudio()
    open = await openBrowser(booked.folder, [], {
      context: { viewport: { width: 1280, height: 800 }, hasTouch: true },
    })
    db = openStore(`${booked.folder}/studio.db`)
    await open.page.goto(new URL(`/bench?day=${booked.monday}`, open.host.address).href)
    await block('vase').waitFor()
  })
  afterEach(async () => {
    db?.close()
    await open?.close()
    rmSync(dirname(booked.folder), { recursive: true, force: true })
  })

  /** Takes a block by its middle and brings its begin to a clock time of a strip, without letting go. */
  async function dragTo(from: Locator, to: Locator, minute: number) {
    const { mouse } = open.page
    const [start, bed] = [await from.boundingBox(), await to.boundingBox()]
    if (!start || !bed) throw new Error('There is nothing to drag.')
    await mouse.move(start.x + start.width / 2, start.y + 20)
    await mouse.down()
    // The strips show 09:00 to 18:00.
    const x = bed.x + ((minute - 540) / 540) * bed.width + start.width / 2
    await mouse.move(x, bed.y + 20, { steps: 8 })
  }

  it('shows what a drag would do before it is let go, and does it', async () => {
    await dragTo(block('jug'), strip(1, booked.monday), 550)
    const effect = panel().getByRole('status')
    await effect.getByText(/vase.*09:00 to 10:00 becomes 10:00 to 11:00/).waitFor()
    expect(await effect.textContent()).toMatch(/It would lie .*09:00 to 10:00/)
    expect(stored('vase')).toBe(`1 ${booked.monday} 09:00`)
    await open.page.mouse.up()
    await open.page.getByText(/Moved to Bench 1, .*09:00; 1\sother block moved along/).waitFor()
    expect([stored('jug'), stored('vase')]).toEqual([`1 ${booked.monday} 09:00`, `1 ${booked.monday} 10:00`])
    expect(open.complaints).toEqual([])
  })

  it('says what becomes late, and leaves everything as it was on Escape', async () => {
    await dragTo(block('jug'), strip(2, addDays(booked.monday, 1)), 600)
    await panel()
      .getByText(/J-0002, .*becomes late by 1\sday/)
      .waitFor()
    await open.page.keyboard.press('Escape')
    await open.page.mouse.up()
    await panel().waitFor({ state: 'detached' })
    expect(stored('jug')).toBe(`1 ${booked.monday} 10:00`)
    // No dialog has opened, and the block still opens by a plain click.
    expect(await open.page.getByRole('dialog').count()).toBe(0)
    await block('jug').click()
    await open.page.getByRole('dialog').waitFor()
  })

  it('says the minutes of set change that a move costs or saves', async () => {
    // A block without a rig takes what stands; the boots alone stand on one, wherever they go.
    // Held by its spins, it begins earlier by its set change.
    await dragTo(block('boot'), strip(2, addDays(booked.monday, 1)), 660)
    const effect = panel().getByRole('status')
    // What is said on the way there passes.
    await effect.getByText(/It would lie Tue.*Bench 2.*set change \d+\smin of it/).waitFor()
    expect(await effect.textContent()).toContain('As much set change as before.')
    await open.page.keyboard.press('Escape')
    await open.page.mouse.up()
  })

  it('explains why a block cannot lie somewhere, while it is held and after it is let go', async () => {
    await dragTo(block('vase'), strip(1, booked.monday), 930)
    const why = panel().getByText(/'strip the floor' is fixed from 15:00 to 16:00 and is in the way/)
    await why.waitFor()
    await open.page.mouse.up()
    await why.waitFor()
    expect(stored('vase')).toBe(`1 ${booked.monday} 09:00`)
    await panel().getByRole('button', { name: 'Leave it where it was' }).click()
    await dragTo(block('floor'), strip(2, booked.monday), 600)
    await panel()
      .getByText(/'strip the floor' is fixed, so it is not moved from its place/)
      .waitFor()
    await open.page.mouse.up()
  })

  it('asks for a reason where only the world speaks against a move, and keeps it', async () => {
    await dragTo(block('vase'), strip(2, booked.monday), 600)
    await panel()
      .getByText(/Mara Quist is booked on Bench 1 at that time/)
      .waitFor()
    await open.page.mouse.up()
    await panel().getByLabel('Book it all the same, because').fill('a helper comes')
    await panel().getByRole('button', { name: 'Move it all the same' }).click()
    await open.page.getByText(/Moved to Bench 2/).waitFor()
    expect(stored('vase')).toBe(`2 ${booked.monday} 10:00`)
    const reason = db.prepare('SELECT overruled_reason FROM booking WHERE id = ?').pluck()
    expect(reason.get(booked.bookingIds.vase)).toBe('a helper comes')
  })

  it('closes the place up that a block leaves where that is ticked', async () => {
    await open.page.getByLabel('Close up the place it leaves').check()
    await dragTo(block('vase'), strip(1, addDays(booked.monday, 1)), 540)
    await panel()
      .getByText(/jug.*10:00 to 11:00 becomes 09:00 to 10:00/)
      .waitFor()
    await open.page.mouse.up()
    await open.page.getByText(/Moved to Bench 1/).waitFor()
    expect(stored('jug')).toBe(`1 ${booked.monday} 09:00`)
  })

  it('moves a block by keys alone, with the same effect before it is put down, and gives the focus back', async () => {
    await block('vase').focus()
    const { keyboard } = open.page
    await keyboard.press('m')
    const grip = open.page.getByRole('application', { name: /^Moving .*vase/ })
    await expect.poll(() => grip.evaluate((element) => element === document.activeElement)).toBe(true)
    for (const key of ['ArrowRight', 'ArrowRight', 'Shift+ArrowRight', 'ArrowDown', 'PageDown']) {
      await keyboard.press(key)
    }
    await grip.getByText(/to Bench 2, Tue\s.*, 09:35/).waitFor()
    await panel()
      .getByText(/It would lie Tue\s.*, Bench 2, 09:35 to 10:35/)
      .waitFor()
    await keyboard.press('Enter')
    await open.page.getByText(/Moved to Bench 2, Tue\s.*, 09:35/).waitFor()
    expect(stored('vase')).toBe(`2 ${addDays(booked.monday, 1)} 09:35`)
    await expect
      .poll(() => block('vase').evaluate((element) => element === document.activeElement))
      .toBe(true)
    await keyboard.press('m')
    await keyboard.press('ArrowDown')
    await keyboard.press('Escape')
    await expect
      .poll(() => block('vase').evaluate((element) => element === document.activeElement))
      .toBe(true)
    expect(stored('vase')).toBe(`2 ${addDays(booked.monday, 1)} 09:35`)
  })

  it('takes a block up from its dialog, and brings days outside the week into view', async () => {
    await block('jug').click()
    await open.page.getByRole('dialog').getByRole('button', { name: 'Move it on the plan' }).click()
    await open.page.getByRole('application', { name: /^Moving .*jug/ }).waitFor()
    for (let days = 0; days < 7; days += 1) await open.page.keyboard.press('ArrowDown')
    await strip(1, addDays(booked.monday, 7)).waitFor()
    await panel()
      .getByText(/becomes late by 7\sdays/)
      .waitFor()
    await panel().getByRole('button', { name: 'Put it down here' }).click()
    await open.page.getByText(/Moved to Bench 1/).waitFor()
    expect(stored('jug')).toBe(`1 ${addDays(booked.monday, 7)} 10:00`)
  })

  it('follows a finger', async () => {
    const [start, bed] = [await block('vase').boundingBox(), await strip(2, booked.monday).boundingBox()]
    if (!start || !bed) throw new Error('There is nothing to drag.')
    const devtools = await open.context.newCDPSession(open.page)
    const touch = (type: 'touchStart' | 'touchMove' | 'touchEnd', x = 0, y = 0) =>
      devtools.send('Input.dispatchTouchEvent', { type, touchPoints: type === 'touchEnd' ? [] : [{ x, y }] })
    await touch('touchStart', start.x + 10, start.y + 20)
    for (let step = 1; step <= 8; step += 1) {
      // From 09:00 on the first bench to 14:00 on the second.
      await touch(
        'touchMove',
        start.x + 10 + (step / 8) * (300 / 540) * bed.width,
        start.y + 20 + (step / 8) * (bed.y - start.y),
      )
    }
    await panel()
      .getByText(/It would lie Mon\s.*, Bench 2, 14:00 to 15:00/)
      .waitFor()
    await touch('touchEnd')
    await open.page.getByText(/Moved to Bench 2/).waitFor()
    expect(stored('vase')).toBe(`2 ${booked.monday} 14:00`)
  })
})
