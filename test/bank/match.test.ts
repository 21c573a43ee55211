import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type Credit, matchesOf, nameKey, type OpenInvoice } from '../../main/trade/bankMatch.ts'
import { creditorReference } from '../../main/trade/payment.ts'

function open(of: Partial<OpenInvoice> & { invoiceId: number }): OpenInvoice {
  const number = of.number ?? `I-2026-${String(of.invoiceId).padStart(4, '0')}`
  return {
    number,
    clientId: 1,
    clientName: 'Halvorsen Lamps',
    currency: 'EUR',
    openMinor: 10_000,
    dueDay: '2026-03-01',
    paymentReference: creditorReference(number.replaceAll('-', '')),
    ...of,
  }
}

function credit(of: Partial<Credit>): Credit {
  return {
    freeMinor: 10_000,
    currency: 'EUR',
    payer: null,
    payerIban: null,
    reference: null,
    text: '',
    ...of,
  }
}

const best = (of: Partial<Credit>, invoices: readonly OpenInvoice[], payer?: number) =>
  matchesOf(credit(of), invoices, payer)[0]

describe('money that came in', () => {
  const two = [open({ invoiceId: 1 }), open({ invoiceId: 2, openMinor: 4000, clientId: 2 })]

  it('is matched exactly by its creditor reference, in its field or in the text, however spaced', () => {
    const reference = two[1]?.paymentReference ?? ''
    for (const said of [
      { reference },
      { text: `SALARY ${reference.replace(/(.{4})/gu, '$1 ')}THANKS` },
      { text: `ref ${reference.toLowerCase()}` },
    ]) {
      expect(best({ ...said, freeMinor: 4000 }, two)).toMatchObject({
        why: 'reference',
        isExact: true,
        shares: [{ invoiceId: 2, minor: 4000 }],
      })
    }
  })

  it.each(['I-2026-0001', 'inv. I 2026 0001', 'I20260001.', 'Nr.I-2026/0001 danke'])(
    'is matched by the number in: %s',
    (text) => {
      expect(best({ text }, two)).toMatchObject({ why: 'number', isExact: true })
    },
  )

  it.each(['I-2026-00012', 'PI-2026-0001', '2026-0001'])('is not taken for another number in: %s', (text) => {
    expect(best({ text, freeMinor: 1 }, two)).toBeUndefined()
  })

  it('is shared over all invoices it names, what was due first at the head, the rest left', () => {
    const mine = [open({ invoiceId: 5, dueDay: '2026-04-01' }), open({ invoiceId: 4, openMinor: 3000 })]
    expect(best({ text: 'I-2026-0005, I-2026-0004', freeMinor: 14_000 }, mine)).toMatchObject({
      shares: [
        { invoiceId: 4, minor: 3000 },
        { invoiceId: 5, minor: 10_000 },
      ],
      restMinor: 1000,
      isExact: false,
    })
  })

  it('is proposed as a part payment where a bank may have taken its fee, never as more', () => {
    expect(best({ text: 'I-2026-0001', freeMinor: 9985 }, two)).toMatchObject({
      shares: [{ minor: 9985 }],
      missingMinor: 15,
      mayBeFee: true,
      isExact: false,
    })
    expect(best({ text: 'I-2026-0001', freeMinor: 5000 }, two)).toMatchObject({ mayBeFee: false })
  })

  it('is matched by its payer and amount, by everything open of the payer, or by the amount alone', () => {
    const mine = [open({ invoiceId: 1 }), open({ invoiceId: 2, openMinor: 4000 })]
    expect(best({}, mine, 1)).toMatchObject({ why: 'amount and payer', isExact: false })
    expect(best({ freeMinor: 14_000 }, mine, 1)).toMatchObject({ why: 'all open of payer' })
    expect(best({}, two)).toMatchObject({ why: 'amount alone', shares: [{ invoiceId: 1 }] })
    expect(best({ freeMinor: 77 }, two, 3)).toMatchObject({
      why: 'payer',
      clientId: 3,
      shares: [],
      restMinor: 77,
    })
  })

  it('is never set against another currency', () => {
    expect(best({ text: 'I-2026-0001', currency: 'USD' }, two)).toBeUndefined()
  })

  it('is never shared out beyond what came in or what is open', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 50_000 }),
        fc.array(
          fc.record({
            openMinor: fc.integer({ min: 1, max: 20_000 }),
            clientId: fc.integer({ min: 1, max: 3 }),
          }),
          { maxLength: 8 },
        ),
        fc.array(fc.integer({ min: 1, max: 9 }), { maxLength: 4 }),
        fc.option(fc.integer({ min: 1, max: 3 }), { nil: undefined }),
        (freeMinor, invoices, named, payer) => {
          const all = invoices.map((each, index) => open({ ...each, invoiceId: index + 1 }))
          const text = named.map((each) => `I-2026-000${each}`).join(' ')
          for (const match of matchesOf(credit({ freeMinor, text }), all, payer)) {
            const shared = match.shares.reduce((sum, { minor }) => sum + minor, 0)
            expect(shared + match.restMinor).toBe(freeMinor)
            for (const { invoiceId, minor } of match.shares) {
              const invoice = all.find((each) => each.invoiceId === invoiceId)
              expect(minor).toBeGreaterThan(0)
              expect(minor).toBeLessThanOrEqual(invoice?.openMinor ?? 0)
              expect(invoice?.clientId).toBe(match.clientId)
            }
          }
        },
      ),
    )
  })

  it('knows a payer under another writing of the name', () => {
    expect(nameKey('Halvorsen Leuchten GmbH & Co. KG')).toBe(nameKey('HALVORSEN LEUCHTEN'))
    expect(nameKey('Lumière S.')).toBe(nameKey('LUMIERE S'))
  })
})
