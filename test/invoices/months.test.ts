import { describe, expect, it } from 'vitest'
import { theInvoice } from '../../db/billing.ts'
import type { Id } from '../../db/ids.ts'
import { linesOf } from '../../db/invoices.ts'
import { invoiceSheet } from '../../main/papers/invoice.ts'
import { aStudio, type TestStudio } from '../studio.ts'
import { anOrder, deliver } from './order.ts'

const refused = (code: string) => ({ cause: { code } })
const spins = (count: number, priceMinor = 5000) => ({
  kind: 'spins' as const,
  quantityMilli: count * 1000,
  priceMinor,
  netMinor: count * priceMinor,
  spins: count,
})

/** A second job of the same client, by moving an order of another client over to it. */
async function twoJobs(studio: TestStudio, client: Parameters<typeof anOrder>[2] = {}) {
  const first = await anOrder(studio, [spins(2)], { billsMonthly: true, ...client })
  const other = await anOrder(studio, [spins(3)], { name: 'Norden Glass' })
  studio.db.prepare('UPDATE job SET client_id = ? WHERE id = ?').run(first.clientId, other.jobId)
  studio.db.prepare('UPDATE job_standing SET client_id = ? WHERE job_id = ?').run(first.clientId, other.jobId)
  return { first, other, clientId: first.clientId }
}

const numberOf = ({ db }: TestStudio, jobId: Id<'job'>) =>
  db.prepare('SELECT number FROM job WHERE id = ?').pluck().get(jobId) as string

describe('an invoice for each delivered batch', () => {
  it('bills what went out up to the chosen delivery, names it, and leaves the rest for the next', async () => {
    const studio = aStudio()
    const { api, db } = studio
    const { jobId, shootIds } = await anOrder(studio, [spins(3)])
    deliver(studio, jobId, shootIds.slice(0, 1))
    studio.setNow('2026-03-05T09:00:00.000Z')
    deliver(studio, jobId, shootIds.slice(1))
    const { deliveries } = await api.invoices.ofJob({ jobId })
    expect(deliveries).toHaveLength(2)
    const { invoiceId } = await api.invoices.draft({ jobId, deliveryId: deliveries[0]?.id ?? 0 })
    const draft = await api.invoices.one({ invoiceId })
    expect(draft.invoice).toMatchObject({ netMinor: 5000, serviceTo: '2026-03-02' })
    expect(draft.deliveries).toEqual([deliveries[0]?.number])
    await api.invoices.issue({ invoiceId })
    expect((await api.invoices.ofJob({ jobId })).deliveries).toEqual([deliveries[1]])
    const rest = await api.invoices.draft({ jobId })
    const second = await api.invoices.one(rest)
    expect(second.invoice.netMinor).toBe(10_000)
    expect(second.deliveries).toEqual([deliveries[1]?.number])
    expect(linesOf(db, rest.invoiceId as Id<'invoice'>)[0]?.jobId).toBe(jobId)
  })

  it('refuses a delivery that has not gone out', async () => {
    const studio = aStudio()
    const { jobId, shootIds } = await anOrder(studio, [spins(1)])
    deliver(studio, jobId, shootIds)
    const open = studio.db
      .prepare(`INSERT INTO delivery (job_id, way, prepared_at) VALUES (?, 'drive', ?) RETURNING id`)
      .pluck()
      .get(jobId, studio.writing.now) as number
    await expect(studio.api.invoices.draft({ jobId, deliveryId: open })).rejects.toMatchObject(
      refused('delivery-not-sent'),
    )
  })
})

