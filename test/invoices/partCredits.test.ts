import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { Id } from '../../db/ids.ts'
import { aStudio, type TestStudio } from '../studio.ts'
import { anOrder, deliver } from './order.ts'

interface Piecework {
  readonly pieces: number
  readonly priceMinor: number
  readonly ratePpm: number
}

const adjustment = { category: 'S', namedRates: [], exemptionReason: null } as const

/** An issued invoice of these lines, with an allowance and a charge on the whole document at the first line's rate. */
async function anInvoiceOf(
  studio: TestStudio,
  lines: readonly Piecework[],
  allowanceMinor: number,
  chargeMinor: number,
): Promise<Id<'invoice'>> {
  const { api } = studio
  const { jobId, shootIds } = await anOrder(studio, [
    { kind: 'spins', quantityMilli: 1000, priceMinor: 5250, netMinor: 5250, spins: 1 },
  ])
  deliver(studio, jobId, shootIds)
  const draft = await api.invoices.draft({ jobId })
  const { invoice, lines: proposed } = await api.invoices.one(draft)
  const [line] = proposed
  if (!line) throw new Error('The draft has no line.')
  const ratePpm = lines[0]?.ratePpm ?? 0
  await api.invoices.changeDraft({
    ...invoice,
    ...draft,
    lines: lines.map((each) => ({
      ...line,
      quoteLineId: null,
      quantityMilli: each.pieces * 1000,
      priceMinor: each.priceMinor,
      ratePpm: each.ratePpm,
    })),
    adjustments: [
      { ...adjustment, kind: 'allowance', reason: 'Regular client', amountMinor: allowanceMinor, ratePpm },
      { ...adjustment, kind: 'charge', reason: 'Courier', amountMinor: chargeMinor, ratePpm },
    ],
  })
  await api.invoices.issue(draft)
  return draft.invoiceId
}

/** Credits these pieces of the lines, by their positions from 0. */
async function credit(studio: TestStudio, invoiceId: Id<'invoice'>, pieces: ReadonlyMap<number, number>) {
  const { api } = studio
  const { lines } = await api.invoices.one({ invoiceId })
  const part = [...pieces].map(([index, count]) => {
    const line = lines[index]
    if (!line) throw new Error(`There is no line ${index}.`)
    return { lineId: line.id, quantityMilli: count * 1000 }
  })
  const draft = await api.invoices.draftCredit({ invoiceId, reason: 'Not wanted', part })
  await api.invoices.issue(draft)
  return await api.invoices.one(draft)
}

describe('a credit note on a part of an invoice', () => {
  it('takes back its share of what was taken off and put on the whole document', async () => {
    const studio = aStudio()
    const line = { pieces: 4, priceMinor: 10_000, ratePpm: 200_000 }
    // 400.00 less 10 % and 8.00 for the courier are 368.00; with 20 % 441.60. A quarter is 110.40.
    const invoiceId = await anInvoiceOf(studio, [line], 4000, 800)
    expect((await studio.api.invoices.one({ invoiceId })).openMinor).toBe(44_160)
    const quarter = await credit(studio, invoiceId, new Map([[0, 1]]))
    expect(quarter.adjustments.map(({ kind, reason, amountMinor }) => [kind, reason, amountMinor])).toEqual([
      ['allowance', 'Regular client', 1000],
      ['charge', 'Courier', 200],
    ])
    expect(quarter.invoice.payableMinor).toBe(11_040)
    expect((await studio.api.invoices.one({ invoiceId })).openMinor).toBe(33_120)
  })

  it('leaves a line of another rate of tax without a share in them', async () => {
    const studio = aStudio()
    const lines = [
      { pieces: 1, priceMinor: 10_000, ratePpm: 200_000 },
      { pieces: 1, priceMinor: 10_000, ratePpm: 70_000 },
    ]
    const invoiceId = await anInvoiceOf(studio, lines, 1000, 0)
    expect((await credit(studio, invoiceId, new Map([[1, 1]]))).adjustments).toEqual([])
  })

  it('gives back a cent that tax rounded piece by piece would take twice', async () => {
    const studio = aStudio()
    const invoiceId = await anInvoiceOf(studio, [{ pieces: 3, priceMinor: 3333, ratePpm: 200_000 }], 0, 0)
    // 99.99 and 20.00 of tax are 119.99; three times 33.33 and 6.67 would be 120.00.
    const payable: number[] = []
    for (let piece = 0; piece < 3; piece += 1) {
      payable.push((await credit(studio, invoiceId, new Map([[0, 1]]))).invoice.payableMinor)
    }
    expect(payable).toEqual([4000, 4000, 3999])
    expect((await studio.api.invoices.one({ invoiceId })).openMinor).toBe(0)
  })

  it('leaves nothing open once every piece is credited, in whatever order', async () => {
    const piecework = fc.record({
      pieces: fc.integer({ min: 1, max: 3 }),
      priceMinor: fc.integer({ min: 101, max: 9999 }),
      ratePpm: fc.constantFrom(200_000, 70_000, 55_000),
    })
    await fc.assert(
      fc.asyncProperty(
        fc.array(piecework, { minLength: 1, maxLength: 3 }),
        fc.integer({ min: 0, max: 100 }),
        fc.integer({ min: 0, max: 500 }),
        fc.array(fc.nat(), { minLength: 9, maxLength: 9 }),
        async (lines, allowanceMinor, chargeMinor, order) => {
          const studio = aStudio()
          const invoiceId = await anInvoiceOf(studio, lines, allowanceMinor, chargeMinor)
          const pieces = lines.flatMap(({ pieces: count }, index) => Array<number>(count).fill(index))
          const shuffled = pieces
            .map((index, at) => ({ index, at, by: order[at] ?? 0 }))
            .sort((a, b) => a.by - b.by || a.at - b.at)
          const back = { allowance: 0, charge: 0 }
          for (const { index } of shuffled) {
            const { adjustments } = await credit(studio, invoiceId, new Map([[index, 1]]))
            for (const { kind, amountMinor } of adjustments) back[kind] += amountMinor
          }
          expect(back).toEqual({ allowance: allowanceMinor, charge: chargeMinor })
          expect((await studio.api.invoices.one({ invoiceId })).openMinor).toBe(0)
        },
      ),
      { numRuns: 8 },
    )
  })
})
