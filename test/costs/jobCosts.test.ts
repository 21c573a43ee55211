import { describe, expect, it } from 'vitest'
import { anOrder, deliver } from '../invoices/order.ts'
import { aStudio } from '../studio.ts'
import { atTheBench } from '../takes/aSpin.ts'

const refused = (code: string) => ({ cause: { code } })

/** A cost, invented. */
const carrier = {
  kind: 'carrier' as const,
  text: 'Van for the tall lamps',
  day: '2026-03-02',
  plannedMinor: 9000,
  actualMinor: 10_050,
  taxMinor: 2010,
  supplier: 'Harrow Vans',
  isPassedOn: true,
}

async function billable(lines = 1) {
  const studio = aStudio()
  const order = await anOrder(studio, [
    {
      kind: 'spins',
      quantityMilli: lines * 1000,
      priceMinor: 50_000,
      netMinor: lines * 50_000,
      spins: lines,
    },
  ])
  deliver(studio, order.jobId, order.shootIds)
  return { ...order, studio, api: studio.api }
}

describe('a cost of a job', () => {
  it('keeps what was planned beside what was paid, in the studio’s currency', async () => {
    const { api, jobId } = await billable()
    const { costId } = await api.jobCosts.add({
      jobId,
      cost: { ...carrier, actualMinor: null, taxMinor: 0 },
    })
    await api.jobCosts.change({ costId, cost: carrier })
    const { costs } = await api.jobCosts.ofJob({ jobId })
    expect(costs).toEqual([{ id: costId, jobId, currency: 'EUR', receipt: null, billedMilli: 0, ...carrier }])
  })

  it('is refused without an amount, with tax on nothing, below nothing and without a day', async () => {
    const { api, jobId } = await billable()
    const none = { ...carrier, plannedMinor: null, actualMinor: null, taxMinor: 0 }
    await expect(api.jobCosts.add({ jobId, cost: none })).rejects.toMatchObject(
      refused('cost-without-amount'),
    )
    await expect(api.jobCosts.add({ jobId, cost: { ...carrier, actualMinor: null } })).rejects.toMatchObject(
      refused('tax-on-nothing'),
    )
    for (const wrong of [{ actualMinor: -1 }, { taxMinor: 0.5 }, { day: '2026-02-30' }, { text: '' }]) {
      await expect(api.jobCosts.add({ jobId, cost: { ...carrier, ...wrong } })).rejects.toThrow()
    }
    expect((await api.jobCosts.ofJob({ jobId })).costs).toEqual([])
  })

  it('keeps its receipt by what the bytes are, and refuses a page of a browser', async () => {
    const { api, jobId, studio } = await billable()
    const { costId } = await api.jobCosts.add({ jobId, cost: carrier })
    const base64 = (text: string) => Buffer.from(text, 'latin1').toString('base64')
    await api.jobCosts.receipt({ costId, name: 'van.pdf', base64: base64('%PDF-1.7\nreceipt') })
    const { costs } = await api.jobCosts.ofJob({ jobId })
    expect(costs[0]?.receipt?.name).toBe('van.pdf')
    expect(studio.db.prepare('SELECT media_type FROM attachment').pluck().all()).toContain('application/pdf')
    await expect(
      api.jobCosts.receipt({ costId, name: 'van.pdf', base64: base64('<html>') }),
    ).rejects.toMatchObject(refused('receipt-type'))
  })
})

describe('a cost that is passed on', () => {
  it('is proposed once it is paid, with the client’s tax, and never twice', async () => {
    const { api, jobId } = await billable()
    await api.jobCosts.add({ jobId, cost: carrier })
    await api.jobCosts.add({ jobId, cost: { ...carrier, text: 'planned', actualMinor: null, taxMinor: 0 } })
    await api.jobCosts.add({ jobId, cost: { ...carrier, text: 'our own', isPassedOn: false } })
    const bill = await api.invoices.draft({ jobId })
    const { lines, invoice } = await api.invoices.one(bill)
    // 500.00 ordered and 100.50 paid to the carrier; the carrier's own tax is not passed on. 20 % of 600.50.
    expect(lines.map(({ text, netMinor, ratePpm }) => [text, netMinor, ratePpm])).toEqual([
      ['spins 1', 50_000, 200_000],
      ['Van for the tall lamps', 10_050, 200_000],
    ])
    expect(invoice.taxMinor).toBe(12_010)
    await api.invoices.issue(bill)
    await expect(api.invoices.draft({ jobId })).rejects.toMatchObject(refused('nothing-to-bill'))
    expect((await api.jobCosts.ofJob({ jobId })).costs.map(({ billedMilli }) => billedMilli)).toEqual([
      1000, 0, 0,
    ])
  })

  it('can be billed after all spins are, stays while it stands on an invoice, and comes again when credited', async () => {
    const { api, jobId } = await billable()
    await api.invoices.issue(await api.invoices.draft({ jobId }))
    const { costId } = await api.jobCosts.add({ jobId, cost: carrier })
    const bill = await api.invoices.draft({ jobId })
    await expect(api.jobCosts.remove({ costId })).rejects.toMatchObject(refused('cost-billed'))
    await api.invoices.issue(bill)
    await expect(api.jobCosts.remove({ costId })).rejects.toMatchObject(refused('cost-billed'))
    const [line] = (await api.invoices.one(bill)).lines
    await api.invoices.issue(
      await api.invoices.draftCredit({
        invoiceId: bill.invoiceId,
        reason: 'half of the way was for another',
        part: [{ lineId: line?.id ?? 0, quantityMilli: 500 }],
      }),
    )
    const again = await api.invoices.one(await api.invoices.draft({ jobId }))
    expect(again.lines.map(({ quantityMilli, netMinor }) => [quantityMilli, netMinor])).toEqual([[500, 5025]])
  })

  it('keeps its place on a draft that is changed, and is refused on the draft of another job', async () => {
    const { api, jobId, studio } = await billable()
    const { costId } = await api.jobCosts.add({ jobId, cost: carrier })
    const bill = await api.invoices.draft({ jobId })
    const { lines } = await api.invoices.one(bill)
    const plain = { note: null, orderNumber: null, buyerReference: null, costCentre: null, adjustments: [] }
    const days = { serviceFrom: null, serviceTo: null }
    await api.invoices.changeDraft({ ...bill, ...plain, ...days, lines: [...lines] })
    expect((await api.invoices.one(bill)).lines[1]?.jobCostId).toBe(costId)
    const other = await anOrder(
      studio,
      [{ kind: 'spins', quantityMilli: 1000, priceMinor: 100, netMinor: 100, spins: 1 }],
      { name: 'Oak & Ember' },
    )
    deliver(studio, other.jobId, other.shootIds)
    const draft = await api.invoices.draft({ jobId: other.jobId })
    await expect(
      api.invoices.changeDraft({
        ...draft,
        ...plain,
        ...days,
        lines: lines.slice(1).map((line) => ({ ...line, jobId: null })),
      }),
    ).rejects.toMatchObject(refused('line-of-another-job'))
  })
})

