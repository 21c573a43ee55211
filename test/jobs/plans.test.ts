import { describe, expect, it } from 'vitest'
import { aProduct } from '../builders.ts'
import { anOrder, deliver } from '../invoices/order.ts'
import { aStudio } from '../studio.ts'
import { aJob } from './aJob.ts'
import { turn } from './aTake.ts'
import { scansDuring } from './plans.ts'

describe('the queries of jobs, spins, samples and the board', () => {
  it('read no large table from end to end', async () => {
    const studio = aStudio()
    const { api, db } = studio
    const scans = await scansDuring(db, async () => {
      const { jobId, shootIds, sampleIds, clientId } = await aJob(studio)
      await api.samples.move({ sampleIds, move: 'arrive' })
      await api.samples.agree({ sampleIds, fate: 'keep' })
      await api.samples.moves({ sampleId: sampleIds[0] ?? 0 })
      await api.samples.shelf({})
      await api.samples.shelf({ part: 'overdue', order: 'client' })
      await api.samples.goWithout({ shootIds, reason: null })
      await api.spins.writeBrief({
        shootIds: shootIds.slice(1),
        brief: { ...(await api.jobs.brief({ jobId })) } as never,
      })
      await api.spins.dropBrief({ shootIds: shootIds.slice(1) })
      await api.spins.putInOrder({ jobId, shootIds })
      await api.jobs.rewriteBrief({ jobId, brief: (await api.jobs.brief({ jobId })) as never })
      for (const shootId of shootIds) turn(studio, shootId, 'kept')
      studio.setNow('2026-03-03T08:00:00.000Z')
      await api.spins.reshoot({ shootIds, cause: 'ours', reason: 'dust' })
      await api.jobs.one({ jobId })
      await api.jobs.history({ jobId })
      await api.jobs.statusCsv({ jobId })
      await api.jobs.hold({ jobId, reason: 'wait', until: '2026-05-01' })
      for (const order of ['due', 'client', 'station', 'value'] as const) await api.jobs.list({ order })
      await api.jobs.list({ clientId, lateOnly: true })
      await api.board.jobs({})
      await api.board.jobs({ clientId, benchId: 1, lateOnly: true })
      await api.board.choices()
      await api.search.find({ text: 'Spring' })
      await api.search.find({ text: 'J-' })
      await api.jobs.cancel({ jobId, reason: 'over' })
    })
    expect(scans).toEqual([])
  })

  it('nor do those of invoices, quotes, products and bench days', async () => {
    const studio = aStudio()
    const { api, db } = studio
    const scans = await scansDuring(db, async () => {
      const { jobId, shootIds, clientId } = await anOrder(studio, [
        { kind: 'spins', quantityMilli: 2000, priceMinor: 5200, netMinor: 10_400, spins: 2 },
      ])
      await api.invoices.issue(await api.invoices.draftDeposit({ jobId, depositPpm: 300_000 }))
      deliver(studio, jobId, shootIds)
      const bill = await api.invoices.draft({ jobId })
      await api.invoices.issue(bill)
      const pay = { ...bill, day: '2026-03-02', way: 'transfer' as const, reference: null, note: null }
      await api.invoices.pay({ ...pay, amountMinor: 100_000 })
      await api.usageRights.ending({})
      await api.usageRights.ending({ which: 'ended' })
      await api.usageRights.ofJob({ jobId })
      await api.jobCosts.ofJob({ jobId })
      await api.jobCosts.quarter({})
      await api.terms.change([{ kind: 'cancelling', withinDays: 7, chargePpm: 500_000 }])
      const extra = { title: 'Lid', why: null, newDueDay: '2026-05-01', lines: [] }
      const { extraId } = await api.extras.propose({ jobId, extra })
      await api.extras.decide({ extraId, state: 'agreed', day: '2026-03-02', contactId: null, how: 'signed' })
      await api.extras.ofJob({ jobId })
      await api.invoices.one(bill)
      await api.invoices.ofJob({ jobId })
      await api.invoices.draftCredit({ ...bill, reason: 'All of it', part: null })
      for (const filter of ['open', 'overdue', 'drafts'] as const) await api.invoices.list({ filter })
      await api.quotes.ofJob({ jobId })
      await api.quotes.list({})
      await api.clients.one({ clientId })
      await api.clients.names()
      const { productId } = await api.products.add({ clientId, product: aProduct() })
      await api.products.one({ productId })
      await api.products.list({ clientId })
      await api.products.list({ text: 'K-1' })
      await api.families.list({ clientId })
      await api.bookings.ofJob({ jobId })
      await api.benches.waiting({})
    })
    expect(scans).toEqual([])
  })
})
