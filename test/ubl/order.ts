import type { Node } from './readUbl.ts'

/**
 * The order of elements in UBL 2.1 (OASIS), of those that EN 16931-1 uses: from memory of the schemas, which are not
 * in this project. A document whose elements stand otherwise, or that has others, is refused by the schema.
 */
const document = `CustomizationID ProfileID ID IssueDate DueDate InvoiceTypeCode CreditNoteTypeCode Note TaxPointDate
DocumentCurrencyCode TaxCurrencyCode AccountingCost BuyerReference InvoicePeriod OrderReference BillingReference
DespatchDocumentReference ReceiptDocumentReference OriginatorDocumentReference ContractDocumentReference
AdditionalDocumentReference ProjectReference AccountingSupplierParty AccountingCustomerParty PayeeParty
TaxRepresentativeParty Delivery PaymentMeans PaymentTerms AllowanceCharge TaxTotal LegalMonetaryTotal InvoiceLine
CreditNoteLine`
const party = 'Party'
const taxCategory = 'ID Name Percent TaxExemptionReasonCode TaxExemptionReason TaxScheme'
const line =
  'ID Note InvoicedQuantity CreditedQuantity LineExtensionAmount AccountingCost InvoicePeriod OrderLineReference DocumentReference AllowanceCharge Item Price'

const orders: Readonly<Record<string, string>> = {
  Invoice: document.replace('CreditNoteTypeCode', '').replace('CreditNoteLine', ''),
  CreditNote: document.replace('InvoiceTypeCode', '').replace('DueDate', '').replace('InvoiceLine', ''),
  InvoicePeriod: 'StartDate EndDate DescriptionCode',
  OrderReference: 'ID SalesOrderID',
  BillingReference: 'InvoiceDocumentReference',
  InvoiceDocumentReference: 'ID IssueDate',
  AccountingSupplierParty: party,
  AccountingCustomerParty: party,
  Party: 'EndpointID PartyIdentification PartyName PostalAddress PartyTaxScheme PartyLegalEntity Contact',
  PostalAddress: 'StreetName AdditionalStreetName CityName PostalZone CountrySubentity AddressLine Country',
  Address: 'StreetName AdditionalStreetName CityName PostalZone CountrySubentity AddressLine Country',
  Country: 'IdentificationCode',
  PartyTaxScheme: 'CompanyID TaxScheme',
  TaxScheme: 'ID',
  PartyLegalEntity: 'RegistrationName CompanyID CompanyLegalForm',
  Contact: 'Name Telephone ElectronicMail',
  Delivery: 'ActualDeliveryDate DeliveryLocation DeliveryParty',
  DeliveryLocation: 'ID Address',
  PaymentMeans: 'PaymentMeansCode PaymentDueDate PaymentID CardAccount PayeeFinancialAccount PaymentMandate',
  PayeeFinancialAccount: 'ID Name FinancialInstitutionBranch',
  FinancialInstitutionBranch: 'ID',
  PaymentTerms: 'Note',
  AllowanceCharge:
    'ChargeIndicator AllowanceChargeReasonCode AllowanceChargeReason MultiplierFactorNumeric Amount BaseAmount TaxCategory',
  TaxCategory: taxCategory,
  ClassifiedTaxCategory: taxCategory,
  TaxTotal: 'TaxAmount TaxSubtotal',
  TaxSubtotal: 'TaxableAmount TaxAmount TaxCategory',
  LegalMonetaryTotal:
    'LineExtensionAmount TaxExclusiveAmount TaxInclusiveAmount AllowanceTotalAmount ChargeTotalAmount PrepaidAmount PayableRoundingAmount PayableAmount',
  InvoiceLine: line.replace('CreditedQuantity', ''),
  CreditNoteLine: line.replace('InvoicedQuantity', ''),
  Item: 'Description Name BuyersItemIdentification SellersItemIdentification StandardItemIdentification OriginCountry CommodityClassification ClassifiedTaxCategory AdditionalItemProperty',
  Price: 'PriceAmount BaseQuantity AllowanceCharge',
}

/** True where every element stands where the schema wants it and none is empty. */
export function isInOrder(node: Node): boolean {
  const order = orders[node.name]
  if (order === undefined) return node.children.length === 0 && node.text.trim() !== ''
  const places = node.children.map(({ name }) => order.split(/\s+/u).indexOf(name))
  const rises = places.every((place, index) => place >= (places[index - 1] ?? 0))
  return node.children.length > 0 && rises && node.children.every(isInOrder)
}