describe('the margin of a job', () => {
  it('counts the takes’ hours, the costs and what is billed and left to bill', async () => {
    const { api, jobId, studio } = await billable(2)
    studio.db
      .prepare('UPDATE studio SET bench_hour_minor = 6000, desk_hour_minor = 4000, second_hour_minor = 3000')
      .run()
    await api.jobCosts.add({ jobId, cost: { ...carrier, isPassedOn: false } })
    const before = (await api.jobCosts.ofJob({ jobId })).margin
    // Nothing was turned: 1,000.00 − 100.50.
    expect(before.after).toMatchObject({ priceMinor: 100_000, hoursMinor: 0, marginMinor: 89_950 })
    await api.jobCosts.add({ jobId, cost: { ...carrier, text: 'passed on' } })
    // What is passed on is earned and paid alike.
    expect((await api.jobCosts.ofJob({ jobId })).margin.after).toMatchObject({
      priceMinor: 110_050,
      costsMinor: 20_100,
      marginMinor: 89_950,
    })
    const bill = await api.invoices.draft({ jobId })
    await api.invoices.issue(bill)
    expect((await api.jobCosts.ofJob({ jobId })).margin.after?.priceMinor).toBe(110_050)
    await api.invoices.issue(
      await api.invoices.draftCredit({ invoiceId: bill.invoiceId, reason: 'all wrong', part: null }),
    )
    // Credited, it is left to bill again.
    expect((await api.jobCosts.ofJob({ jobId })).margin.after?.priceMinor).toBe(110_050)
    await api.jobs.cancel({ jobId, reason: 'range dropped' })
    expect((await api.jobCosts.ofJob({ jobId })).margin.after?.priceMinor).toBe(10_050)
  })

  it('takes a deposit as part of what it is deducted from', async () => {
    const { api, jobId } = await billable(2)
    await api.invoices.issue(await api.invoices.draftDeposit({ jobId, depositPpm: 300_000 }))
    expect((await api.jobCosts.ofJob({ jobId })).margin.after?.priceMinor).toBe(100_000)
    await api.invoices.issue(await api.invoices.draft({ jobId }))
    expect((await api.jobCosts.ofJob({ jobId })).margin.after?.priceMinor).toBe(100_000)
  })

  it('is not stated where the job is in another currency than the studio’s rates', async () => {
    const { api, jobId, studio } = await billable()
    studio.db.prepare(`UPDATE job SET currency = 'USD' WHERE id = ?`).run(jobId)
    await api.jobCosts.add({ jobId, cost: carrier })
    const { margin, costs } = await api.jobCosts.ofJob({ jobId })
    expect(margin.after).toBeNull()
    expect(costs).toHaveLength(1)
  })

  it('reads the hours of people off real takes', async () => {
    const bench = await atTheBench([{ name: 'Kettle' }])
    await bench.keep(0)
    const { margin } = await bench.api.jobCosts.ofJob({ jobId: bench.jobId })
    const takes = bench.studio.db
      .prepare('SELECT started_at AS startedAt, ended_at AS endedAt FROM take')
      .all() as { startedAt: string; endedAt: string }[]
    const turned = takes.reduce((sum, take) => sum + Date.parse(take.endedAt) - Date.parse(take.startedAt), 0)
    expect(turned).toBeGreaterThan(0)
    expect(margin.people).toMatchObject([{ turnedMs: turned }])
    expect(margin.after?.benchMs).toBe(turned + (margin.people[0]?.preparedMs ?? 0))
  })
})
