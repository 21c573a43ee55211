import type { TaxCategory } from './billTax.ts'
import { isCountryCode } from './countries.ts'
import { Refusal } from './refusal.ts'

/** Member states of the European Union and of the European Economic Area, as of 2026. */
const union = new Set(
  'AT BE BG CY CZ DE DK EE ES FI FR GR HR HU IE IT LT LU LV MT NL PL PT RO SE SI SK'.split(' '),
)
const economicArea = new Set([...union, 'IS', 'LI', 'NO'])

/** What a party is known by to a tax office. */
export interface TaxParty {
  readonly name: string
  readonly country: string
  readonly taxNumber: string | null
}

/** What decides whom a document must name. */
export interface BillParties {
  readonly seller: TaxParty
  readonly buyer: TaxParty
  /** The day of the service, or its last one; null where none is said. */
  readonly serviceDay: string | null
  /** Categories on the document; `named` is true where a sales tax is made of named rates. */
  readonly taxed: readonly { readonly category: TaxCategory; readonly isNamed: boolean }[]
}

/**
 * A tax number that begins with a country's two letters (EN 16931-1 BT-31, BT-48; BR-CO-09), compact and in capitals;
 * null where it does not. Greece writes EL, Northern Ireland XI.
 */
export function vatIdOf(taxNumber: string | null): string | null {
  const compact = (taxNumber ?? '').replaceAll(/[\s.\-/]/gu, '').toUpperCase()
  const letters = /^([A-Z]{2})[A-Z0-9+*]*\d[A-Z0-9+*]*$/u.exec(compact)?.[1]
  const isOfCountry =
    letters === 'EL' || letters === 'XI' || (letters !== undefined && isCountryCode(letters))
  return isOfCountry ? compact : null
}

/**
 * Refuses a document whose categories of tax demand a number or day that is not known (EN 16931-1 BR-S-02, BR-Z-02,
 * BR-E-02, BR-AE-02, BR-G-02, BR-IC-02, BR-IC-11). The seller's own number is demanded where the standard is law, in
 * the European Economic Area; sales tax of named rates demands none.
 */
export function refuseMissingParties(of: BillParties): void {
  const has = (...wanted: TaxCategory[]) =>
    of.taxed.some(({ category, isNamed }) => wanted.includes(category) && !isNamed)
  const { seller, buyer } = of
  const isBound = economicArea.has(seller.country)
  if (isBound && has('S', 'Z', 'E', 'AE', 'G', 'K') && !seller.taxNumber) {
    throw new Refusal(
      'seller-tax-number',
      'This invoice needs your own tax number. Enter it under Studio, Name and address.',
    )
  }
  if ((has('K') || (isBound && has('G'))) && vatIdOf(seller.taxNumber) === null) {
    throw new Refusal(
      'seller-vat-id',
      `${has('K') ? 'A supply within the European Union' : 'An export'} needs your VAT number with its country letters, such as ${seller.country}123456789. Enter it under Studio, Name and address.`,
    )
  }
  if (has('AE') && !buyer.taxNumber) {
    throw new Refusal(
      'buyer-tax-number',
      `Reverse charge needs the tax number of ${buyer.name}. Enter it under the client.`,
    )
  }
  if (has('K') && vatIdOf(buyer.taxNumber) === null) {
    throw new Refusal(
      'buyer-vat-id',
      `A supply within the European Union needs the VAT number of ${buyer.name} with its country letters, such as ${buyer.country}123456789. Enter it under the client.`,
    )
  }
  if (has('K') && of.serviceDay === null) {
    throw new Refusal(
      'service-day',
      'A supply within the European Union says when it was delivered. Enter the day under Service until.',
      { field: 'serviceTo' },
    )
  }
}

/**
 * The code of the European code list for why a category bears no tax (EN 16931-1 BT-121), or null where only words
 * say it: exemptions differ, and outside the Union other law holds. From memory of the list VATEX.
 */
export function exemptionCode(category: TaxCategory, sellerCountry: string): string | null {
  if (!union.has(sellerCountry)) return null
  return codes[category] ?? null
}

const codes: Readonly<Partial<Record<TaxCategory, string>>> = {
  AE: 'VATEX-EU-AE',
  G: 'VATEX-EU-G',
  K: 'VATEX-EU-IC',
  O: 'VATEX-EU-O',
}
