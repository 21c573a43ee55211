import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type OrderLine, proposeLines } from '../../main/trade/invoice.ts'
import { lineNetMinor } from '../../main/trade/money.ts'
import { aStudio } from '../studio.ts'
import { anOrder, deliver } from './order.ts'

const refused = (code: string) => ({ cause: { code } })

describe('the next invoice of a job', () => {
  it('bills what was delivered, and the rest later, to the cent of the order', async () => {
    const studio = aStudio()
    const { api } = studio
    const { jobId, shootIds } = await anOrder(studio, [
      { kind: 'spins', quantityMilli: 3000, priceMinor: 3333, netMinor: 9999, spins: 3 },
      { kind: 'fee', quantityMilli: 1000, priceMinor: 5000, netMinor: 5000 },
      { kind: 'discount', quantityMilli: -1000, priceMinor: 500, netMinor: -500 },
    ])
    deliver(studio, jobId, shootIds.slice(0, 1))
    const first = await api.invoices.draft({ jobId })
    await api.invoices.issue(first)
    deliver(studio, jobId, shootIds.slice(1))
    const second = await api.invoices.draft({ jobId })
    await api.invoices.issue(second)
    const nets = (await api.invoices.ofJob({ jobId })).invoices.map(({ netMinor }) => netMinor)
    expect(nets[0]).toBe(3333 + 5000 - 167)
    expect((nets[0] ?? 0) + (nets[1] ?? 0)).toBe(9999 + 5000 - 500)
    await expect(api.invoices.draft({ jobId })).rejects.toMatchObject(refused('nothing-to-bill'))
  })

  it('refuses to bill an order that nobody accepted, and a second draft beside the first', async () => {
    const studio = aStudio()
    const { api, db } = studio
    const { jobId, shootIds } = await anOrder(studio, [
      { kind: 'spins', quantityMilli: 1000, priceMinor: 5200, netMinor: 5200, spins: 1 },
    ])
    deliver(studio, jobId, shootIds)
    await api.invoices.draft({ jobId })
    await expect(api.invoices.draft({ jobId })).rejects.toMatchObject(refused('draft-exists'))
    db.prepare('DELETE FROM invoice').run()
    db.prepare(`UPDATE quote SET state = 'declined'`).run()
    await expect(api.invoices.draft({ jobId })).rejects.toMatchObject(refused('no-order'))
  })

  it('adds up to the order however the deliveries are cut', () => {
    // A law of this project: over all parts the order is billed to the minor unit.
    fc.assert(
      fc.property(
        fc.array(
          fc.record({ spins: fc.integer({ min: 1, max: 12 }), price: fc.integer({ min: 0, max: 99_999 }) }),
          { minLength: 1, maxLength: 5 },
        ),
        fc.integer({ min: 0, max: 400_000 }),
        fc.array(fc.integer({ min: 0, max: 12 }), { minLength: 1, maxLength: 6 }),
        fc.integer({ min: 0, max: 99_999 }),
        (spinLines, discountPpm, cuts, per100) => {
          let order = orderOf(spinLines, discountPpm, per100)
          const whole = order.reduce((sum, { netMinor }) => sum + netMinor, 0)
          let billed = 0
          for (const delivered of [...cuts.toSorted((a, b) => a - b), 12]) {
            order = order.map((line) => ({
              ...line,
              spinsDelivered: Math.min(line.spins, delivered),
              isTurned: delivered >= 7,
            }))
            for (const proposed of proposeLines(order)) {
              const net = lineNetMinor(proposed.quantityMilli, proposed.priceMinor, proposed.baseMilli)
              billed += net
              order = order.map((line) =>
                line.lineId === proposed.lineId
                  ? {
                      ...line,
                      billedNetMinor: line.billedNetMinor + net,
                      billedQuantityMilli: line.billedQuantityMilli + proposed.quantityMilli,
                    }
                  : line,
              )
            }
          }
          expect(billed).toBe(whole)
        },
      ),
    )
  })
})

