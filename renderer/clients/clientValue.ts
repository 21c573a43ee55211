import type { Answers, Asks } from '../../main/api/types.ts'
import { type BriefValue, briefValueOf, freshKey, sentBrief } from '../briefs/briefValue.ts'

type Sent = Asks['clients']['add']
type Kept = Answers['clients']['one']

export type ContactValue = Sent['contacts'][number] & { readonly key: string }

/** A client with contacts and standing brief while it is being written. */
export interface ClientValue {
  readonly client: Sent['client']
  readonly contacts: readonly ContactValue[]
  readonly brief: BriefValue
}

/** Where the form of a new client starts: the studio's country, its currency, the plain brief. */
export function newClientValue(
  country: string,
  currency: string,
  brief: Parameters<typeof briefValueOf>[0],
): ClientValue {
  return {
    client: {
      name: '',
      trade: '',
      street: '',
      postalCode: '',
      city: '',
      region: '',
      country,
      taxNumber: '',
      currency,
      language: 'en',
      taxRateId: null,
      paymentDays: null,
      orderNumberNeeded: false,
      referenceNeeded: false,
      costCentreNeeded: false,
      billsMonthly: false,
      filesAfterPayment: false,
      priceListId: null,
      note: '',
    },
    contacts: [],
    brief: briefValueOf(brief),
  }
}

/** A kept client as a form writes on it. */
export function clientValueOf({ client, contacts, brief }: Kept): ClientValue {
  const { id: _, standingBriefId: _brief, archivedAt: _off, ...draft } = client
  return {
    client: draft,
    contacts: contacts.map((contact) => ({ ...contact, key: freshKey() })),
    brief: briefValueOf(brief),
  }
}

/** The form's client as it is sent. */
export function sentClient({ client, contacts, brief }: ClientValue): Sent {
  return { client, contacts: contacts.map(({ key: _, ...contact }) => contact), brief: sentBrief(brief) }
}
