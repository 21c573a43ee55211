import currencyCodes from 'currency-codes'
import Decimal from 'decimal.js'
import { familyRules } from './families.ts'
import { isInOrder } from './order.ts'
import { all, type Node, one, textAt, within } from './readUbl.ts'

/**
 * The rules of EN 16931-1 that an issued document can break, by their identifiers, written anew from the texts of the
 * validation artefacts v1.3.16 (ConnectingEurope/eInvoicing-EN16931) as quoted in outside checks of this project, and
 * from memory where they were not. The official Schematron itself is in no registry and was not run here. Tolerances are
 * those of the artefacts: sums are exact, BR-CO-17 and the -08 and -09 of the standard rate forgive less than 1.
 * @returns the identifiers of the rules that are broken, each once, in order of name; 'XSD' for the order of elements
 */
export function brokenRules(root: Node): readonly string[] {
  const broken = new Set<string>()
  const must = (rule: string, holds: boolean) => {
    if (!holds) broken.add(rule)
  }
  must('XSD', isInOrder(root))
  mandatory(root, must)
  sums(root, must)
  decimals(root, must)
  codes(root, must)
  familyRules(root, must)
  return [...broken].sort()
}

export type Must = (rule: string, holds: boolean) => void

export const linesOf = (root: Node) => [...all(root, 'InvoiceLine'), ...all(root, 'CreditNoteLine')]
export const money = (node: Node, path: string) => new Decimal(textAt(node, path) ?? 0)
export const sumOf = (nodes: readonly Node[], path: string) =>
  Decimal.sum(0, ...nodes.map((node) => money(node, path)))
export const isCharge = (node: Node) => textAt(node, 'ChargeIndicator') === 'true'

