import type { Party } from '../../db/invoices.ts'
import type { Studio } from '../../db/studio.ts'
import { formatIban } from '../trade/payment.ts'
import { type PaperLanguage, paperTexts } from '../trade/texts/paperTexts.ts'
import type { Sender } from './sheet.ts'

/** The lines of an address, as they are written on a letter; the country only where it is not the sender's. */
export function addressLines(
  party: Pick<Party, 'street' | 'postalCode' | 'city' | 'region' | 'country'>,
  homeCountry: string,
  locale: string,
): readonly string[] {
  const town = [party.postalCode, party.city].filter(Boolean).join(' ')
  const country = party.country === homeCountry ? null : countryName(party.country, locale)
  return [party.street, town, party.region, country].filter((line): line is string => Boolean(line))
}

/** Who writes, from the studio as it is or as it was frozen on the paper. */
export function senderOf(party: Party | Studio, locale: string, language: PaperLanguage): Sender {
  const small = [
    party.companyNumber,
    party.taxNumber ? paperTexts[language].sheet.taxNumber(party.taxNumber) : null,
    party.iban ? `IBAN ${formatIban(party.iban)}` : null,
    party.bic ? `BIC ${party.bic}` : null,
    party.email,
  ]
  return {
    name: party.name,
    address: addressLines(party, party.country, locale),
    foot: small.filter((line): line is string => Boolean(line)),
  }
}

function countryName(code: string, locale: string): string {
  return new Intl.DisplayNames([locale], { type: 'region' }).of(code) ?? code
}
