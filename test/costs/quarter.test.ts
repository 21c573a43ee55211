import { startOfQuarter } from 'date-fns'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { journalDocuments } from '../../db/salesJournal.ts'
import { addDays } from '../../main/trade/calendar.ts'
import { daysOfQuarter, quarterBeside, quarterOf } from '../../main/trade/quarter.ts'
import { anOrder, deliver } from '../invoices/order.ts'
import { aStudio } from '../studio.ts'

describe('a quarter of the year', () => {
  it('holds its days from the first to the last, as date-fns has it', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: 20_000 }), (days) => {
        const day = addDays('2010-01-01', days)
        const { fromDay, toDay } = daysOfQuarter(quarterOf(day))
        const first = startOfQuarter(new Date(`${day}T12:00:00`))
        expect(fromDay).toBe(
          `${first.getFullYear()}-${String(first.getMonth() + 1).padStart(2, '0')}-${String(first.getDate()).padStart(2, '0')}`,
        )
        expect(day >= fromDay && day <= toDay).toBe(true)
        // Quarters follow one another without a gap.
        expect(quarterOf(addDays(toDay, 1))).toBe(quarterBeside(quarterOf(day), 1))
        expect(quarterBeside(quarterBeside(quarterOf(day), -7), 7)).toBe(quarterOf(day))
      }),
    )
  })
})

describe('the purchases beside the sales of a quarter', () => {
  it('count each deposit once, take credit notes off, and agree with the sales journal', async () => {
    const studio = aStudio({ now: '2026-03-02T08:00:00.000Z' })
    const { api, db } = studio
    const { jobId, shootIds } = await anOrder(studio, [
      { kind: 'spins', quantityMilli: 2000, priceMinor: 50_000, netMinor: 100_000, spins: 2 },
    ])
    await api.invoices.issue(await api.invoices.draftDeposit({ jobId, depositPpm: 300_000 }))
    studio.setNow('2026-04-02T08:00:00.000Z')
    deliver(studio, jobId, shootIds)
    const bill = await api.invoices.draft({ jobId })
    await api.invoices.issue(bill)
    const sums = async (quarter: string) => (await api.jobCosts.quarter({ quarter })).sales
    // 30 % of 1,000.00 in the first quarter, the other 700.00 in the second; 20 % tax on each.
    expect(await sums('2026-Q1')).toEqual([
      { currency: 'EUR', documents: 1, netMinor: 30_000, taxMinor: 6000 },
    ])
    expect(await sums('2026-Q2')).toEqual([
      { currency: 'EUR', documents: 1, netMinor: 70_000, taxMinor: 14_000 },
    ])
    await api.invoices.issue(
      await api.invoices.draftCredit({ invoiceId: bill.invoiceId, reason: 'all wrong', part: null }),
    )
    expect(await sums('2026-Q2')).toEqual([{ currency: 'EUR', documents: 2, netMinor: 0, taxMinor: 0 }])
    for (const quarter of ['2026-Q1', '2026-Q2', '2026-Q3']) {
      const journal = journalDocuments(db, daysOfQuarter(quarter), null, 100)
      const taxes = journal.flatMap((one) => [...one.taxes, ...one.deducted])
      const [own = { netMinor: 0, taxMinor: 0 }] = await sums(quarter)
      expect(own.taxMinor).toBe(taxes.reduce((sum, { taxMinor }) => sum + taxMinor, 0))
      expect(own.netMinor).toBe(taxes.reduce((sum, { baseMinor }) => sum + baseMinor, 0))
    }
  })

  it('hold what was paid by the day of its receipt, and nothing that is only planned', async () => {
    const studio = aStudio({ now: '2026-03-02T08:00:00.000Z' })
    const { api } = studio
    const { jobId } = await anOrder(studio, [])
    const cost = {
      kind: 'hire' as const,
      text: 'Tall stand',
      day: '2026-03-31',
      plannedMinor: null,
      actualMinor: 8000,
      taxMinor: 1600,
      supplier: 'Harrow Vans',
      isPassedOn: false,
    }
    await api.jobCosts.add({ jobId, cost })
    await api.jobCosts.add({ jobId, cost: { ...cost, actualMinor: 2500, taxMinor: 0 } })
    await api.jobCosts.add({ jobId, cost: { ...cost, kind: 'travel', day: '2026-04-01' } })
    await api.jobCosts.add({ jobId, cost: { ...cost, plannedMinor: 100, actualMinor: null, taxMinor: 0 } })
    const first = await api.jobCosts.quarter({})
    expect(first).toMatchObject({ quarter: '2026-Q1', fromDay: '2026-01-01', toDay: '2026-03-31', total: 2 })
    expect(first.purchases).toEqual([
      { currency: 'EUR', kind: 'hire', documents: 2, netMinor: 10_500, taxMinor: 1600, withoutReceipt: 2 },
    ])
    expect(first.lines.map(({ netMinor, jobId: of }) => [netMinor, of])).toEqual([
      [8000, jobId],
      [2500, jobId],
    ])
    expect((await api.jobCosts.quarter({ quarter: '2026-Q2' })).total).toBe(1)
    await expect(api.jobCosts.quarter({ quarter: '2026-Q5' })).rejects.toThrow()
  })
})
