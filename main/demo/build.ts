import { caller } from '../api/caller.ts'
import { StudioHouse } from '../api/house.ts'
import { makeStudio } from '../api/opening.ts'
import { castClients } from './cast/clients.ts'
import { clockTime, DemoClock, demoZone } from './clock.ts'
import { clearDemoFolder } from './folder.ts'

/**
 * Makes the demo studio in a folder: an invented studio's two years of work, sent through the same API as a
 * person's own clicks, up to the instant `madeAt`. The same `madeAt` makes the same studio.
 * Refuses a folder that holds anything but a demo studio.
 */
export async function buildDemoStudio(
  folder: string,
  say: (line: string) => void,
  madeAt: Date = new Date(),
): Promise<void> {
  clearDemoFolder(folder)
  const clock = new DemoClock(madeAt)
  clock.moveTo(clockTime(clock.workingDay(-520), '08:00'))
  const house = new StudioHouse({ studioFolder: folder, demoFolder: folder, now: () => clock.now })
  makeStudio(house, folder, {
    name: 'Halbkreis Spin Studio',
    personName: 'Jorun Halbkreis',
    country: 'DE',
    currency: 'EUR',
    timeZone: demoZone,
    locale: 'en-GB',
    taxName: 'VAT 19 %',
    taxRatePpm: 190_000,
    isDemo: true,
  })
  try {
    const api = caller(house)
    const plain = await api.clients.plainBrief()
    for (const { client, contacts, brief } of castClients) {
      await api.clients.add({
        client: { ...plainClient, ...client },
        contacts,
        brief: { ...(plain as Parameters<typeof api.clients.add>[0]['brief']), ...brief },
      })
    }
    say(`The demo studio has ${castClients.length} clients.`)
  } finally {
    house.leave()?.close()
  }
}

const plainClient = {
  street: null,
  postalCode: null,
  city: null,
  region: null,
  country: 'DE',
  taxNumber: null,
  currency: 'EUR',
  language: 'en' as const,
  taxRateId: null,
  paymentDays: null,
  orderNumberNeeded: false,
  filesAfterPayment: false,
  priceListId: null,
  note: null,
}
