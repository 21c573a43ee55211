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
      referenceNeeded: false,
      costCentreNeeded: false,
      billsMonthly: false,
      filesAfterPayment: false,
      priceListId: null,
      note: null,
      ...client,
    },
    contacts,
    brief,
  }
}

/** A product; name only what the test is about. Invented. */
export function aProduct(
  of: Partial<Asks['products']['add']['product']> = {},
): Asks['products']['add']['product'] {
  return {
    familyId: null,
    code: 'K-104',
    name: 'Kettle',
    variant: null,
    widthMm: 220,
    depthMm: 160,
    heightMm: 240,
    plan: 'box',
    sweptMm: null,
    massG: 1200,
    finish: 'satin',
    gtin: null,
    valueMinor: null,
    startPose: null,
    handlingNote: null,
    ...of,
  }
}