describe('one invoice a month over several jobs', () => {
  it('collects what went out until the end of the month, each line under its job’s number', async () => {
    const studio = aStudio()
    const { api, db } = studio
    const { first, other, clientId } = await twoJobs(studio)
    deliver(studio, first.jobId, first.shootIds)
    studio.setNow('2026-03-31T21:59:00.000Z')
    deliver(studio, other.jobId, other.shootIds.slice(0, 1))
    // Berlin has summer time from 29 March 2026: March ends at 22:00 UTC.
    studio.setNow('2026-03-31T22:00:00.000Z')
    deliver(studio, other.jobId, other.shootIds.slice(1))
    expect(await api.invoices.months({ month: '2026-03' })).toMatchObject([{ clientId, netMinor: 15_000 }])
    const { invoiceIds } = await api.invoices.draftMonth({ clientId, month: '2026-03' })
    expect(invoiceIds).toHaveLength(1)
    const invoiceId = invoiceIds[0] ?? 0
    const { invoice, lines, jobs, deliveries } = await api.invoices.one({ invoiceId })
    expect(invoice).toMatchObject({ jobId: null, netMinor: 15_000, serviceTo: '2026-03-31' })
    expect(lines.map(({ text, jobId }) => [text, jobId])).toEqual([
      [`${numberOf(studio, first.jobId)}: spins 1`, first.jobId],
      [`${numberOf(studio, other.jobId)}: spins 1`, other.jobId],
    ])
    expect(jobs.map(({ id }) => id)).toEqual([first.jobId, other.jobId])
    expect(deliveries).toHaveLength(2)
    const { lines: listed } = await api.invoices.list({ filter: 'drafts', page: { offset: 0, limit: 50 } })
    expect(listed.map(({ jobNumbers }) => jobNumbers)).toEqual([jobs.map(({ number }) => number)])
    const sheet = invoiceSheet(db, theInvoice(db, invoiceId as Id<'invoice'>), studio.writing.now)
    expect(JSON.stringify(sheet.blocks)).toContain(`Billed as delivered: ${deliveries.join(', ')}.`)

    await expect(api.invoices.draft({ jobId: first.jobId })).rejects.toMatchObject(refused('draft-exists'))
    await expect(api.invoices.draftMonth({ clientId, month: '2026-03' })).rejects.toMatchObject(
      refused('draft-exists'),
    )
    await api.invoices.issue({ invoiceId })
    expect((await api.invoices.ofJob({ jobId: first.jobId })).invoices).toHaveLength(1)
    const station = (jobId: number) =>
      db.prepare('SELECT station FROM job_standing WHERE job_id = ?').pluck().get(jobId)
    const { openMinor } = await api.invoices.one({ invoiceId })
    await api.invoices.pay({
      invoiceId,
      day: '2026-03-31',
      amountMinor: openMinor,
      way: 'transfer',
      reference: null,
      note: null,
    })
    expect(station(first.jobId)).toBe('paid')
    expect(station(other.jobId)).not.toBe('paid')
    await expect(api.invoices.draftMonth({ clientId, month: '2026-03' })).rejects.toMatchObject(
      refused('nothing-to-bill'),
    )
    const april = await api.invoices.draftMonth({ clientId, month: '2026-04' })
    expect((await api.invoices.one({ invoiceId: april.invoiceIds[0] ?? 0 })).invoice.netMinor).toBe(10_000)
  })

  it('names differing order numbers in the lines, and an invoice each where the client needs one on it', async () => {
    const studio = aStudio()
    const { api, db } = studio
    const { first, other, clientId } = await twoJobs(studio)
    db.prepare(`UPDATE job SET order_number = 'PO-' || id, cost_centre = '4711'`).run()
    deliver(studio, first.jobId, first.shootIds)
    deliver(studio, other.jobId, other.shootIds)
    const { invoiceIds } = await api.invoices.draftMonth({ clientId, month: '2026-03' })
    const mixed = await api.invoices.one({ invoiceId: invoiceIds[0] ?? 0 })
    expect(mixed.invoice).toMatchObject({ orderNumber: null, costCentre: '4711' })
    expect(mixed.lines[0]?.text).toBe(
      `${numberOf(studio, first.jobId)} (your order PO-${first.jobId}): spins 1`,
    )
    await api.invoices.discard({ invoiceId: invoiceIds[0] ?? 0 })
    db.prepare('UPDATE client SET order_number_needed = 1').run()
    const apart = await api.invoices.draftMonth({ clientId, month: '2026-03' })
    const numbers = await Promise.all(
      apart.invoiceIds.map(async (invoiceId) => (await api.invoices.one({ invoiceId })).invoice.orderNumber),
    )
    expect(numbers).toEqual([`PO-${first.jobId}`, `PO-${other.jobId}`])
  })

  it('is credited job by job: what comes back is left to bill again', async () => {
    const studio = aStudio()
    const { api } = studio
    const { first, other, clientId } = await twoJobs(studio)
    deliver(studio, first.jobId, first.shootIds)
    deliver(studio, other.jobId, other.shootIds)
    const { invoiceIds } = await api.invoices.draftMonth({ clientId, month: '2026-03' })
    const invoiceId = invoiceIds[0] ?? 0
    await api.invoices.issue({ invoiceId })
    const credit = await api.invoices.draftCredit({ invoiceId, reason: 'Wrong month', part: null })
    await api.invoices.issue(credit)
    const again = await api.invoices.draftMonth({ clientId, month: '2026-03' })
    expect((await api.invoices.one({ invoiceId: again.invoiceIds[0] ?? 0 })).invoice.netMinor).toBe(25_000)
  })
})

describe('references a client needs', () => {
  it.each([
    ['orderNumberNeeded', 'order_number', 'order-number-missing'],
    ['referenceNeeded', 'buyer_reference', 'reference-missing'],
    ['costCentreNeeded', 'cost_centre', 'cost-centre-missing'],
  ])('are demanded before issue and kept from the job: %s', async (need, column, code) => {
    const studio = aStudio()
    const { api, db } = studio
    const { jobId, shootIds } = await anOrder(studio, [spins(1)], { [need]: true })
    deliver(studio, jobId, shootIds)
    const bare = await api.invoices.draft({ jobId })
    await expect(api.invoices.issue(bare)).rejects.toMatchObject(refused(code))
    await api.invoices.discard(bare)
    db.prepare(`UPDATE job SET ${column} = 'X-1'`).run()
    await expect(api.invoices.issue(await api.invoices.draft({ jobId }))).resolves.toMatchObject({
      number: 'I-2026-0001',
    })
  })
})
