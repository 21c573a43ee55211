import fs from 'node:fs'
import path from 'node:path'
import { addDraft } from '../../db/billing.ts'
import { draftCredit } from '../../db/creditNotes.ts'
import type { Id } from '../../db/ids.ts'
import { issueInvoice } from '../../db/issuing.ts'
import { openStore } from '../../db/open.ts'
import { ownerOf } from '../../db/studio.ts'
import { billTotals } from '../../main/trade/bill.ts'

// A program of its own for the test of killed processes: issues invoices as fast as it can, every other one credited,
// and says each number only when the store has it. It opens the store beside another of its kind, without the studio's
// lock, as no two programs ever do: even so no number is given twice.

const db = openStore(path.join(process.argv[2] ?? '', 'studio.db'))
const who = ownerOf(db)
if (!who) throw new Error('The studio has no owner.')
const clientId = db.prepare('SELECT id FROM client').pluck().get() as Id<'client'>
const line = {
  text: 'Spins',
  quantityMilli: 1000,
  unit: 'C62',
  priceMinor: 5200,
  baseMilli: 1000,
  category: 'S',
  ratePpm: 200_000,
  namedRates: [],
  exemptionReason: null,
  allowanceMinor: 0,
  allowanceReason: null,
  chargeMinor: 0,
  chargeReason: null,
  quoteLineId: null,
  extraLineId: null,
  jobCostId: null,
  correctsLineId: null,
  jobId: null,
} as const

for (let index = 0; ; index += 1) {
  const writing = { db, who, now: new Date().toISOString() }
  const invoiceId = addDraft(writing, {
    kind: 'invoice',
    clientId,
    jobId: null,
    correctsId: null,
    currency: 'EUR',
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
  fs.writeSync(1, `${issueInvoice(writing, invoiceId)}\n`)
  if (index % 2 === 0) continue
  fs.writeSync(1, `${issueInvoice(writing, draftCredit(writing, invoiceId, 'Tried', null))}\n`)
}
