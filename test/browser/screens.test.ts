import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import axe from 'axe-core'
import type { Page } from 'playwright-core'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { type Db, openStore } from '../../db/open.ts'
import { buildDemoStudio } from '../../main/demo/build.ts'
import { press, see } from '../path/person.ts'
import { describeBrowser, type OpenBrowser, openBrowser } from './kit.ts'
import { screens } from './screenList.ts'

const large = { width: 1280, height: 800 }
const tablet = { width: 1024, height: 768 }
const tabletUpright = { width: 768, height: 1024 }

/** The levels of the Web Content Accessibility Guidelines that every screen keeps to: A and AA up to 2.2. */
const guidelines = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa']

/** Their rules about colour: all that the other light changes. */
const colourRules = ['color-contrast', 'link-in-text-block']

describeBrowser('every screen', () => {
  const place = mkdtempSync(join(tmpdir(), 'turnsheet-screens-'))
  const studio = join(place, 'studio')
  /** The address that bears each title; filters and sorting show the same screen otherwise. */
  const titles = new Map<string, string>()
  let open: OpenBrowser
  let db: Db
  beforeAll(async () => {
    // The past is short: what a screen shows of it is a page of a list.
    await buildDemoStudio(studio, () => {}, { pastDays: 60 })
    open = await openBrowser(studio)
    await open.context.addInitScript(axe.source)
    db = openStore(join(studio, 'studio.db'), { readonly: true })
  }, 120_000)
  afterAll(async () => {
    db?.close()
    await open?.close()
    rmSync(place, { recursive: true, force: true })
  })

  it.each(screens)('$name is whole, named and readable in both lights and sizes', async ({ path }) => {
    const address = path(db)
    await open.page.setViewportSize(large)
    await open.page.goto(new URL(address, open.host.address).href)
    const wrong = await wrongWith(open)
    const title = await open.page.title()
    const bare = address.split('?')[0] ?? address
    const namesake = titles.get(title) ?? bare
    titles.set(title, bare)
    expect([...wrong, ...(namesake === bare ? [] : [`${namesake} is called “${title}” too.`])]).toEqual([])
  })

  it('shows a draft of an invoice as well as an issued one', async () => {
    const job = db.prepare("SELECT max(job_id) FROM job_standing WHERE station = 'invoice'").pluck().get()
    await open.page.goto(new URL(`/jobs/${job}/invoice`, open.host.address).href)
    await press(open.page, 'Draft the invoice')
    await see(open.page, 'Not issued: it has no number and can be changed.')
    expect(await wrongWith(open)).toEqual([])
  })
})

describeBrowser('the first start', () => {
  let open: OpenBrowser
  beforeAll(async () => {
    open = await openBrowser()
    await open.context.addInitScript(axe.source)
    await open.page.reload()
  })
  afterAll(() => open?.close())

  it('is whole, named and readable in both lights and sizes', async () => {
    expect(await wrongWith(open)).toEqual([])
  })
})

/** Looks at the screen that is open, in both lights and all sizes; gives a sentence for all that is wrong. */
async function wrongWith({ page, complaints }: OpenBrowser): Promise<string[]> {
  await settled(page)
  const wrong: string[] = []
  if (!/^.+ · Turnsheet$/.test(await page.title())) wrong.push('It has no title of its own.')
  const headings = await page.locator('h1:visible').count()
  if (headings !== 1) wrong.push(`It has ${headings} first headings.`)
  const lights = page.getByRole('group', { name: 'Light of the screen' })
  for (const [light, rules] of [
    ['Day', guidelines],
    ['Dim', colourRules],
  ] as const) {
    // The bench is dark in either.
    if (await lights.isVisible()) await press(lights, light)
    wrong.push(...(await violations(page, rules)).map((sentence) => `${light}: ${sentence}`))
  }
  for (const size of [large, tablet, tabletUpright]) {
    await page.setViewportSize(size)
    const spillPx = await settledSpillPx(page)
    if (spillPx > 0) wrong.push(`It is ${spillPx} px wider than a window of ${size.width} px.`)
  }
  const said = complaints.splice(0)
  return [...wrong, ...said.map((complaint) => `The console says: ${complaint}`)]
}

/** Waits until a screen has its heading, and nothing on it is still on its way. */
async function settled(page: Page): Promise<void> {
  await page.locator('h1').first().waitFor()
  await page.waitForFunction(() => document.querySelector('[aria-busy="true"]') === null)
}

/** By how many pixels the page is wider than its window, once it has had two frames to follow a new size. */
async function settledSpillPx(page: Page): Promise<number> {
  const frame = () => page.evaluate(() => new Promise<void>((done) => requestAnimationFrame(() => done())))
  await frame()
  await frame()
  return await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth)
}

/** What axe finds against these rules, or rules of these tags. */
async function violations(page: Page, rules: readonly string[]): Promise<string[]> {
  const { violations } = await page.evaluate(
    (runOnly) => (window as unknown as { axe: typeof axe }).axe.run({ runOnly, resultTypes: ['violations'] }),
    [...rules],
  )
  return violations.map(({ id, help, nodes }) => {
    const [first] = nodes
    return `${id}, ${help}, ${nodes.length} times, first at ${first?.target.join(' ')}: ${first?.failureSummary}`
  })
}
