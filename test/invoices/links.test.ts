import { describe, expect, it } from 'vitest'
import { aStudio } from '../studio.ts'
import { anOrder, deliver } from './order.ts'

const oneSpin = [
  { kind: 'spins', quantityMilli: 1000, priceMinor: 100_00, netMinor: 100_00, spins: 1 },
] as const

async function anIssuedInvoice(studio: ReturnType<typeof aStudio>, client: { name: string }) {
  const { jobId, shootIds } = await anOrder(studio, oneSpin, client)
  deliver(studio, jobId, shootIds)
  const { invoiceId } = await studio.api.invoices.draft({ jobId })
  await studio.api.invoices.issue({ invoiceId })
  return { jobId, invoiceId }
}

describe('what an invoice hangs on', () => {
  it('is its client, its job and the credit notes on it', async () => {
    const studio = aStudio()
    const { api } = studio
    const { invoiceId } = await anIssuedInvoice(studio, { name: 'Tarn Ceramics' })
    const credit = await api.invoices.draftCredit({ invoiceId, reason: 'Not what was agreed.', part: null })
    const invoice = await api.invoices.one({ invoiceId })
    expect(invoice.clientName).toBe('Tarn Ceramics')
    expect(invoice.jobNumber).toMatch(/^J-TEST-/)
    expect(invoice.creditNotes).toMatchObject([{ id: credit.invoiceId, number: null, state: 'draft' }])
    expect((await api.invoices.one(credit)).corrects).toMatchObject({ id: invoiceId, number: 'I-2026-0001' })
  })

  it('says which payment was taken back', async () => {
    const studio = aStudio()
    const { api } = studio
    const { invoiceId } = await anIssuedInvoice(studio, { name: 'Tarn Ceramics' })
    const payment = { invoiceId, day: '2026-03-02', way: 'transfer', reference: null, note: null } as const
    await api.invoices.pay({ ...payment, amountMinor: 10_00 })
    await api.invoices.pay({ ...payment, amountMinor: 20_00 })
    const [first] = (await api.invoices.one({ invoiceId })).payments
    await api.invoices.reversePayment({ paymentId: first?.id ?? 0, reason: 'Another client’s.' })
    const { payments, openMinor } = await api.invoices.one({ invoiceId })
    expect(payments.map(({ amountMinor, isTakenBack }) => [amountMinor, isTakenBack])).toEqual([
      [10_00, true],
      [20_00, false],
      [-10_00, false],
    ])
    // 100.00 with 20 % tax, less the 20.00 that stand.
    expect(openMinor).toBe(100_00)
  })
})

describe('the list of invoices', () => {
  it('is sorted by what the person chose, either way', async () => {
    const studio = aStudio()
    for (const name of ['Tarn Ceramics', 'alder clocks', 'Okonkwo Instruments']) {
      await anIssuedInvoice(studio, { name })
    }
    const names = async (descending: boolean) =>
      (await studio.api.invoices.list({ filter: 'all', order: 'client', descending })).lines.map(
        ({ clientName }) => clientName,
      )
    expect(await names(false)).toEqual(['alder clocks', 'Okonkwo Instruments', 'Tarn Ceramics'])
    expect(await names(true)).toEqual(['Tarn Ceramics', 'Okonkwo Instruments', 'alder clocks'])
  })
})
