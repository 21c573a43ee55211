import fs from 'node:fs'
import { describe, expect, it } from 'vitest'
import { attachmentPath } from '../../db/attachments.ts'
import { deliver } from '../invoices/order.ts'
import { turn } from '../jobs/aTake.ts'
import { readPdf } from '../papers/readPdf.ts'
import { aStudio } from '../studio.ts'
import { aQuotableJob, newest } from './aQuote.ts'

/** A sent quote by the day over three spins: 1 day and a half, a courier's fee, 10 % off. */
async function aJobByDays() {
  const studio = aStudio()
  const { api } = studio
  await api.studio.change({ halfDayMinor: 34_000, dayMinor: 62_000 })
  const job = await aQuotableJob(studio)
  const { draft } = job
  const fee = {
    kind: 'fee' as const,
    text: 'Courier',
    quantityMilli: 1000,
    unit: 'LS' as const,
    priceMinor: 3000,
  }
  const { quoteId } = await api.quotes.save({
    ...draft,
    input: {
      ...draft.input,
      soldBy: 'days',
      halfDays: 3,
      discountPpm: 100_000,
      fees: [{ ...fee, taxRateId: draft.input.taxRateId, why: null }],
    },
  })
  const { paper } = await api.quotes.send({ quoteId })
  return { ...job, studio, api, quoteId, paper }
}

describe('a quote sold by the day', () => {
  it('is kept as it was set, and says its days on the paper', async () => {
    const { studio, jobId, paper } = await aJobByDays()
    const { quote, input, lines } = await newest(studio, jobId)
    expect([quote.soldBy, quote.halfDays, input.halfDays]).toEqual(['days', 3, 3])
    // 620.00 + 340.00 − 96.00 + 30.00.
    expect(lines.map(({ netMinor }) => netMinor)).toEqual([62_000, 34_000, -9600, 3000])
    expect(quote.netMinor).toBe(89_400)
    const { pages } = await readPdf(fs.readFileSync(attachmentPath(studio.folder, paper?.sha256 ?? '')))
    const text = pages.join(' ').replaceAll(/\s+/gu, ' ')
    expect(text).toContain('Bench day')
    expect(text).toContain('Half bench day')
    // How the days came about is the studio's own.
    expect(text).not.toContain('80 %')
  })

  it('bills its days whole once all its spins are turned, and the discount with them', async () => {
    const { studio, api, jobId, quoteId, shootIds } = await aJobByDays()
    await api.quotes.accept({ quoteId, orderNumber: null, day: '2026-03-02', by: 'Ada' })
    const [first, second, third] = shootIds
    if (!first || !second || !third) throw new Error('The job has three spins.')
    turn(studio, first)
    deliver(studio, jobId, [first])
    const draft = await api.invoices.draft({ jobId })
    // The fee alone: the bench has still work to do.
    expect((await api.invoices.one(draft)).invoice.netMinor).toBe(3000)
    await api.invoices.issue(draft)
    turn(studio, second)
    turn(studio, third)
    deliver(studio, jobId, [second])
    const next = await api.invoices.draft({ jobId })
    const { invoice, lines } = await api.invoices.one(next)
    expect(lines.map(({ text, unit }) => [text, unit]).slice(0, 2)).toEqual([
      ['Bench day', 'DAY'],
      ['Half bench day', 'C62'],
    ])
    expect(invoice.netMinor).toBe(62_000 + 34_000 - 9600)
    await api.invoices.issue(next)
    deliver(studio, jobId, [third])
    await expect(api.invoices.draft({ jobId })).rejects.toMatchObject({ cause: { code: 'nothing-to-bill' } })
  })

  it('does not wait for a spin that was cancelled', async () => {
    const { studio, api, jobId, quoteId, shootIds } = await aJobByDays()
    await api.quotes.accept({ quoteId, orderNumber: null, day: '2026-03-02', by: 'Ada' })
    for (const shootId of shootIds.slice(0, 2)) turn(studio, shootId)
    await api.spins.cancel({ shootIds: shootIds.slice(2), reason: 'never arrived' })
    deliver(studio, jobId, shootIds.slice(0, 2))
    const draft = await api.invoices.draft({ jobId })
    expect((await api.invoices.one(draft)).invoice.netMinor).toBe(89_400)
  })

  it('refuses days that are no halves, beside their field', async () => {
    const studio = aStudio()
    const { draft } = await aQuotableJob(studio)
    for (const halfDays of [0, 2.5, 1001]) {
      await expect(
        studio.api.quotes.save({ ...draft, input: { ...draft.input, soldBy: 'days', halfDays } }),
      ).rejects.toMatchObject({ cause: { issues: [{ path: ['input', 'halfDays'] }] } })
    }
  })
})
