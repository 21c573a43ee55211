import fs from 'node:fs'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { attachmentById, attachmentPath } from '../../db/attachments.ts'
import type { Id } from '../../db/ids.ts'
import { deliveredRights } from '../../main/papers/deliveryNote.ts'
import { addDays } from '../../main/trade/calendar.ts'
import { paperTexts } from '../../main/trade/texts/paperTexts.ts'
import { rightLines, rightLineText, rightStanding, soonDays } from '../../main/trade/usageRights.ts'
import { anOrder, deliver } from '../invoices/order.ts'
import { readPdf } from '../papers/readPdf.ts'
import { aQuotableJob, newest, priceList } from '../quotes/aQuote.ts'
import { aStudio, type TestStudio } from '../studio.ts'

const refused = (code: string) => ({ cause: { code } })

/** A right of use, invented. */
const web = {
  media: 'Own web shop',
  territory: 'Europe',
  fromDay: '2026-03-01',
  toDay: '2027-02-28',
  passesOnPayment: true,
}

async function paperText(studio: TestStudio, paperId: number): Promise<string> {
  const kept = attachmentById(studio.db, paperId)
  const { pages } = await readPdf(fs.readFileSync(attachmentPath(studio.folder, kept?.sha256 ?? '')))
  return pages.join(' ').replaceAll(/\s+/gu, ' ')
}

describe('how a right stands', () => {
  const aDay = fc.integer({ min: 0, max: 4000 }).map((days) => addDays('2024-01-01', days))

  it('ends with its last day, and never without one', () => {
    expect(rightStanding({ fromDay: null, toDay: '2026-03-02' }, '2026-03-02')).toBe('ends soon')
    expect(rightStanding({ fromDay: null, toDay: '2026-03-01' }, '2026-03-02')).toBe('ended')
    expect(rightStanding({ fromDay: null, toDay: null }, '2099-01-01')).toBe('running')
    expect(rightStanding({ fromDay: '2026-03-03', toDay: null }, '2026-03-02')).toBe('to come')
  })

  it('goes one way only as the days pass: to come, running, ending soon, ended', () => {
    const order = ['to come', 'running', 'ends soon', 'ended']
    fc.assert(
      fc.property(aDay, fc.nat(2000), aDay, fc.nat(500), (fromDay, length, today, later) => {
        const right = { fromDay, toDay: addDays(fromDay, length) }
        const at = (day: string) => order.indexOf(rightStanding(right, day))
        expect(at(addDays(today, later))).toBeGreaterThanOrEqual(at(today))
        expect(rightStanding(right, addDays(right.toDay, 1))).toBe('ended')
        if (length > soonDays) {
          expect(rightStanding(right, addDays(right.toDay, -soonDays))).toBe('ends soon')
          expect(rightStanding(right, addDays(right.toDay, -soonDays - 1))).toBe('running')
        }
      }),
    )
  })
})

