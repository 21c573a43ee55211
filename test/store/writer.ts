import fs from 'node:fs'
import { plainBrief } from '../../db/briefs.ts'
import { addClient } from '../../db/clients.ts'
import { openStudioFolder } from '../../db/open.ts'
import { ownerOf } from '../../db/studio.ts'

// A program of its own for the test of killed processes: adds clients as fast as it can, each with its brief
// and event in one transaction, and says the number of each only when the store has it.

const { db } = openStudioFolder(process.argv[2] ?? '', new Date())
const who = ownerOf(db)
if (!who) throw new Error('The studio has no owner.')
for (let index = 0; ; index += 1) {
  const now = new Date().toISOString()
  const clientId = addClient(
    { db, now, who },
    {
      name: `Client ${process.pid}-${index}`,
      trade: null,
      street: null,
      postalCode: null,
      city: null,
      region: null,
      country: 'DE',
      taxNumber: null,
      currency: 'EUR',
      language: 'en',
      taxRateId: null,
      paymentDays: null,
      orderNumberNeeded: false,
      referenceNeeded: false,
      costCentreNeeded: false,
      billsMonthly: false,
      filesAfterPayment: false,
      priceListId: null,
      note: null,
    },
    [],
    plainBrief,
  )
  fs.writeSync(1, `${clientId}\n`)
}
