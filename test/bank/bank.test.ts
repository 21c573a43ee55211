import { describe, expect, it } from 'vitest'
import type { Id } from '../../db/ids.ts'
import { aStudio, type TestStudio } from '../studio.ts'
import { anInvoice } from './anInvoice.ts'
import { camt, details, entry, free, structured, transaction } from './camtFiles.ts'

const refused = (code: string) => ({ cause: { code } })

async function taken(studio: TestStudio, entries: string) {
  await studio.api.bank.take({ text: camt(entries), mapping: null, fileName: 'march.xml', keepAs: '' })
  return (await studio.api.bank.lines({})).lines
}

const transfer = (
  amount: string,
  remittance: string,
  more: { name?: string; iban?: string } = {},
  ref = 'B1',
) => entry({ amount, bankReference: ref, details: details(transaction({ remittance, ...more })) })

describe('a bank statement that was taken in', () => {
  it('books nothing by itself; a confirmed line pays its invoice', async () => {
    const studio = aStudio()
    const { api } = studio
    const invoice = await anInvoice(studio, 12_000)
    const [line] = await taken(studio, transfer('120.00', structured(invoice.reference)))
    expect((await api.invoices.one(invoice)).openMinor).toBe(12_000)
    expect(line?.matches[0]).toMatchObject({ why: 'reference', isExact: true })
    await api.bank.book({
      lineId: line?.id ?? 0,
      shares: [{ invoiceId: invoice.invoiceId, minor: 12_000 }],
      credit: null,
    })
    const paid = await api.invoices.one(invoice)
    expect([paid.openMinor, paid.payments[0]?.day]).toEqual([0, '2026-03-04'])
    expect((await api.bank.lines({})).total).toBe(0)
  })

  it('doubles nothing when it is taken in again, and adds only what is new', async () => {
    const studio = aStudio()
    const first = transfer('120.00', free('one'))
    await taken(studio, first)
    await expect(taken(studio, first)).rejects.toMatchObject(refused('statement-known'))
    const both = { text: camt(first + transfer('5.00', free('two'), {}, 'B2')), mapping: null }
    expect(await studio.api.bank.preview(both)).toMatchObject({ newMovements: 1, known: 1, alike: 0 })
    expect(await studio.api.bank.take({ ...both, fileName: 'b.xml', keepAs: '' })).toMatchObject({ added: 1 })
    expect((await studio.api.bank.lines({})).total).toBe(2)
  })

  it('says where a movement is like one of another file', async () => {
    const studio = aStudio()
    await taken(studio, transfer('120.00', free('one')))
    const text = 'Date,Text,Amount\n2026-03-04,one,120.00\n'
    const look = await studio.api.bank.look({ text })
    if (look.format !== 'csv') throw new Error('The file is CSV.')
    const mapping = { ...look.mapping, headers: [...look.mapping.headers], text: [...look.mapping.text] }
    const preview = await studio.api.bank.preview({
      text,
      mapping: { ...mapping, account: 'DE89370400440532013000' },
    })
    expect(preview).toMatchObject({ newMovements: 1, alike: 1 })
  })

  it('keeps how a bank’s file is read, and knows the next one by its header', async () => {
    const studio = aStudio()
    const text = 'When,Wherefore,Sum\n2026-03-04,one,1.00\n'
    const look = await studio.api.bank.look({ text })
    if (look.format !== 'csv') throw new Error('The file is CSV.')
    const mapping = { ...look.mapping, headers: [...look.mapping.headers], day: 0, amount: 2, text: [1] }
    await studio.api.bank.take({ text, mapping, fileName: 'a.csv', keepAs: 'Harbour bank' })
    const next = await studio.api.bank.look({ text: 'When,Wherefore,Sum\n2026-03-09,two,2.00\n' })
    expect(next).toMatchObject({ bank: 'Harbour bank', mapping: { amount: 2, text: [1] } })
  })

  it('is split over invoices of several clients, partly used, and the rest kept as credit later', async () => {
    const studio = aStudio()
    const { api } = studio
    const one = await anInvoice(studio, 5000)
    const two = await anInvoice(studio, 7000)
    const [line] = await taken(studio, transfer('150.00', free('both')))
    const lineId = line?.id ?? 0
    await api.bank.book({
      lineId,
      shares: [
        { invoiceId: one.invoiceId, minor: 5000 },
        { invoiceId: two.invoiceId, minor: 6000 },
      ],
      credit: null,
    })
    expect((await api.invoices.one(two)).openMinor).toBe(1000)
    expect((await api.bank.lines({})).lines).toMatchObject([{ usedMinor: 11_000 }])
    await api.bank.book({ lineId, shares: [], credit: { clientId: one.clientId, minor: 4000 } })
    expect((await api.accounts.ofClient(one)).credit).toEqual([{ currency: 'EUR', minor: 4000 }])
    expect((await api.bank.lines({})).total).toBe(0)
    // A payment taken back gives the line free again, and the statement stays.
    const payment = (await api.invoices.one(two)).payments[0]
    await api.invoices.reversePayment({ paymentId: payment?.id ?? 0, reason: 'another invoice' })
    expect((await api.bank.lines({})).lines).toMatchObject([{ usedMinor: 9000 }])
  })

  it('refuses more than came, more than is open, another currency, a line twice, and what went out', async () => {
    const studio = aStudio()
    const { api } = studio
    const invoice = await anInvoice(studio, 5000)
    const lines = await taken(
      studio,
      transfer('100.00', free('x')) + entry({ amount: '10.00', direction: 'DBIT', bankReference: 'B9' }),
    )
    const lineId = lines[0]?.id ?? 0
    const share = (minor: number) => ({ invoiceId: invoice.invoiceId, minor })
    const book = (shares: { invoiceId: number; minor: number }[], id: number = lineId) =>
      api.bank.book({ lineId: id, shares, credit: null })
    await expect(book([share(10_001)])).rejects.toMatchObject(refused('more-than-came'))
    await expect(book([share(5001)])).rejects.toMatchObject(refused('more-than-open'))
    await expect(book([share(1), share(1)])).rejects.toMatchObject(refused('nothing-to-book'))
    await expect(book([])).rejects.toMatchObject(refused('nothing-to-book'))
    const out = (await api.bank.lines({ filter: 'out' })).lines[0]
    await expect(book([share(1)], out?.id)).rejects.toMatchObject(refused('not-a-credit'))
    const dollars = await anInvoice(studio, 5000, { currency: 'USD' })
    await expect(book([{ invoiceId: dollars.invoiceId, minor: 1 }])).rejects.toMatchObject(
      refused('other-currency'),
    )
  })

  it('is set aside and taken back, and taken out again only while nothing was entered from it', async () => {
    const studio = aStudio()
    const { api } = studio
    const invoice = await anInvoice(studio, 5000)
    const [line] = await taken(studio, transfer('50.00', free('x')))
    const lineId = line?.id ?? 0
    await api.bank.setAside({ lineId, reason: 'tax refund' })
    expect((await api.bank.lines({})).total).toBe(0)
    await api.bank.setAside({ lineId, reason: null })
    await api.bank.book({ lineId, shares: [{ invoiceId: invoice.invoiceId, minor: 100 }], credit: null })
    const [statement] = await api.bank.statements()
    await expect(api.bank.removeStatement({ statementId: statement?.id ?? 0 })).rejects.toMatchObject(
      refused('statement-used'),
    )
    await taken(studio, transfer('1.00', free('y'), {}, 'B7'))
    const [later] = await api.bank.statements()
    await api.bank.removeStatement({ statementId: later?.id ?? 0 })
    expect((await api.bank.statements()).length).toBe(1)
  })

  it('knows a payer’s account again once a person has confirmed it', async () => {
    const studio = aStudio()
    const { api } = studio
    const invoice = await anInvoice(studio, 5000)
    const iban = 'AT611904300234573201'
    const [line] = await taken(studio, transfer('10.00', free('x'), { iban, name: 'Accounts department' }))
    expect(line?.matches).toEqual([])
    await api.bank.book({
      lineId: line?.id ?? 0,
      shares: [],
      credit: { clientId: invoice.clientId, minor: 1000 },
    })
    const [next] = await taken(studio, transfer('50.00', free('y'), { iban }, 'B2'))
    expect(next?.matches[0]).toMatchObject({ why: 'amount and payer', clientId: invoice.clientId })
  })

  it('enters all exact matches that were ticked, or none of them', async () => {
    const studio = aStudio()
    const { api } = studio
    const one = await anInvoice(studio, 5000)
    const two = await anInvoice(studio, 7000)
    const lines = await taken(
      studio,
      transfer('50.00', structured(one.reference)) + transfer('70.00', structured(two.reference), {}, 'B2'),
    )
    const ticked = lines.map(({ id, matches }) => ({
      lineId: id,
      shares: (matches[0]?.shares ?? []).map(({ invoiceId, minor }) => ({ invoiceId, minor })),
      credit: null,
    }))
    const wrong = ticked.with(1, {
      lineId: ticked[1]?.lineId ?? (0 as Id<'bank_line'>),
      shares: [],
      credit: null,
    })
    await expect(api.bank.bookAll({ lines: wrong })).rejects.toMatchObject(refused('nothing-to-book'))
    expect((await api.invoices.one(one)).openMinor).toBe(5000)
    await api.bank.bookAll({ lines: ticked })
    expect((await api.invoices.one(one)).openMinor + (await api.invoices.one(two)).openMinor).toBe(0)
  })
})
