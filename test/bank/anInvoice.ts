import { addDraft } from '../../db/billing.ts'
import type { Id } from '../../db/ids.ts'
import { issueInvoice } from '../../db/issuing.ts'
import { billTotals } from '../../main/trade/bill.ts'
import { aClient } from '../builders.ts'
import type { TestStudio } from '../studio.ts'

interface Of {
  readonly clientId?: Id<'client'>
  readonly currency?: string
  readonly name?: string
  /** How many pieces the line has; the amount is for all of them. */
  readonly pieces?: number
}

/** An issued invoice of one line without tax, to a client of its own unless one is named. */
export async function anInvoice(studio: TestStudio, amountMinor: number, of: Of = {}) {
  const { invoiceId, clientId } = await aDraftInvoice(studio, amountMinor, of)
  const number = issueInvoice(studio.writing, invoiceId)
  const reference = (await studio.api.invoices.one({ invoiceId })).invoice.paymentReference ?? ''
  return { invoiceId, clientId, number, reference }
}

/** The same before it is issued. */
export async function aDraftInvoice(studio: TestStudio, amountMinor: number, of: Of = {}) {
  const { api, writing, db } = studio
  const pieces = of.pieces ?? 1
  const count = db.prepare('SELECT count(*) FROM client').pluck().get() as number
  const clientId =
    of.clientId ?? (await api.clients.add(aClient({ name: of.name ?? `Client ${count + 1}` }))).clientId
  const line = {
    text: 'Spins',
    quantityMilli: pieces * 1000,
    unit: 'C62',
    priceMinor: amountMinor / pieces,
    baseMilli: 1000,
    category: 'Z',
    ratePpm: 0,
    namedRates: [],
    exemptionReason: null,
    allowanceMinor: 0,
    allowanceReason: null,
    chargeMinor: 0,
    chargeReason: null,
    quoteLineId: null,
    extraLineId: null,
    correctsLineId: null,
    jobId: null,
    jobCostId: null,
  } as const
  const invoiceId = addDraft(writing, {
    kind: 'invoice',
    clientId,
    jobId: null,
    correctsId: null,
    currency: of.currency ?? 'EUR',
    language: 'en',
    serviceFrom: null,
    serviceTo: null,
    orderNumber: null,
    buyerReference: null,
    costCentre: null,
    note: null,
    lines: [line],
    adjustments: [],
    deposits: [],
    totals: billTotals({ lines: [line] }),
  })
  return { invoiceId, clientId }
}
