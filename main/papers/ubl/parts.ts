import type { Party } from '../../../db/invoices.ts'
import type { TaxCategory } from '../../trade/bill.ts'
import { exemptionCode, vatIdOf } from '../../trade/billParties.ts'
import { plainMilli, plainMoney, plainPercent } from '../../trade/money.ts'
import type { UblSource } from './document.ts'
import { type Element, group, type Part, term } from './xml.ts'

/** An amount with its currency. */
export function amount(name: string, minor: number, currency: string): Element | null {
  return term(name, plainMoney(minor, currency), { currencyID: currency })
}

/** A party under its role. Outside the scope of tax no VAT number may stand (BR-O-02). */
export function party(role: string, of: Party, isSeller: boolean, isOutsideTax: boolean): Part {
  const vatId = isOutsideTax ? null : vatIdOf(of.taxNumber)
  // A number without country letters is the seller's registration with its tax office (BT-32); FC from memory.
  const registration = isSeller && !isOutsideTax && vatId === null ? of.taxNumber : null
  return group(
    role,
    group(
      'cac:Party',
      group(
        'cac:PostalAddress',
        term('cbc:StreetName', of.street),
        term('cbc:CityName', of.city),
        term('cbc:PostalZone', of.postalCode),
        term('cbc:CountrySubentity', of.region),
        group('cac:Country', term('cbc:IdentificationCode', of.country)),
      ),
      taxScheme(vatId, 'VAT'),
      taxScheme(registration, 'FC'),
      group(
        'cac:PartyLegalEntity',
        term('cbc:RegistrationName', of.name),
        term('cbc:CompanyID', of.companyNumber),
      ),
      group('cac:Contact', term('cbc:ElectronicMail', of.email)),
    ),
  )
}

function taxScheme(companyId: string | null, scheme: string): Part {
  if (companyId === null) return null
  return group(
    'cac:PartyTaxScheme',
    term('cbc:CompanyID', companyId),
    group('cac:TaxScheme', term('cbc:ID', scheme)),
  )
}

/** A category of tax under a name; the rate is left out where the category has none (BR-O-05). */
export function taxCategory(
  name: string,
  of: { readonly category: TaxCategory; readonly ratePpm: number },
  why: { readonly code: string | null; readonly reason: string | null } = { code: null, reason: null },
): Part {
  return group(
    name,
    term('cbc:ID', of.category),
    of.category === 'O' ? null : term('cbc:Percent', plainPercent(of.ratePpm)),
    term('cbc:TaxExemptionReasonCode', why.code),
    term('cbc:TaxExemptionReason', why.reason),
    group('cac:TaxScheme', term('cbc:ID', 'VAT')),
  )
}

/** Tax per category with its base, and why there is none. */
export function taxTotal({ currency, taxes, taxMinor, seller }: UblSource): Part {
  return group(
    'cac:TaxTotal',
    amount('cbc:TaxAmount', taxMinor, currency),
    taxes.map((tax) =>
      group(
        'cac:TaxSubtotal',
        amount('cbc:TaxableAmount', tax.baseMinor, currency),
        amount('cbc:TaxAmount', tax.taxMinor, currency),
        taxCategory('cac:TaxCategory', tax, {
          code: exemptionCode(tax.category, seller.country),
          reason: tax.exemptionReason,
        }),
      ),
    ),
  )
}

/** Something taken off or put on, a document's with its tax, a line's without. */
export function allowanceCharge(
  isCharge: boolean,
  reason: string | null,
  minor: number,
  currency: string,
  tax: Part = null,
): Part {
  return group(
    'cac:AllowanceCharge',
    term('cbc:ChargeIndicator', String(isCharge)),
    term('cbc:AllowanceChargeReason', reason),
    amount('cbc:Amount', minor, currency),
    tax,
  )
}

/** The sums. Those that are nothing are left out, except where something of them stands on the document. */
export function monetaryTotal(source: UblSource): Part {
  const { currency, adjustments } = source
  const has = (kind: 'allowance' | 'charge') => adjustments.some((one) => one.kind === kind)
  return group(
    'cac:LegalMonetaryTotal',
    amount('cbc:LineExtensionAmount', source.linesMinor, currency),
    amount('cbc:TaxExclusiveAmount', source.netMinor, currency),
    amount('cbc:TaxInclusiveAmount', source.totalMinor, currency),
    has('allowance') ? amount('cbc:AllowanceTotalAmount', source.allowanceMinor, currency) : null,
    has('charge') ? amount('cbc:ChargeTotalAmount', source.chargeMinor, currency) : null,
    source.prepaidMinor === 0 ? null : amount('cbc:PrepaidAmount', source.prepaidMinor, currency),
    source.roundingMinor === 0 ? null : amount('cbc:PayableRoundingAmount', source.roundingMinor, currency),
    amount('cbc:PayableAmount', source.payableMinor, currency),
  )
}

/** A line; `position` counts from 1. Units are codes of UN/ECE Recommendation 20 as they are kept. */
export function line(source: UblSource, of: UblSource['lines'][number], position: number): Part {
  const { currency, kind } = source
  const isCredit = kind === 'credit note'
  const unit = { unitCode: of.unit }
  return group(
    isCredit ? 'cac:CreditNoteLine' : 'cac:InvoiceLine',
    term('cbc:ID', String(position)),
    term(isCredit ? 'cbc:CreditedQuantity' : 'cbc:InvoicedQuantity', plainMilli(of.quantityMilli), unit),
    amount('cbc:LineExtensionAmount', of.netMinor, currency),
    of.allowanceMinor === 0 ? null : allowanceCharge(false, of.allowanceReason, of.allowanceMinor, currency),
    of.chargeMinor === 0 ? null : allowanceCharge(true, of.chargeReason, of.chargeMinor, currency),
    group('cac:Item', term('cbc:Name', of.text), taxCategory('cac:ClassifiedTaxCategory', of)),
    group(
      'cac:Price',
      amount('cbc:PriceAmount', of.priceMinor, currency),
      of.baseMilli === 1000 ? null : term('cbc:BaseQuantity', plainMilli(of.baseMilli), unit),
    ),
  )
}
