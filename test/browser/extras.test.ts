import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { type Db, openStore } from '../../db/open.ts'
import { buildDemoStudio } from '../../main/demo/build.ts'
import { dialog, fillIn, goToStation, hear, press, see } from '../path/person.ts'
import { describeBrowser, type OpenBrowser, openBrowser } from './kit.ts'

describeBrowser('extras to an order', () => {
  const place = mkdtempSync(join(tmpdir(), 'turnsheet-extras-'))
  const studio = join(place, 'studio')
  let open: OpenBrowser
  let db: Db
  beforeAll(async () => {
    await buildDemoStudio(studio, () => {}, { pastDays: 60 })
    open = await openBrowser(studio)
    db = openStore(join(studio, 'studio.db'), { readonly: true })
  }, 120_000)
  afterAll(async () => {
    db?.close()
    await open?.close()
    rmSync(place, { recursive: true, force: true })
  })

  it('are proposed, answered by the client and billed with the next invoice, and not before', async () => {
    const { page } = open
    const job = db.prepare(`SELECT max(job_id) FROM job_standing WHERE station = 'invoice'`).pluck().get()
    await page.goto(new URL(`/jobs/${job}/extras`, open.host.address).href)
    await press(page, 'Propose an extra')
    const extra = await dialog(page, 'Propose an extra')
    await press(extra, 'Propose it')
    await see(extra, /What the extra is called is empty/)
    await fillIn(extra, {
      'What it is called': 'Engraved lid',
      'New due day': '2027-01-15',
      'What, line 1': 'Close view of the engraving',
      'Quantity, line 1': '2',
      'Price, line 1': '90',
      'The price is for, line 1': '2',
    })
    await see(extra, /€90\.00/)
    await press(extra, 'Propose it')
    await hear(page, /^Proposed\./)
    await see(page, 'waits for the client')

    await goToStation(page, 'Invoice')
    await see(page, 'The order')
    expect(await page.getByRole('cell', { name: 'Close view of the engraving' }).count()).toBe(0)

    await goToStation(page, 'Extras')
    await press(page, /^Answer to /)
    const answer = await dialog(page, /^The client’s answer to /)
    await fillIn(answer, { How: 'by e-mail' })
    await press(answer, 'Write it down')
    await hear(page, /is agreed\. The next invoice bills it\./)
    await see(page, /^Yes, .*by e-mail$/)
    await see(page, /due\s15\sJan\s2027/)

    await goToStation(page, 'Invoice')
    await see(page, 'Close view of the engraving')
    await press(page, 'Draft the invoice')
    await see(page, 'Not issued: it has no number and can be changed.')
    const texts = await page
      .getByLabel(/^What, line \d+$/)
      .evaluateAll((fields) => fields.map((field) => (field as HTMLInputElement).value))
    expect(texts).toContain('Close view of the engraving')
    expect(open.complaints).toEqual([])
  })

  it('charge for a right of use on a line of the quote, in the right’s own words', async () => {
    const { page } = open
    const jobId = db.prepare(`SELECT max(job_id) FROM quote WHERE state = 'draft'`).pluck().get()
    await page.goto(new URL(`/jobs/${jobId}/quote`, open.host.address).href)
    await press(page, 'Add a right')
    const add = await dialog(page, 'Add a right of use')
    await fillIn(add, { 'What the pictures may be used in': 'Own web shop', Where: 'Europe' })
    await press(add, 'Add the right')
    await hear(page, 'The right is written down as proposed.')
    await see(page, 'Own web shop')
    await press(page, 'Charge for a right of use')
    await page.getByLabel('Text, line 1').waitFor()
    expect(await page.getByLabel('Text, line 1').inputValue()).toBe(
      'Rights of use: Own web shop, Europe, without end',
    )
    await fillIn(page, { 'Price, line 1': '120' })
    await press(page, 'Keep the draft')
    await see(page, /^Kept/)
    expect(
      db
        .prepare(`SELECT text, net_minor FROM quote_line WHERE kind = 'right' ORDER BY id DESC LIMIT 1`)
        .get(),
    ).toEqual({ text: 'Rights of use: Own web shop, Europe, without end', net_minor: 12_000 })
    expect(open.complaints).toEqual([])
  })

  it('charge cancelled bench time by terms that were written down under Studio', async () => {
    const { page } = open
    await page.goto(new URL('/studio/terms', open.host.address).href)
    const cancelling = 'The client cancels booked bench time'
    for (const row of [2, 1]) await press(page, `Take away, ${cancelling}, ${row}`)
    await press(page, `Add a term: ${cancelling}`)
    await fillIn(page, { [`Days before, ${cancelling}, 1`]: '365', [`Share, ${cancelling}, 1`]: '50' })
    await press(page, 'Save')
    await hear(page, /^Saved\. New quotes carry these terms/)
    const booked = db
      .prepare(
        `SELECT b.job_id AS jobId FROM booking b JOIN quote q ON q.job_id = b.job_id AND q.state = 'accepted'
         WHERE b.kind = 'spins' AND b.cancelled_at IS NULL AND b.starts_at > strftime('%Y-%m-%dT%H:%M:%fZ', 'now')
         ORDER BY b.starts_at LIMIT 1`,
      )
      .get() as { jobId: number }
    await page.goto(new URL(`/jobs/${booked.jobId}/bench`, open.host.address).href)
    await press(page, /^Cancel the block on /)
    await goToStation(page, 'Extras')
    await see(page, /^cancelled .*, written down by /)
    await press(page, /^Propose the charge for /)
    await hear(page, /^Proposed\./)
    await see(page, /^Bench time of .*, cancelled: 50% of its price|^Aufnahmezeit vom .*, abgesagt: 50/)
    await see(page, /^Extra \d+, proposed$/)
    expect(db.prepare('SELECT count(*) FROM term_case').pluck().get()).toBe(1)
  })
})