function orderOf(
  spinLines: readonly { spins: number; price: number }[],
  discountPpm: number,
  per100: number,
): readonly OrderLine[] {
  const common = {
    source: 'quote' as const,
    baseMilli: 1000,
    taxRateId: 1,
    spinsDelivered: 0,
    isTurned: false,
    billedQuantityMilli: 0,
    billedNetMinor: 0,
  }
  const lines = spinLines.map(
    ({ spins, price }, index): OrderLine => ({
      ...common,
      lineId: index + 1,
      kind: 'spins',
      text: 'Spins',
      quantityMilli: spins * 1000,
      unit: 'C62',
      priceMinor: price,
      netMinor: spins * price,
      spins,
    }),
  )
  const spins = lines[0]?.spins ?? 0
  // Seven frames a spin, at a price for a hundred that need not come out even for one.
  const frames = { quantityMilli: spins * 7000, priceMinor: per100, baseMilli: 100_000 }
  lines.push(
    {
      ...common,
      ...frames,
      lineId: 97,
      kind: 'finishing',
      text: 'Finishing',
      unit: 'C62',
      netMinor: lineNetMinor(frames.quantityMilli, frames.priceMinor, frames.baseMilli),
      spins,
    },
    {
      ...common,
      lineId: 98,
      kind: 'days',
      text: 'Bench day',
      quantityMilli: 2000,
      unit: 'DAY',
      priceMinor: 62_000,
      netMinor: 124_000,
      spins,
    },
  )
  const net = lines.reduce((sum, { netMinor }) => sum + netMinor, 0)
  const discount = Math.floor((net * discountPpm) / 1_000_000)
  return [
    ...lines,
    {
      ...common,
      lineId: 99,
      kind: 'discount',
      text: 'Discount',
      quantityMilli: -1000,
      unit: 'LS',
      priceMinor: discount,
      netMinor: -discount,
      spins: 0,
    },
  ]
}

describe('issuing', () => {
  it('freezes number, days, parties and sums; nothing of it changes after', async () => {
    const studio = aStudio({ now: '2026-03-31T22:30:00.000Z' })
    const { api, db } = studio
    const { jobId, shootIds } = await anOrder(studio, [
      { kind: 'spins', quantityMilli: 2000, priceMinor: 5200, netMinor: 10_400, spins: 2 },
    ])
    deliver(studio, jobId, shootIds)
    const { invoiceId } = await api.invoices.draft({ jobId })
    const { number } = await api.invoices.issue({ invoiceId })
    const { invoice } = await api.invoices.one({ invoiceId })
    expect(number).toBe('I-2026-0001')
    // 22:30 UTC on 31 March is 00:30 on 1 April in Berlin (EU summer time, Directive 2000/84/EC).
    expect(invoice).toMatchObject({
      issueDay: '2026-04-01',
      dueDay: '2026-04-15',
      netMinor: 10_400,
      taxMinor: 2080,
      payableMinor: 12_480,
    })
    expect(() => db.prepare(`UPDATE invoice SET note = 'cheaper'`).run()).toThrow('never changes')
    expect(() => db.prepare('DELETE FROM invoice').run()).toThrow('never changes')
    expect(() => db.prepare('UPDATE invoice_line SET net_minor = 1').run()).toThrow('never changes')
    await expect(api.invoices.discard({ invoiceId })).rejects.toMatchObject(refused('invoice-issued'))
  })

  it('demands the order number where the client needs one, and says where', async () => {
    const studio = aStudio()
    const { api } = studio
    const { jobId, shootIds } = await anOrder(
      studio,
      [{ kind: 'spins', quantityMilli: 1000, priceMinor: 5200, netMinor: 5200, spins: 1 }],
      { orderNumberNeeded: true },
    )
    deliver(studio, jobId, shootIds)
    const { invoiceId } = await api.invoices.draft({ jobId })
    await expect(api.invoices.issue({ invoiceId })).rejects.toMatchObject({
      cause: { code: 'order-number-missing', field: 'orderNumber' },
    })
    expect((await api.invoices.one({ invoiceId })).invoice.number).toBeNull()
  })
})

describe('a deposit', () => {
  it('is billed before the work and deducted from the final invoice', async () => {
    const studio = aStudio()
    const { api } = studio
    const { jobId, shootIds } = await anOrder(studio, [
      { kind: 'spins', quantityMilli: 4000, priceMinor: 10_000, netMinor: 40_000, spins: 4 },
    ])
    const deposit = await api.invoices.draftDeposit({ jobId, depositPpm: 300_000 })
    await api.invoices.issue(deposit)
    await expect(api.invoices.draftDeposit({ jobId, depositPpm: 300_000 })).rejects.toMatchObject(
      refused('deposit-billed'),
    )
    deliver(studio, jobId, shootIds)
    const final = await api.invoices.draft({ jobId })
    await api.invoices.issue(final)
    const { invoice, deposits } = await api.invoices.one(final)
    // EN 16931-1 BR-CO-16: due = total with tax − prepaid. 400.00 + 20 % = 480.00; deposit 120.00 + 20 % = 144.00.
    expect(invoice).toMatchObject({ totalMinor: 48_000, prepaidMinor: 14_400, payableMinor: 33_600 })
    expect(deposits.map(({ amountMinor }) => amountMinor)).toEqual([14_400])
    // Credited now, its money would be given back twice: the final invoice has deducted it.
    await expect(
      api.invoices.draftCredit({ ...deposit, reason: 'By mistake', part: null }),
    ).rejects.toMatchObject(refused('deposit-deducted'))
  })

  it('is deducted by what an earlier credit note has left of it', async () => {
    const studio = aStudio()
    const { api } = studio
    const { jobId, shootIds } = await anOrder(studio, [
      { kind: 'spins', quantityMilli: 4000, priceMinor: 10_000, netMinor: 40_000, spins: 4 },
    ])
    const deposit = await api.invoices.draftDeposit({ jobId, depositPpm: 300_000 })
    await api.invoices.issue(deposit)
    const lineId = (await api.invoices.one(deposit)).lines.at(0)?.id ?? 0
    const part = [{ lineId, quantityMilli: 250 }]
    await api.invoices.issue(await api.invoices.draftCredit({ ...deposit, reason: 'A quarter back', part }))
    deliver(studio, jobId, shootIds)
    const final = await api.invoices.draft({ jobId })
    // A quarter of 120.00 + 20 % is 36.00; 144.00 − 36.00 = 108.00 is left to deduct from 480.00.
    expect((await api.invoices.one(final)).invoice).toMatchObject({
      prepaidMinor: 10_800,
      payableMinor: 37_200,
    })
  })
})

