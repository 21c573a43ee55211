import { Refusal } from './refusal.ts'

/** What a client gives so that its accounts department finds an order again (EN 16931-1 BT-13, BT-10, BT-19). */
export interface References {
  readonly orderNumber: string | null
  readonly buyerReference: string | null
  readonly costCentre: string | null
}

/** Which of these a client needs on every invoice. */
export interface NeededReferences {
  readonly orderNumberNeeded: boolean
  readonly referenceNeeded: boolean
  readonly costCentreNeeded: boolean
}

const neededBy = [
  ['orderNumber', 'orderNumberNeeded', 'order number', 'order-number-missing'],
  ['buyerReference', 'referenceNeeded', 'reference', 'reference-missing'],
  ['costCentre', 'costCentreNeeded', 'cost centre', 'cost-centre-missing'],
] as const

/** Refuses an invoice that lacks a reference its client needs; the field is the one to fill in. */
export function refuseMissingReferences(
  client: NeededReferences & { readonly name: string },
  given: References,
): void {
  for (const [field, need, word, code] of neededBy) {
    if (!client[need] || given[field]) continue
    throw new Refusal(code, `${client.name} needs its ${word} on every invoice. Enter it first.`, { field })
  }
}

/**
 * The references that hold for all of several jobs: one document has room for one of each, so what differs is null
 * and stands in the texts of the lines.
 */
export function commonReferences(all: readonly References[]): References {
  const common = (field: keyof References) => {
    const [first, ...others] = new Set(all.map((one) => one[field]))
    return others.length === 0 ? (first ?? null) : null
  }
  return {
    orderNumber: common('orderNumber'),
    buyerReference: common('buyerReference'),
    costCentre: common('costCentre'),
  }
}

/** Jobs whose invoices must stand apart, because the client needs one of a reference on each, share no such key. */
export function invoiceKey(client: NeededReferences, of: References): string {
  return JSON.stringify(neededBy.map(([field, need]) => (client[need] ? of[field] : null)))
}