describe('rights of use on paper', () => {
  it('say once that all pass with the payment, else on each that does', () => {
    const day = (text: string) => text
    expect(rightLines([], paperTexts.en.rights, day)).toEqual([])
    expect(rightLines([web], paperTexts.en.rights, day)).toEqual([
      'Own web shop, Europe, from 2026-03-01, until 2027-02-28',
      'These rights pass to you once the invoice is paid.',
    ])
    const free = { media: 'Print', territory: 'DE', fromDay: null, toDay: null, passesOnPayment: false }
    expect(rightLines([web, free], paperTexts.de.rights, day)).toEqual([
      'Own web shop, Europe, ab 2026-03-01, bis 2027-02-28, geht mit der Bezahlung der Rechnung über',
      'Print, DE, unbefristet',
    ])
  })

  it('stand on a quote as they were when it was sent, and are agreed with its yes', async () => {
    const studio = aStudio()
    const { api } = studio
    await api.prices.add(priceList)
    const { jobId, draft } = await aQuotableJob(studio)
    const { rightId } = await api.usageRights.add({ jobId, right: web })
    const { rightId: goneId } = await api.usageRights.add({ jobId, right: { ...web, media: 'Catalogue' } })
    const { quoteId } = await api.quotes.save(draft)
    const sent = await api.quotes.send({ quoteId })
    // What is changed after sending is for the next version.
    await api.usageRights.change({ rightId, right: { ...web, territory: 'World' } })
    await api.usageRights.remove({ rightId: goneId })
    await api.usageRights.add({ jobId, right: { ...web, media: 'Poster' } })
    expect(await paperText(studio, sent.paper?.id ?? 0)).toContain(
      'Own web shop, Europe, from 1 March 2026, until 28 February 2027',
    )
    await api.quotes.accept({ quoteId: (await newest(studio, jobId)).quote.id, day: '2026-03-02', by: 'A' })
    const rights = await api.usageRights.ofJob({ jobId })
    expect(rights.map(({ media, territory, agreedAt }) => [media, territory, agreedAt !== null])).toEqual([
      ['Own web shop', 'Europe', true],
      ['Poster', 'Europe', false],
      ['Catalogue', 'Europe', true],
    ])
    await expect(api.usageRights.change({ rightId, right: web })).rejects.toMatchObject(
      refused('right-agreed'),
    )
    await expect(api.usageRights.remove({ rightId })).rejects.toMatchObject(refused('right-agreed'))
  })

  it('are charged for by a line of their own, from the quote to the invoice', async () => {
    const studio = aStudio()
    const { api, db } = studio
    await api.prices.add(priceList)
    const { jobId, draft } = await aQuotableJob(studio)
    await api.usageRights.add({ jobId, right: web })
    const text = rightLineText(web, paperTexts.en.rights, (day) => day)
    expect(text).toBe('Rights of use: Own web shop, Europe, from 2026-03-01, until 2027-02-28')
    const line = {
      ...{ kind: 'right' as const, text, quantityMilli: 1000, unit: 'LS' as const, priceMinor: 12_000 },
      ...{ baseMilli: 1000, taxRateId: draft.input.taxRateId, shootIds: [], why: null },
    }
    const { quoteId } = await api.quotes.save({ ...draft, input: { ...draft.input, fees: [line] } })
    await api.quotes.send({ quoteId })
    const { quote, lines, input } = await newest(studio, jobId)
    expect(input.fees).toMatchObject([{ kind: 'right', text }])
    expect(lines.find(({ kind }) => kind === 'right')).toMatchObject({ text, netMinor: 12_000 })
    await api.quotes.accept({ quoteId: quote.id, day: '2026-03-02', by: 'A' })
    const spins = (await api.spins.list({ jobId })).map(({ id }) => id as Id<'shoot'>)
    deliver(studio, jobId as Id<'job'>, spins)
    const { invoiceId } = await api.invoices.draft({ jobId })
    const billed = await api.invoices.one({ invoiceId })
    expect(billed.lines.find((each) => each.text === text)).toMatchObject({ netMinor: 12_000 })
    await api.invoices.issue({ invoiceId })
    expect(db.prepare('SELECT count(*) FROM invoice_line WHERE text = ?').pluck().get(text)).toBe(1)
  })

  it('stand on the invoice and the delivery once agreed, and stay there when they are withdrawn', async () => {
    const studio = aStudio()
    const { api, db } = studio
    const { jobId, shootIds } = await anOrder(studio, [
      { kind: 'spins', quantityMilli: 1000, priceMinor: 5200, netMinor: 5200, spins: 1 },
    ])
    deliver(studio, jobId, shootIds)
    const { rightId } = await api.usageRights.add({ jobId, right: web })
    await api.usageRights.add({ jobId, right: { ...web, media: 'Poster' } })
    expect(deliveredRights(db, jobId, 'en')).toEqual([])
    await api.usageRights.agree({ rightId, by: 'Tove Arlund' })
    expect(deliveredRights(db, jobId, 'en')[0]).toBe(
      'Own web shop, Europe, from 2026-03-01, until 2027-02-28',
    )
    const { invoiceId } = await api.invoices.draft({ jobId })
    const { number } = await api.invoices.issue({ invoiceId })
    await api.usageRights.withdraw({ rightId, reason: 'typed by mistake' })
    expect(deliveredRights(db, jobId, 'en')).toEqual([])
    // The paper is written anew from the frozen rows, as after a crash between issuing and writing.
    db.exec('DROP TRIGGER invoice_paper_is_never_deleted; DELETE FROM invoice_paper')
    const text = await paperText(studio, (await api.invoices.paper({ invoiceId })).paperId)
    expect(text).toContain(number)
    expect(text).toContain('Own web shop, Europe, from 1 March 2026, until 28 February 2027')
    expect(text).toContain('These rights pass to you once the invoice is paid.')
    expect(text).not.toContain('Poster')
    const credit = await api.invoices.draftCredit({ invoiceId, reason: 'wrong', part: null })
    const paper = await api.invoices.issue(credit)
    expect(await paperText(studio, paper.paperId)).not.toContain('Own web shop')
    await expect(api.usageRights.withdraw({ rightId, reason: 'again' })).rejects.toMatchObject(
      refused('right-not-agreed'),
    )
  })

  it('refuses a right that ends before it begins, and one without media or territory', async () => {
    const { api } = aStudio()
    const wrong = [
      { ...web, toDay: '2026-02-28' },
      { ...web, media: ' ' },
      { ...web, territory: '' },
      { ...web, toDay: '2026-02-30' },
    ]
    for (const right of wrong) {
      await expect(api.usageRights.add({ jobId: 1, right })).rejects.toThrow()
    }
    await expect(api.usageRights.add({ jobId: 99, right: web })).rejects.toMatchObject({
      cause: { name: 'Refusal' },
    })
  })
})

describe('the list of rights that end soon', () => {
  it('holds what ends within ninety days, first the one that ends first, with whom to ask', async () => {
    const studio = aStudio({ now: '2026-03-02T08:00:00.000Z' })
    const { api } = studio
    const { jobId } = await anOrder(studio, [])
    const agreed = async (media: string, toDay: string | null) => {
      const { rightId } = await api.usageRights.add({ jobId, right: { ...web, media, toDay, fromDay: null } })
      await api.usageRights.agree({ rightId, by: 'A' })
      return rightId
    }
    await agreed('last day counted', '2026-05-31')
    await agreed('a day too late', '2026-06-01')
    await agreed('ends today', '2026-03-02')
    await agreed('ended yesterday', '2026-03-01')
    await agreed('without end', null)
    await agreed('goes on', '2026-04-01')
    await agreed('goes on', '2028-04-01')
    const withdrawn = await agreed('withdrawn', '2026-04-01')
    await api.usageRights.withdraw({ rightId: withdrawn, reason: 'typed twice' })
    await api.usageRights.add({ jobId, right: { ...web, media: 'proposed', toDay: '2026-04-01' } })
    const media = async (which: 'soon' | 'ended') =>
      (await api.usageRights.ending({ which })).rights.map((right) => right.media)
    // 2 March and ninety days is 31 May: 29 + 30 + 31.
    expect(await media('soon')).toEqual(['ends today', 'last day counted'])
    expect(await media('ended')).toEqual(['ended yesterday'])
    expect((await api.usageRights.ending({})).rights[0]).toMatchObject({ jobId, jobTitle: 'Autumn range' })
    expect((await api.usageRights.ending({})).total).toBe(2)
  })
})