function mandatory(root: Node, must: Must): void {
  const has = (path: string) => textAt(root, path) !== undefined
  must('BR-01', has('CustomizationID'))
  must('BR-02', has('ID'))
  must('BR-03', has('IssueDate'))
  must('BR-04', has('InvoiceTypeCode') || has('CreditNoteTypeCode'))
  must('BR-05', has('DocumentCurrencyCode'))
  must('BR-06', has('AccountingSupplierParty/Party/PartyLegalEntity/RegistrationName'))
  must('BR-07', has('AccountingCustomerParty/Party/PartyLegalEntity/RegistrationName'))
  must('BR-08', one(root, 'AccountingSupplierParty/Party/PostalAddress') !== undefined)
  must('BR-09', has('AccountingSupplierParty/Party/PostalAddress/Country/IdentificationCode'))
  must('BR-10', one(root, 'AccountingCustomerParty/Party/PostalAddress') !== undefined)
  must('BR-11', has('AccountingCustomerParty/Party/PostalAddress/Country/IdentificationCode'))
  must('BR-12', has('LegalMonetaryTotal/LineExtensionAmount'))
  must('BR-13', has('LegalMonetaryTotal/TaxExclusiveAmount'))
  must('BR-14', has('LegalMonetaryTotal/TaxInclusiveAmount'))
  must('BR-15', has('LegalMonetaryTotal/PayableAmount'))
  must('BR-16', linesOf(root).length > 0)
  for (const line of linesOf(root)) {
    const on = (path: string) => textAt(line, path) !== undefined
    must('BR-21', on('ID'))
    must('BR-22', on('InvoicedQuantity') || on('CreditedQuantity'))
    const quantity = one(line, 'InvoicedQuantity') ?? one(line, 'CreditedQuantity')
    must('BR-23', quantity?.attributes.unitCode !== undefined)
    must('BR-24', on('LineExtensionAmount'))
    must('BR-25', on('Item/Name'))
    must('BR-26', on('Price/PriceAmount'))
    must('BR-27', money(line, 'Price/PriceAmount').gte(0))
    must('BR-CO-04', on('Item/ClassifiedTaxCategory/ID'))
    for (const favour of all(line, 'AllowanceCharge')) {
      must(isCharge(favour) ? 'BR-43' : 'BR-41', textAt(favour, 'Amount') !== undefined)
      must(isCharge(favour) ? 'BR-44' : 'BR-42', textAt(favour, 'AllowanceChargeReason') !== undefined)
    }
  }
  for (const adjustment of all(root, 'AllowanceCharge')) {
    must(isCharge(adjustment) ? 'BR-36' : 'BR-31', textAt(adjustment, 'Amount') !== undefined)
    must(isCharge(adjustment) ? 'BR-37' : 'BR-32', textAt(adjustment, 'TaxCategory/ID') !== undefined)
    must(isCharge(adjustment) ? 'BR-38' : 'BR-33', textAt(adjustment, 'AllowanceChargeReason') !== undefined)
  }
  for (const tax of all(root, 'TaxTotal/TaxSubtotal')) {
    must('BR-45', textAt(tax, 'TaxableAmount') !== undefined)
    must('BR-46', textAt(tax, 'TaxAmount') !== undefined)
    must('BR-47', textAt(tax, 'TaxCategory/ID') !== undefined)
    must('BR-48', textAt(tax, 'TaxCategory/Percent') !== undefined || textAt(tax, 'TaxCategory/ID') === 'O')
  }
  must('BR-CO-18', all(root, 'TaxTotal/TaxSubtotal').length > 0)
  const [from, to] = [textAt(root, 'InvoicePeriod/StartDate'), textAt(root, 'InvoicePeriod/EndDate')]
  must('BR-29', from === undefined || to === undefined || to >= from)
  for (const reference of all(root, 'BillingReference')) {
    must('BR-55', textAt(reference, 'InvoiceDocumentReference/ID') !== undefined)
  }
  for (const means of all(root, 'PaymentMeans')) {
    const code = textAt(means, 'PaymentMeansCode')
    must('BR-49', code !== undefined)
    if (code === '30' || code === '58') must('BR-61', textAt(means, 'PayeeFinancialAccount/ID') !== undefined)
    if (one(means, 'PayeeFinancialAccount'))
      must('BR-50', textAt(means, 'PayeeFinancialAccount/ID') !== undefined)
  }
  // Own rule besides: the release of the artefacts named above does not check it.
  const isToPay = money(root, 'LegalMonetaryTotal/PayableAmount').gt(0)
  must('BR-CO-25', !isToPay || has('DueDate') || has('PaymentTerms/Note'))
  const seller = one(root, 'AccountingSupplierParty/Party')
  must(
    'BR-CO-26',
    seller !== undefined &&
      (textAt(seller, 'PartyIdentification/ID') !== undefined ||
        textAt(seller, 'PartyLegalEntity/CompanyID') !== undefined ||
        vatIdIn(seller) !== undefined),
  )
}

/** The VAT number of a party, told from other numbers by its scheme. */
export function vatIdIn(party: Node): string | undefined {
  const scheme = all(party, 'PartyTaxScheme').find((each) => textAt(each, 'TaxScheme/ID') === 'VAT')
  return scheme && textAt(scheme, 'CompanyID')
}

function sums(root: Node, must: Must): void {
  const at = (name: string) => money(root, `LegalMonetaryTotal/${name}`)
  const adjustments = all(root, 'AllowanceCharge')
  const same = (rule: string, a: Decimal, b: Decimal) => must(rule, a.toFixed(2) === b.toFixed(2))
  const allowances = adjustments.filter((each) => !isCharge(each))
  const charges = adjustments.filter(isCharge)
  same('BR-CO-10', at('LineExtensionAmount'), sumOf(linesOf(root), 'LineExtensionAmount'))
  same('BR-CO-11', at('AllowanceTotalAmount'), sumOf(allowances, 'Amount'))
  same('BR-CO-12', at('ChargeTotalAmount'), sumOf(charges, 'Amount'))
  const exclusive = at('LineExtensionAmount').sub(at('AllowanceTotalAmount')).add(at('ChargeTotalAmount'))
  same('BR-CO-13', at('TaxExclusiveAmount'), exclusive)
  const taxes = all(root, 'TaxTotal/TaxSubtotal')
  same('BR-CO-14', money(root, 'TaxTotal/TaxAmount'), sumOf(taxes, 'TaxAmount'))
  same('BR-CO-15', at('TaxInclusiveAmount'), at('TaxExclusiveAmount').add(money(root, 'TaxTotal/TaxAmount')))
  const payable = at('TaxInclusiveAmount').sub(at('PrepaidAmount')).add(at('PayableRoundingAmount'))
  same('BR-CO-16', at('PayableAmount'), payable)
  for (const tax of taxes) {
    const due = money(tax, 'TaxableAmount').mul(money(tax, 'TaxCategory/Percent')).div(100)
    must('BR-CO-17', isNear(money(tax, 'TaxAmount'), due))
  }
}

