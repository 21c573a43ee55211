import { paperTexts } from '../../trade/texts/paperTexts.ts'
import type { UblSource } from './document.ts'
import { allowanceCharge, line, monetaryTotal, party, taxCategory, taxTotal } from './parts.ts'
import { refuseUncarried } from './refusals.ts'
import { type Element, group, type Part, term, xmlText } from './xml.ts'

// UNTDID 1001, as EN 16931-1 allows it (BT-3).
const typeCodes = { invoice: '380', deposit: '386', 'credit note': '381' } as const

/**
 * The electronic invoice of an issued document: UBL 2.1 Invoice or CreditNote after EN 16931-1, elements in the order
 * of the schema (from memory). The same bytes from the same rows. Refuses what the standard cannot carry. It knows the
 * European core alone: rules that a country or a network adds are not checked.
 */
export function ublText(source: UblSource): string {
  refuseUncarried(source)
  const isCredit = source.kind === 'credit note'
  const root = isCredit ? 'CreditNote' : 'Invoice'
  const schema = 'urn:oasis:names:specification:ubl:schema:xsd:'
  const document = group(root, header(source), parties(source), payment(source), sums(source))
  return xmlText({
    ...(document as Element),
    attributes: {
      xmlns: `${schema}${root}-2`,
      'xmlns:cac': `${schema}CommonAggregateComponents-2`,
      'xmlns:cbc': `${schema}CommonBasicComponents-2`,
    },
  })
}

function header(source: UblSource): Part {
  const { kind, serviceFrom, serviceTo } = source
  const isCredit = kind === 'credit note'
  return [
    term('cbc:CustomizationID', 'urn:cen.eu:en16931:2017'),
    term('cbc:ID', source.number),
    term('cbc:IssueDate', source.issueDay),
    isCredit ? null : term('cbc:DueDate', source.dueDay),
    term(isCredit ? 'cbc:CreditNoteTypeCode' : 'cbc:InvoiceTypeCode', typeCodes[kind]),
    term('cbc:Note', source.note),
    term('cbc:DocumentCurrencyCode', source.currency),
    term('cbc:AccountingCost', source.costCentre),
    term('cbc:BuyerReference', source.buyerReference),
    serviceFrom === null || serviceTo === null || serviceFrom === serviceTo
      ? null
      : group('cac:InvoicePeriod', term('cbc:StartDate', serviceFrom), term('cbc:EndDate', serviceTo)),
    group('cac:OrderReference', term('cbc:ID', source.orderNumber)),
    source.preceding.map(({ number, issueDay }) =>
      group(
        'cac:BillingReference',
        group('cac:InvoiceDocumentReference', term('cbc:ID', number), term('cbc:IssueDate', issueDay)),
      ),
    ),
  ]
}

function parties(source: UblSource): Part {
  const has = (category: string) => source.taxes.some((tax) => tax.category === category)
  return [
    party('cac:AccountingSupplierParty', source.seller, true, has('O')),
    party('cac:AccountingCustomerParty', source.buyer, false, has('O')),
    group(
      'cac:Delivery',
      term('cbc:ActualDeliveryDate', source.serviceTo ?? source.serviceFrom),
      // Where a supply within the Union went to (BR-IC-12).
      has('K')
        ? group(
            'cac:DeliveryLocation',
            group('cac:Address', group('cac:Country', term('cbc:IdentificationCode', source.buyer.country))),
          )
        : null,
    ),
  ]
}

/** How it is paid: by transfer (UNTDID 4461: 58 in euro, else 30); a credit note is set against its invoice. */
function payment(source: UblSource): Part {
  const { seller, currency } = source
  if (source.kind === 'credit note') {
    return group('cac:PaymentTerms', term('cbc:Note', paperTexts[source.language].invoice.creditTerms))
  }
  if (!seller.iban) return null
  return group(
    'cac:PaymentMeans',
    term('cbc:PaymentMeansCode', currency === 'EUR' ? '58' : '30'),
    term('cbc:PaymentID', source.paymentReference),
    group(
      'cac:PayeeFinancialAccount',
      term('cbc:ID', seller.iban),
      group('cac:FinancialInstitutionBranch', term('cbc:ID', seller.bic)),
    ),
  )
}

function sums(source: UblSource): Part {
  return [
    source.adjustments.map((one) =>
      allowanceCharge(
        one.kind === 'charge',
        one.reason,
        one.amountMinor,
        source.currency,
        taxCategory('cac:TaxCategory', one),
      ),
    ),
    taxTotal(source),
    monetaryTotal(source),
    source.lines.map((one, index) => line(source, one, index + 1)),
  ]
}
