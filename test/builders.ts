import { plainBrief } from '../db/briefs.ts'
import type { Asks } from '../main/api/types.ts'

type NewClient = Asks['clients']['add']

/** A client; name only what the test is about. Invented. */
export function aClient(
  of: Partial<NewClient['client']> & Partial<Pick<NewClient, 'contacts' | 'brief'>> = {},
): NewClient {
  const { contacts = [], brief = plainBrief as NewClient['brief'], ...client } = of
  return {
    client: {
      name: 'Halvorsen Lamps',
      trade: 'lamps',
      street: 'Speicherweg 4',
      postalCode: '20457',
      city: 'Hamburg',
      region: null,
      country: 'DE',
      taxNumber: null,
      currency: 'EUR',
      language: 'en',
      taxRateId: null,
      paymentDays: null,
      orderNumberNeeded: false,
      filesAfterPayment: false,
      priceListId: null,
      note: null,
      ...client,
    },
    contacts,
    brief,
  }
}