/** Within less than 1, as the artefacts forgive. */
export function isNear(a: Decimal, b: Decimal): boolean {
  return a.sub(b.toDecimalPlaces(2, Decimal.ROUND_HALF_UP)).abs().lt(1)
}

const decimalRules: readonly (readonly [path: string, rule: string])[] = [
  ['LegalMonetaryTotal/LineExtensionAmount', 'BR-DEC-09'],
  ['LegalMonetaryTotal/AllowanceTotalAmount', 'BR-DEC-10'],
  ['LegalMonetaryTotal/ChargeTotalAmount', 'BR-DEC-11'],
  ['LegalMonetaryTotal/TaxExclusiveAmount', 'BR-DEC-12'],
  ['TaxTotal/TaxAmount', 'BR-DEC-13'],
  ['LegalMonetaryTotal/TaxInclusiveAmount', 'BR-DEC-14'],
  ['LegalMonetaryTotal/PrepaidAmount', 'BR-DEC-16'],
  ['LegalMonetaryTotal/PayableRoundingAmount', 'BR-DEC-17'],
  ['LegalMonetaryTotal/PayableAmount', 'BR-DEC-18'],
  ['TaxTotal/TaxSubtotal/TaxableAmount', 'BR-DEC-19'],
  ['TaxTotal/TaxSubtotal/TaxAmount', 'BR-DEC-20'],
  ['InvoiceLine/LineExtensionAmount', 'BR-DEC-23'],
  ['CreditNoteLine/LineExtensionAmount', 'BR-DEC-23'],
]

function decimals(root: Node, must: Must): void {
  const hasTwo = (text: string) => /^-?\d+(\.\d{1,2})?$/u.test(text.trim())
  for (const [path, rule] of decimalRules) {
    for (const { text } of all(root, path)) must(rule, hasTwo(text))
  }
  for (const adjustment of all(root, 'AllowanceCharge')) {
    must(isCharge(adjustment) ? 'BR-DEC-05' : 'BR-DEC-01', hasTwo(textAt(adjustment, 'Amount') ?? ''))
  }
  for (const favour of linesOf(root).flatMap((line) => all(line, 'AllowanceCharge'))) {
    must(isCharge(favour) ? 'BR-DEC-27' : 'BR-DEC-24', hasTwo(textAt(favour, 'Amount') ?? ''))
  }
  for (const { name, text } of within(root)) {
    if (name.endsWith('Amount') && name !== 'PriceAmount') must('UBL-DT-01', hasTwo(text))
  }
}

// UNTDID 1001 and 4461, UN/ECE Recommendation 20 and VATEX: those codes of them that are known here.
const typeCodes = ['380', '381', '386']
const meansCodes = ['30', '58']
const units = ['C62', 'HUR', 'DAY', 'LS']
const vatex = ['VATEX-EU-AE', 'VATEX-EU-G', 'VATEX-EU-IC', 'VATEX-EU-O']
const categories = ['S', 'Z', 'E', 'AE', 'G', 'O', 'K']

