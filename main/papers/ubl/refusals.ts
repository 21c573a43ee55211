import { vatIdOf } from '../../trade/billParties.ts'
import { minorDigits } from '../../trade/currency.ts'
import { Refusal } from '../../trade/refusal.ts'
import type { UblSource } from './document.ts'

/**
 * Refuses what UBL 2.1 under EN 16931-1 cannot carry, in words that say what to do: a currency of three places
 * (BR-DEC-09 and its twins), sales tax of named rates, a seller nobody can tell apart (BR-CO-26), a document outside
 * the scope of tax whose seller is known by a tax number alone (BR-O-02), reverse charge and export without VAT numbers
 * (BR-AE-02, BR-G-02).
 */
export function refuseUncarried(source: UblSource): void {
  if (minorDigits(source.currency) > 2) {
    throw new Refusal(
      'ubl-currency',
      `An electronic invoice holds two digits after the point, ${source.currency} has ${minorDigits(source.currency)}. Send the PDF.`,
    )
  }
  const taxed = [...source.lines, ...source.adjustments]
  if (taxed.some(({ namedRates }) => namedRates.length > 0)) {
    throw new Refusal(
      'ubl-named-rates',
      'An electronic invoice after EN 16931 knows one rate of VAT a line, and cannot carry a sales tax of several names. Send the PDF.',
    )
  }
  const has = (...wanted: readonly string[]) => taxed.some(({ category }) => wanted.includes(category))
  const sellerVatId = has('O') ? null : vatIdOf(source.seller.taxNumber)
  if (sellerVatId === null && !source.seller.companyNumber) {
    throw new Refusal(
      'ubl-seller',
      `${source.number} was issued without ${has('O') ? 'the number of the company' : 'a VAT number with its country letters or the number of the company'}, and an electronic invoice needs it. Enter it under Studio, Name and address: invoices issued after that carry it. Send the PDF of this one.`,
    )
  }
  if (has('S', 'Z', 'E', 'AE', 'G', 'K') && !source.seller.taxNumber) {
    throw new Refusal(
      'ubl-seller',
      `${source.number} was issued without your tax number, and an electronic invoice needs it. Enter it under Studio, Name and address: invoices issued after that carry it. Send the PDF of this one.`,
    )
  }
  if (has('G') && sellerVatId === null) {
    throw new Refusal(
      'ubl-seller',
      `${source.number} is an export and was issued without a VAT number with its country letters. Send the PDF.`,
    )
  }
  if (has('AE', 'K') && vatIdOf(source.buyer.taxNumber) === null) {
    throw new Refusal(
      'ubl-buyer',
      `The tax number of ${source.buyer.name} on ${source.number} does not begin with the letters of a country, and an electronic invoice needs it so. Correct it under the client: invoices issued after that carry it. Send the PDF of this one.`,
    )
  }
}