describe('a job billed in parts', () => {
  it('is not closed by a paid invoice while something delivered since is unbilled', async () => {
    const studio = aStudio()
    const { api } = studio
    const { jobId, shootIds } = await anOrder(studio, [
      { kind: 'spins', quantityMilli: 2000, priceMinor: 10_000, netMinor: 20_000, spins: 2 },
    ])
    const billAndPay = async () => {
      const bill = await api.invoices.draft({ jobId })
      await api.invoices.issue(bill)
      const pay = { ...bill, day: '2026-03-02', way: 'transfer' as const, reference: null, note: null }
      await api.invoices.pay({ ...pay, amountMinor: 12_000 })
    }
    // The rows of this order know no takes, so a spin counts as delivered by its delivery alone.
    deliver(studio, jobId, shootIds.slice(0, 1))
    await billAndPay()
    studio.setNow('2026-03-03T08:00:00.000Z')
    deliver(studio, jobId, shootIds.slice(1))
    expect((await api.jobs.one({ jobId })).standing).toMatchObject({
      station: 'invoice',
      waitsFor: 'an invoice',
    })
    await billAndPay()
    expect((await api.jobs.one({ jobId })).standing).toMatchObject({ station: 'paid', waitsFor: '' })
  })

  it('takes no line of another job’s order onto its draft', async () => {
    const studio = aStudio()
    const { api } = studio
    const order = [
      { kind: 'spins', quantityMilli: 1000, priceMinor: 10_000, netMinor: 10_000, spins: 1 },
    ] as const
    const one = await anOrder(studio, order)
    const other = await anOrder(studio, order, { name: 'Another client' })
    for (const { jobId, shootIds } of [one, other]) deliver(studio, jobId, shootIds)
    const draft = await api.invoices.draft({ jobId: one.jobId })
    const strange = await api.invoices.draft({ jobId: other.jobId })
    const { lines } = await api.invoices.one(strange)
    const { invoice } = await api.invoices.one(draft)
    await expect(
      api.invoices.changeDraft({ ...invoice, ...draft, adjustments: [], lines: [...lines] }),
    ).rejects.toMatchObject(refused('line-of-another-job'))
  })

  it('is closed where a person took the rest off the draft on purpose', async () => {
    const studio = aStudio()
    const { api } = studio
    const { jobId, shootIds } = await anOrder(studio, [
      { kind: 'spins', quantityMilli: 2000, priceMinor: 10_000, netMinor: 20_000, spins: 2 },
    ])
    deliver(studio, jobId, shootIds)
    const bill = await api.invoices.draft({ jobId })
    const { lines, invoice } = await api.invoices.one(bill)
    await api.invoices.changeDraft({
      ...invoice,
      ...bill,
      adjustments: [],
      lines: lines.map((line) => ({ ...line, quantityMilli: 1000 })),
    })
    await api.invoices.issue(bill)
    const pay = { ...bill, day: '2026-03-02', way: 'transfer' as const, reference: null, note: null }
    await api.invoices.pay({ ...pay, amountMinor: 12_000 })
    expect((await api.jobs.one({ jobId })).standing).toMatchObject({ station: 'paid', waitsFor: '' })
  })
})

