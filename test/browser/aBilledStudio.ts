import { mkdtempSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { caller } from '../../main/api/caller.ts'
import { StudioHouse } from '../../main/api/house.ts'
import { makeStudio } from '../../main/api/opening.ts'
import { addDays, dayOf } from '../../main/trade/calendar.ts'
import { aDraftInvoice, anInvoice } from '../bank/anInvoice.ts'

const timeZone = 'Europe/Berlin'

/**
 * Makes a studio whose client Fjordlicht has two open invoices, of 100.00 and 250.00, issued sixty days ago and due in
 * fourteen days from then, and a draft of 120.00 for four pieces to be issued today.
 */
export async function aBilledStudio() {
  const folder = join(mkdtempSync(join(tmpdir(), 'turnsheet-billed-')), 'studio')
  let now = new Date()
  const house = new StudioHouse({ studioFolder: folder, demoFolder: `${folder}-demo`, now: () => now })
  makeStudio(house, folder, {
    name: 'Lindenhof Spin Studio',
    personName: 'Mara Quist',
    country: 'DE',
    currency: 'EUR',
    timeZone,
    locale: 'en-GB',
    taxName: 'VAT 20 %',
    taxRatePpm: 200_000,
    isDemo: false,
  })
  const open = house.studio
  if (!open) throw new Error('The studio did not open.')
  const { db, owner } = open
  db.prepare('UPDATE studio SET tax_number = ?').run('DE000000000')
  now = new Date(Date.now() - 60 * 86_400_000)
  const studio = {
    house,
    api: caller(house),
    db,
    folder,
    writing: { db, now: now.toISOString(), who: owner },
    setNow: () => {},
  }
  const small = await anInvoice(studio, 10_000, { name: 'Fjordlicht' })
  const large = await anInvoice(studio, 25_000, { clientId: small.clientId })
  const draft = await aDraftInvoice(studio, 12_000, { clientId: small.clientId, pieces: 4 })
  house.leave()?.close()
  return { folder, small, large, draft, yesterday: addDays(dayOf(new Date(), timeZone), -1) }
}
