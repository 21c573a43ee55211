import { all, type Node, one, textAt } from './readUbl.ts'
import { isCharge, isNear, linesOf, type Must, money, sumOf, vatIdIn } from './rules.ts'

// The letters by which the rules of a category are called.
const families = { S: 'S', Z: 'Z', E: 'E', AE: 'AE', G: 'G', O: 'O', K: 'IC' } as const

/** The families BR-S, BR-Z, BR-E, BR-AE, BR-G, BR-O and BR-IC: whom, what rate, base, tax and reason each demands. */
export function familyRules(root: Node, must: Must): void {
  for (const category of Object.keys(families) as (keyof typeof families)[]) family(root, category, must)
  const subtotals = all(root, 'TaxTotal/TaxSubtotal').map((each) => textAt(each, 'TaxCategory/ID'))
  if (subtotals.includes('O')) {
    must(
      'BR-O-11',
      subtotals.every((each) => each === 'O'),
    )
    must(
      'BR-O-12',
      linesOf(root).every((each) => textAt(each, 'Item/ClassifiedTaxCategory/ID') === 'O'),
    )
    const adjustments = all(root, 'AllowanceCharge')
    must(
      'BR-O-13',
      adjustments.every((each) => isCharge(each) || textAt(each, 'TaxCategory/ID') === 'O'),
    )
    must(
      'BR-O-14',
      adjustments.every((each) => !isCharge(each) || textAt(each, 'TaxCategory/ID') === 'O'),
    )
  }
  if (subtotals.includes('K')) {
    const hasDay =
      textAt(root, 'Delivery/ActualDeliveryDate') !== undefined || one(root, 'InvoicePeriod') !== undefined
    must('BR-IC-11', hasDay)
    const country = 'Delivery/DeliveryLocation/Address/Country/IdentificationCode'
    must('BR-IC-12', textAt(root, country) !== undefined)
  }
}

function family(root: Node, category: keyof typeof families, must: Must): void {
  const name = (number: string) => `BR-${families[category]}-${number}`
  const lines = linesOf(root).filter((each) => textAt(each, 'Item/ClassifiedTaxCategory/ID') === category)
  const adjustments = all(root, 'AllowanceCharge').filter(
    (each) => textAt(each, 'TaxCategory/ID') === category,
  )
  const allowances = adjustments.filter((each) => !isCharge(each))
  const charges = adjustments.filter(isCharge)
  const taxes = all(root, 'TaxTotal/TaxSubtotal').filter(
    (each) => textAt(each, 'TaxCategory/ID') === category,
  )
  const isUsed = lines.length > 0 || adjustments.length > 0
  if (category === 'S') must(name('01'), !isUsed || taxes.length > 0)
  else must(name('01'), taxes.length === (isUsed ? 1 : 0))

  for (const [rule, some] of [
    ['02', lines],
    ['03', allowances],
    ['04', charges],
  ] as const) {
    if (some.length > 0) must(name(rule), areKnown(root, category))
  }
  const hasRate = (each: Node, path: string) => {
    const percent = textAt(each, `${path}/Percent`)
    if (category === 'O') return percent === undefined
    return category === 'S' ? Number(percent) > 0 : percent !== undefined && Number(percent) === 0
  }
  must(
    name('05'),
    lines.every((each) => hasRate(each, 'Item/ClassifiedTaxCategory')),
  )
  must(
    name('06'),
    allowances.every((each) => hasRate(each, 'TaxCategory')),
  )
  must(
    name('07'),
    charges.every((each) => hasRate(each, 'TaxCategory')),
  )

  for (const tax of taxes) {
    const percent = textAt(tax, 'TaxCategory/Percent')
    const alike = (path: string) => (each: Node) =>
      Number(textAt(each, `${path}/Percent`)) === Number(percent)
    const ofRate = (some: readonly Node[], path: string) =>
      category === 'S' ? some.filter(alike(path)) : some
    const base = sumOf(ofRate(lines, 'Item/ClassifiedTaxCategory'), 'LineExtensionAmount')
      .add(sumOf(ofRate(charges, 'TaxCategory'), 'Amount'))
      .sub(sumOf(ofRate(allowances, 'TaxCategory'), 'Amount'))
    must(name('08'), isNear(money(tax, 'TaxableAmount'), base))
    const due = money(tax, 'TaxableAmount')
      .mul(percent ?? 0)
      .div(100)
    must(
      name('09'),
      category === 'S' ? isNear(money(tax, 'TaxAmount'), due) : money(tax, 'TaxAmount').isZero(),
    )
    const hasReason =
      textAt(tax, 'TaxCategory/TaxExemptionReason') !== undefined ||
      textAt(tax, 'TaxCategory/TaxExemptionReasonCode') !== undefined
    must(name('10'), category === 'S' || category === 'Z' ? !hasReason : hasReason)
  }
}

/** Whether seller and buyer are known by the numbers the category demands, and by none that it forbids. */
function areKnown(root: Node, category: keyof typeof families): boolean {
  const [seller, buyer] = [
    one(root, 'AccountingSupplierParty/Party'),
    one(root, 'AccountingCustomerParty/Party'),
  ]
  if (!seller || !buyer) return false
  const isRegistered = all(seller, 'PartyTaxScheme').some((each) => textAt(each, 'CompanyID') !== undefined)
  switch (category) {
    case 'S':
    case 'Z':
    case 'E':
      return isRegistered
    case 'AE':
      return isRegistered && (vatIdIn(buyer) ?? textAt(buyer, 'PartyLegalEntity/CompanyID')) !== undefined
    case 'G':
      return vatIdIn(seller) !== undefined
    case 'K':
      return vatIdIn(seller) !== undefined && vatIdIn(buyer) !== undefined
    case 'O':
      return vatIdIn(seller) === undefined && vatIdIn(buyer) === undefined
  }
}