describe('credit notes', () => {
  it('credit a part by its lines, then no more than is left', async () => {
    const studio = aStudio()
    const { api } = studio
    const { jobId, shootIds } = await anOrder(studio, [
      { kind: 'spins', quantityMilli: 4000, priceMinor: 10_000, netMinor: 40_000, spins: 4 },
    ])
    deliver(studio, jobId, shootIds)
    const bill = await api.invoices.draft({ jobId })
    await api.invoices.issue(bill)
    const lineId = (await api.invoices.one(bill)).lines.at(0)?.id ?? 0
    const credit = await api.invoices.draftCredit({
      ...bill,
      reason: 'One spin was not wanted',
      part: [{ lineId, quantityMilli: 1000 }],
    })
    const { number } = await api.invoices.issue(credit)
    expect(number).toBe('C-2026-0001')
    expect((await api.invoices.one(bill)).openMinor).toBe(48_000 - 12_000)
    await expect(
      api.invoices.draftCredit({ ...bill, reason: 'All of it', part: [{ lineId, quantityMilli: 4000 }] }),
    ).rejects.toMatchObject(refused('credit-too-much'))
    // Nor by changing a draft that was small enough when it was made.
    const second = await api.invoices.draftCredit({
      ...bill,
      reason: 'Another',
      part: [{ lineId, quantityMilli: 1000 }],
    })
    const draft = await api.invoices.one(second)
    await api.invoices.changeDraft({
      ...draft.invoice,
      ...second,
      adjustments: [],
      lines: draft.lines.map((line) => ({ ...line, quantityMilli: 4000 })),
    })
    await expect(api.invoices.issue(second)).rejects.toMatchObject(refused('credit-too-much'))
    await api.invoices.discard(second)
    // What was credited may be billed again: the order still holds it.
    const again = await api.invoices.draft({ jobId })
    expect((await api.invoices.one(again)).lines.map(({ quantityMilli }) => quantityMilli)).toEqual([1000])
  })
})

describe('payments', () => {
  it('close the invoice in parts; what comes too much stays as credit for the next one', async () => {
    const studio = aStudio()
    const { api } = studio
    const { jobId, shootIds } = await anOrder(studio, [
      { kind: 'spins', quantityMilli: 2000, priceMinor: 10_000, netMinor: 20_000, spins: 2 },
    ])
    deliver(studio, jobId, shootIds.slice(0, 1))
    const first = await api.invoices.draft({ jobId })
    await api.invoices.issue(first)
    const pay = { ...first, day: '2026-03-02', way: 'transfer' as const, reference: null, note: null }
    await api.invoices.pay({ ...pay, amountMinor: 5000 })
    expect((await api.invoices.one(first)).openMinor).toBe(7000)
    await api.invoices.pay({ ...pay, amountMinor: 10_000 })
    expect(await api.invoices.one(first)).toMatchObject({ openMinor: 0, standing: 'paid', credit: 3000 })
    deliver(studio, jobId, shootIds.slice(1))
    const second = await api.invoices.draft({ jobId })
    await api.invoices.issue(second)
    await api.invoices.useCredit(second)
    expect(await api.invoices.one(second)).toMatchObject({ openMinor: 9000, credit: 0 })
  })

  it('are taken back by their opposite, so that nothing is lost from the books', async () => {
    const studio = aStudio()
    const { api, db } = studio
    const { jobId, shootIds } = await anOrder(studio, [
      { kind: 'spins', quantityMilli: 1000, priceMinor: 10_000, netMinor: 10_000, spins: 1 },
    ])
    deliver(studio, jobId, shootIds)
    const bill = await api.invoices.draft({ jobId })
    await api.invoices.issue(bill)
    await api.invoices.pay({
      ...bill,
      day: '2026-03-02',
      amountMinor: 12_000,
      way: 'cash',
      reference: null,
      note: null,
    })
    const paymentId = (await api.invoices.one(bill)).payments.at(0)?.id ?? 0
    await api.invoices.reversePayment({ paymentId, reason: 'It was for another studio' })
    expect(await api.invoices.one(bill)).toMatchObject({ openMinor: 12_000, standing: 'due' })
    await expect(api.invoices.reversePayment({ paymentId, reason: 'Again' })).rejects.toMatchObject(
      refused('not-reversible'),
    )
    expect(() => db.prepare('DELETE FROM payment').run()).toThrow('never changes')
  })

  it('refuse a day that has not come', async () => {
    const studio = aStudio()
    const { api } = studio
    const { jobId, shootIds } = await anOrder(studio, [
      { kind: 'spins', quantityMilli: 1000, priceMinor: 10_000, netMinor: 10_000, spins: 1 },
    ])
    deliver(studio, jobId, shootIds)
    const bill = await api.invoices.draft({ jobId })
    await api.invoices.issue(bill)
    await expect(
      api.invoices.pay({
        ...bill,
        day: '2026-03-03',
        amountMinor: 1,
        way: 'cash',
        reference: null,
        note: null,
      }),
    ).rejects.toMatchObject({ cause: { code: 'payment-in-future', field: 'day' } })
  })
})
