import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { setTimeout as delay } from 'node:timers/promises'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { type Db, openStore } from '../../db/open.ts'
import { buildDemoStudio } from '../../main/demo/build.ts'
import { dialog, follow, hear, press, see } from '../path/person.ts'
import { describeBrowser, type OpenBrowser, openBrowser } from './kit.ts'

describeBrowser('a plan of the bench', () => {
  const place = mkdtempSync(join(tmpdir(), 'turnsheet-plan-'))
  const studio = join(place, 'studio')
  let open: OpenBrowser
  let page: Page
  let db: Db
  beforeAll(async () => {
    await buildDemoStudio(studio, () => {}, { pastDays: 60 })
    open = await openBrowser(studio)
    page = open.page
    db = openStore(join(studio, 'studio.db'), { readonly: true })
  }, 120_000)
  afterAll(async () => {
    db?.close()
    await open?.close()
    rmSync(place, { recursive: true, force: true })
  })

  const go = (path: string) => page.goto(new URL(path, open.host.address).href)
  const booked = () =>
    db.prepare("SELECT count(*) FROM booking WHERE cancelled_at IS NULL AND kind = 'spins'").pluck().get()
  /** Asks for the plan of what the page names, and waits until it is there. */
  const findPlan = async () => {
    await press(page, 'Find a plan')
    await page.getByRole('heading', { name: 'Day by day' }).waitFor({ timeout: 30_000 })
  }

  it('of spins ticked by keyboard is compared with today, and discarded without a trace', async () => {
    const before = booked()
    await go('/bench')
    const boxes = page.getByRole('checkbox', { name: /^Choose J-/ })
    await boxes.first().waitFor()
    for (const box of [boxes.nth(0), boxes.nth(1)]) {
      await box.focus()
      await page.keyboard.press('Space')
    }
    const way = page.getByRole('link', { name: /^Plan the \d+\s+chosen spins?$/ })
    const chosen = Number(/\d+/.exec((await way.textContent()) ?? '')?.[0])
    await way.focus()
    await page.keyboard.press('Enter')
    await see(page, 'The spins you chose')
    await page.getByRole('button', { name: 'Find a plan' }).focus()
    await page.keyboard.press('Enter')
    await page.getByRole('heading', { name: 'Day by day' }).waitFor({ timeout: 30_000 })
    const compared = page.getByRole('table', {
      name: 'These spins as they are booked today, and in the plan',
    })
    const without = await compared.getByRole('row', { name: /^Without a place/ }).textContent()
    expect(without).toMatch(new RegExp(`^Without a place${chosen}none${chosen} less$`))
    await press(page, 'Discard')
    await hear(page, 'Discarded: nothing is booked')
    await see(page, 'Nothing is planned yet.')
    expect(booked()).toBe(before)
  })

  it('is refused with the reason where something changed meanwhile, and planned again', async () => {
    await go('/bench/plan')
    await findPlan()
    const other = await open.context.newPage()
    await other.goto(new URL('/bench', open.host.address).href)
    const book = other.getByRole('button', { name: /^Book J-/ })
    await book.first().waitFor()
    await book.first().click()
    const booking = await dialog(other, /^Book J-/)
    await press(booking, /^Book (this block|these \d+ blocks)$/)
    await hear(other, /blocks? booked for J-/)
    await other.close()
    const before = booked()
    await press(page, /^Book these \d+\s+blocks?$/)
    await see(
      page,
      /Nothing is booked, for something has changed since this plan was made\. .* was booked on Bench/,
    )
    expect(booked()).toBe(before)
    // The new plan's answer is held back: what stands there meanwhile must not be the old plan, ready to be booked.
    await page.route(/plans\.state/, async (route) => {
      await delay(500)
      await route.continue()
    })
    await press(page, 'Plan again')
    const accept = page.getByRole('button', { name: /^Book these/ })
    await page.getByRole('button', { name: 'Plan again' }).waitFor({ state: 'detached' })
    expect(await accept.count()).toBe(0)
    await accept.waitFor({ timeout: 30_000 })
    await page.unroute(/plans\.state/)
  })

  it('is accepted as a whole, and its blocks stand on the bench', async () => {
    const before = Number(booked())
    const act = page.getByRole('button', { name: /^Book these/ })
    const blocks = Number(/\d+/.exec((await act.textContent()) ?? '')?.[0])
    await act.click()
    const reason = page.getByLabel('Book it all the same, because')
    const done = page.getByRole('status').filter({ hasText: /blocks? booked\./ })
    await reason.or(done).first().waitFor()
    if (await reason.isVisible()) {
      // The demo has samples that are only expected: their spins are planned for the days after.
      await reason.fill('the carrier has confirmed')
      await press(page, 'Book it all the same')
    }
    await done.first().waitFor()
    expect(booked()).toBe(before + blocks)
    const last = db
      .prepare(
        `SELECT b.id, substr(b.starts_at, 1, 10) AS day, job.number FROM booking b JOIN job ON job.id = b.job_id
         WHERE b.cancelled_at IS NULL AND b.kind = 'spins' ORDER BY b.id DESC LIMIT 1`,
      )
      .get() as { id: number; day: string; number: string }
    await go(`/bench?day=${last.day}`)
    await page.locator(`a[href*="booking=${last.id}"]`).first().waitFor()
    expect(open.complaints).toEqual([])
  })

  it('says of a quote by when it could be turned, and books nothing', async () => {
    const before = booked()
    const job = db.prepare("SELECT max(job_id) FROM job_standing WHERE station = 'enquiry'").pluck().get()
    await go(`/jobs/${job}/quote`)
    await follow(page, 'By when could it be done?')
    await press(page, 'Find out')
    const answer = page.getByRole('region', { name: 'Beside what is booked' })
    await answer.waitFor({ timeout: 30_000 })
    await see(answer, /^(Yes|No): the last spin is turned on/)
    await page.getByRole('region', { name: 'If everything that may move moves' }).waitFor()
    expect(booked()).toBe(before)
    await page.getByLabel('Wanted by').fill('2001-01-01')
    await press(page, 'Find out')
    await see(page, '2001-01-01 is past. Enter today or a later day.')
    expect(open.complaints).toEqual([])
  })
})
