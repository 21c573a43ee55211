import { describe, expect, it } from 'vitest'
import type { Id } from '../../db/ids.ts'
import { aStudio, type TestStudio } from '../studio.ts'
import { anOrder, deliver } from './order.ts'

const spins = { kind: 'spins', quantityMilli: 3000, priceMinor: 3333, netMinor: 9999, spins: 3 } as const

async function aDraft(studio: TestStudio, client: Parameters<typeof anOrder>[2] = {}) {
  const { api } = studio
  const { jobId, shootIds } = await anOrder(studio, [spins], client)
  deliver(studio, jobId, shootIds)
  const { invoiceId } = await api.invoices.draft({ jobId })
  const { invoice, lines } = await api.invoices.one({ invoiceId })
  return { jobId, shootIds, invoiceId, lines, kept: { ...invoice, invoiceId, adjustments: [] } }
}

const one = async ({ api }: TestStudio, invoiceId: Id<'invoice'>) => api.invoices.one({ invoiceId })

describe('an invoice in a currency that is rounded to coins', () => {
  it('says its rounding, and a credit note of the rest takes it back so that nothing stays open', async () => {
    const studio = aStudio()
    const { api } = studio
    await api.studio.setCashRounding({ currency: 'EUR', stepMinor: 5 })
    const { invoiceId, lines } = await aDraft(studio)
    await api.invoices.issue({ invoiceId })
    // 99.99 at 20 % is 119.99 (20.00 of tax); the nearest 0.05 is 120.00.
    expect((await one(studio, invoiceId)).invoice).toMatchObject({
      totalMinor: 11_999,
      roundingMinor: 1,
      payableMinor: 12_000,
    })
    const [line] = lines
    const credit = async (quantityMilli: number) => {
      const lineId = (await one(studio, invoiceId)).lines[0]?.id
      const part = lineId === undefined ? null : [{ lineId, quantityMilli }]
      const draft = await api.invoices.draftCredit({ invoiceId, reason: 'One was not wanted', part })
      await api.invoices.issue(draft)
      return (await one(studio, draft.invoiceId)).invoice
    }
    expect(line?.quantityMilli).toBe(3000)
    // A third: 33.33 and 6.67 of tax, not rounded. The rest: 66.66 and 13.33, to which the 0.01 comes.
    expect(await credit(1000)).toMatchObject({ roundingMinor: 0, payableMinor: 4000 })
    expect(await credit(2000)).toMatchObject({ roundingMinor: 1, payableMinor: 8000 })
    expect((await one(studio, invoiceId)).openMinor).toBe(0)
  })

  it('is not rounded any more once the studio ends it', async () => {
    const studio = aStudio()
    const { api } = studio
    await api.studio.setCashRounding({ currency: 'CHF', stepMinor: 5 })
    expect(await api.studio.cashRounding()).toEqual([{ currency: 'CHF', stepMinor: 5 }])
    await api.studio.setCashRounding({ currency: 'CHF', stepMinor: null })
    expect(await api.studio.cashRounding()).toEqual([])
  })
})

describe('what is taken off and put on one line', () => {
  it('stands on its invoice, is credited with its part, and is not asked for with the next', async () => {
    const studio = aStudio()
    const { api } = studio
    const { jobId, invoiceId, lines, kept } = await aDraft(studio)
    const favoured = lines.map((line) => ({
      ...line,
      allowanceMinor: 1000,
      allowanceReason: 'A scratch of ours',
    }))
    await api.invoices.changeDraft({ ...kept, lines: favoured })
    await api.invoices.issue({ invoiceId })
    expect((await one(studio, invoiceId)).invoice.netMinor).toBe(8999)
    await expect(api.invoices.draft({ jobId })).rejects.toMatchObject({ cause: { code: 'nothing-to-bill' } })

    // 10.00 over three pieces: 3.33, then 3.34, then 3.33; in all 10.00.
    const taken: number[] = []
    for (let piece = 0; piece < 3; piece += 1) {
      const lineId = (await one(studio, invoiceId)).lines[0]?.id
      if (lineId === undefined) throw new Error('The invoice has no line.')
      const part = [{ lineId, quantityMilli: 1000 }]
      const draft = await api.invoices.draftCredit({ invoiceId, reason: 'Given back', part })
      await api.invoices.issue(draft)
      taken.push((await one(studio, draft.invoiceId)).lines[0]?.allowanceMinor ?? 0)
    }
    expect(taken).toEqual([333, 334, 333])
  })

  it('wants a reason', async () => {
    const studio = aStudio()
    const { lines, kept } = await aDraft(studio)
    const bare = lines.map((line) => ({ ...line, allowanceMinor: 1000 }))
    await expect(studio.api.invoices.changeDraft({ ...kept, lines: bare })).rejects.toMatchObject({
      cause: { issues: [expect.objectContaining({ path: ['lines', 0, 'allowanceReason'] })] },
    })
  })
})

describe('a sales tax of several names', () => {
  it('goes from the studio’s rate to quote, invoice and its sums by name', async () => {
    const studio = aStudio({ country: 'US', currency: 'USD' })
    const { api, db } = studio
    const namedRates = [
      { name: 'State', ratePpm: 40_000 },
      { name: 'County', ratePpm: 22_500 },
    ]
    const rate = {
      name: 'Sales tax',
      category: 'S' as const,
      exemptionReason: null,
      isDefault: true,
      validFrom: null,
      validTo: null,
    }
    await expect(api.taxRates.add({ ...rate, ratePpm: 60_000, namedRates })).rejects.toMatchObject({
      cause: { code: 'bad-named-rate' },
    })
    const { taxRateId } = await api.taxRates.add({ ...rate, ratePpm: 62_500, namedRates })
    expect((await api.taxRates.list()).find(({ id }) => id === taxRateId)?.namedRates).toEqual(namedRates)
    const { jobId, shootIds } = await anOrder(studio, [spins], {}, taxRateId)
    deliver(studio, jobId, shootIds)
    const [quote] = await api.quotes.ofJob({ jobId })
    expect(quote?.taxes.map(({ name, ratePpm, taxMinor }) => [name, ratePpm, taxMinor])).toEqual([
      ['State', 40_000, 400],
      ['County', 22_500, 225],
    ])
    const { invoiceId } = await api.invoices.draft({ jobId })
    await api.invoices.issue({ invoiceId })
    const { taxes, invoice } = await one(studio, invoiceId)
    // 4 % of 99.99 is 3.9996 and 2.25 % is 2.249775: 4.00 and 2.25.
    expect(taxes.map(({ name, baseMinor, taxMinor }) => [name, baseMinor, taxMinor])).toEqual([
      ['State', 9999, 400],
      ['County', 9999, 225],
    ])
    expect(invoice.totalMinor).toBe(10_624)
    await expect(api.invoices.ubl({ invoiceId })).rejects.toMatchObject({
      cause: { code: 'ubl-named-rates' },
    })
    expect(db.prepare('SELECT count(*) FROM invoice_ubl').pluck().get()).toBe(0)
  })
})

describe('the line of a deposit', () => {
  it.each([
    ['en', /^Deposit of 12.5% on job J-TEST-\d/u],
    ['de', /^Anzahlung von 12,5\s% auf Auftrag J-TEST-\d/u],
  ] as const)('is written in the client’s language, %s', async (language, text) => {
    const studio = aStudio()
    const { jobId } = await anOrder(studio, [spins], { language })
    const { invoiceId } = await studio.api.invoices.draftDeposit({ jobId, depositPpm: 125_000 })
    expect((await one(studio, invoiceId)).lines[0]?.text).toMatch(text)
  })
})
