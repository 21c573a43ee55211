import type { Client } from './clients.ts'
import type { Party } from './invoices.ts'
import type { Studio } from './studio.ts'

/** The studio as it is named on a document, and nothing more of its row: rates and terms are its own. */
export function sellerOf(studio: Studio): Party {
  const { street, postalCode, city, region, country, taxNumber, companyNumber, email, iban, bic } = studio
  const name = studio.legalName ?? studio.name
  return { name, street, postalCode, city, region, country, taxNumber, companyNumber, email, iban, bic }
}

/** A client as it is named on a document. */
export function buyerOf(client: Client): Party {
  const { name, street, postalCode, city, region, country, taxNumber } = client
  const unknown = { companyNumber: null, email: null, iban: null, bic: null }
  return { name, street, postalCode, city, region, country, taxNumber, ...unknown }
}