function codes(root: Node, must: Must): void {
  const currencies = currencyCodes.codes()
  const regions = new Intl.DisplayNames(['en'], { type: 'region', fallback: 'none' })
  must(
    'BR-CL-01',
    typeCodes.includes(textAt(root, 'InvoiceTypeCode') ?? textAt(root, 'CreditNoteTypeCode') ?? ''),
  )
  must('BR-CL-04', currencies.includes(textAt(root, 'DocumentCurrencyCode') ?? ''))
  for (const { name, attributes, text } of within(root)) {
    if (attributes.currencyID !== undefined) must('BR-CL-03', currencies.includes(attributes.currencyID))
    if (attributes.unitCode !== undefined) must('BR-CL-23', units.includes(attributes.unitCode))
    if (name === 'IdentificationCode') must('BR-CL-14', regions.of(text) !== undefined)
    if (name === 'PaymentMeansCode') must('BR-CL-16', meansCodes.includes(text))
    if (name === 'TaxExemptionReasonCode') must('BR-CL-22', vatex.includes(text))
  }
  for (const line of linesOf(root)) {
    must('BR-CL-18', categories.includes(textAt(line, 'Item/ClassifiedTaxCategory/ID') ?? ''))
  }
  for (const category of [
    ...all(root, 'TaxTotal/TaxSubtotal/TaxCategory/ID'),
    ...all(root, 'AllowanceCharge/TaxCategory/ID'),
  ]) {
    must('BR-CL-17', categories.includes(category.text))
  }
  for (const role of ['AccountingSupplierParty', 'AccountingCustomerParty']) {
    const party = one(root, `${role}/Party`)
    const vatId = party && vatIdIn(party)
    if (vatId === undefined) continue
    const letters = vatId.slice(0, 2)
    must('BR-CO-09', letters === 'EL' || (/^[A-Z]{2}$/u.test(letters) && regions.of(letters) !== undefined))
  }
}

/**
 * Our own exact rules, since the published ones forgive a base that is wrong by up to 1 and never look at a line's
 * price: each line is its quantity × price ÷ base, rounded once, a half away from zero, less what is taken off; each base
 * is exactly what bears it; each tax exactly the share of its base.
 * @param digits  the minor unit's digits of ISO 4217
 */
export function brokenExactly(root: Node, digits = 2): readonly string[] {
  const broken = new Set<string>()
  const round = (value: Decimal) => value.toDecimalPlaces(digits, Decimal.ROUND_HALF_UP)
  for (const line of linesOf(root)) {
    const quantity = money(line, 'InvoicedQuantity').add(money(line, 'CreditedQuantity'))
    const base = new Decimal(textAt(line, 'Price/BaseQuantity') ?? 1)
    const favours = all(line, 'AllowanceCharge')
    const net = round(quantity.mul(money(line, 'Price/PriceAmount')).div(base))
      .sub(
        sumOf(
          favours.filter((each) => !isCharge(each)),
          'Amount',
        ),
      )
      .add(sumOf(favours.filter(isCharge), 'Amount'))
    if (!money(line, 'LineExtensionAmount').eq(net)) broken.add('line')
  }
  for (const tax of all(root, 'TaxTotal/TaxSubtotal')) {
    const key = (node: Node, path: string) =>
      `${textAt(node, `${path}/ID`)} ${textAt(node, `${path}/Percent`)}`
    const wanted = key(tax, 'TaxCategory')
    const adjustments = all(root, 'AllowanceCharge').filter((each) => key(each, 'TaxCategory') === wanted)
    const base = sumOf(
      linesOf(root).filter((each) => key(each, 'Item/ClassifiedTaxCategory') === wanted),
      'LineExtensionAmount',
    )
      .add(sumOf(adjustments.filter(isCharge), 'Amount'))
      .sub(
        sumOf(
          adjustments.filter((each) => !isCharge(each)),
          'Amount',
        ),
      )
    if (!money(tax, 'TaxableAmount').eq(base)) broken.add('base')
    if (!money(tax, 'TaxAmount').eq(round(base.mul(money(tax, 'TaxCategory/Percent')).div(100))))
      broken.add('tax')
  }
  return [...broken].sort()
}
