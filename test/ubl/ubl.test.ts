import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { UblSource } from '../../main/papers/ubl/document.ts'
import { ublText } from '../../main/papers/ubl/write.ts'
import type { TaxCategory } from '../../main/trade/bill.ts'
import { minorDigits } from '../../main/trade/currency.ts'
import { aLine, anAdjustment, aSource, published } from './aSource.ts'
import { readUbl, textAt } from './readUbl.ts'
import { brokenExactly, brokenRules } from './rules.ts'

const rulesOf = (xml: string) => brokenRules(readUbl(xml))

describe('an electronic invoice', () => {
  it.each(Object.entries(published))('of the published example %s breaks no rule', (_, source) => {
    const root = readUbl(ublText(source))
    expect(brokenRules(root)).toEqual([])
    expect(brokenExactly(root)).toEqual([])
  })

  it('holds the published sums of example A', () => {
    // Worked by decimal arithmetic: outside checks of this project, section on invoices.
    const root = readUbl(ublText(published.A))
    const at = (name: string) => textAt(root, `LegalMonetaryTotal/${name}`)
    expect(at('LineExtensionAmount')).toBe('843.68')
    expect(at('TaxExclusiveAmount')).toBe('820.49')
    expect(at('TaxInclusiveAmount')).toBe('1007.42')
    expect(at('PrepaidAmount')).toBe('200.00')
    expect(at('PayableAmount')).toBe('807.42')
    expect(textAt(root, 'OrderReference/ID')).toBe('PO-77')
    expect(textAt(root, 'BuyerReference')).toBe('Tove Arlund')
    expect(textAt(root, 'AccountingCost')).toBe('KS-4')
    expect(textAt(root, 'PaymentMeans/PaymentMeansCode')).toBe('58')
    expect(textAt(root, 'PaymentMeans/PaymentID')).toBe('RF8820260042')
    expect(textAt(root, 'AccountingCustomerParty/Party/PartyLegalEntity/RegistrationName')).toBe(
      'Brackwell & Söhne <Ceramics>',
    )
  })

  it('is the same text from the same rows', () => {
    expect(ublText(published.A)).toBe(ublText(structuredClone(published.A)))
  })

  it('of a credit note and of a deposit breaks no rule', () => {
    const preceding = [{ number: 'I-2026-0041', issueDay: '2026-02-02' }]
    const credit = ublText({
      ...published.A,
      kind: 'credit note',
      number: 'C-2026-0001',
      preceding,
      note: 'Too many',
    })
    expect(rulesOf(credit)).toEqual([])
    expect(textAt(readUbl(credit), 'BillingReference/InvoiceDocumentReference/ID')).toBe('I-2026-0041')
    expect(textAt(readUbl(credit), 'CreditNoteTypeCode')).toBe('381')
    expect(rulesOf(ublText({ ...published.B, kind: 'deposit' }))).toEqual([])
    expect(rulesOf(ublText({ ...published.A, preceding }))).toEqual([])
  })
})

/** The text without every element of a name. */
function without(xml: string, name: string): string {
  const fewer = xml.replaceAll(new RegExp(`\\s*<${name}>.*?</${name}>`, 'gsu'), '')
  expect(fewer, `there is no ${name} to take away`).not.toBe(xml)
  return fewer
}

/** Mutants of example A and what fires: measured with the official Schematron v1.3.16 (outside checks, section 8). */
describe('the rules', () => {
  const a = ublText(published.A)
  const swap = (...pairs: readonly (readonly [string, string])[]) =>
    pairs.reduce((xml, [from, to]) => {
      expect(xml, `the mutant needs ${from}`).toContain(from)
      return xml.replaceAll(from, to)
    }, a)
  const amount = (name: string, from: string, to: string) =>
    [`<cbc:${name} currencyID="EUR">${from}<`, `<cbc:${name} currencyID="EUR">${to}<`] as const

  const mutants: readonly (readonly [what: string, xml: () => string, fires: readonly string[]])[] = [
    ['line total', () => swap(amount('LineExtensionAmount', '843.68', '843.69')), ['BR-CO-10', 'BR-CO-13']],
    ['allowances', () => swap(amount('AllowanceTotalAmount', '35.19', '35.20')), ['BR-CO-11', 'BR-CO-13']],
    ['charges', () => swap(amount('ChargeTotalAmount', '12.00', '12.01')), ['BR-CO-12', 'BR-CO-13']],
    ['without tax', () => swap(amount('TaxExclusiveAmount', '820.49', '820.50')), ['BR-CO-13', 'BR-CO-15']],
    ['tax', () => swap(amount('TaxAmount', '186.93', '186.94')), ['BR-CO-14', 'BR-CO-15']],
    ['with tax', () => swap(amount('TaxInclusiveAmount', '1007.42', '1007.43')), ['BR-CO-15', 'BR-CO-16']],
    ['payable', () => swap(amount('PayableAmount', '807.42', '807.43')), ['BR-CO-16']],
    [
      'a tax 0.50 too high, the totals with it',
      () =>
        swap(
          amount('TaxAmount', '170.14', '170.64'),
          amount('TaxAmount', '186.93', '187.43'),
          amount('TaxInclusiveAmount', '1007.42', '1007.92'),
          amount('PayableAmount', '807.42', '807.92'),
        ),
      [],
    ],
    [
      'a tax 1.00 too high, the totals with it',
      () =>
        swap(
          amount('TaxAmount', '170.14', '171.14'),
          amount('TaxAmount', '186.93', '187.93'),
          amount('TaxInclusiveAmount', '1007.42', '1008.42'),
          amount('PayableAmount', '807.42', '808.42'),
        ),
      ['BR-CO-17', 'BR-S-09'],
    ],
    ['a base 0.99 too high', () => swap(amount('TaxableAmount', '680.56', '681.55')), []],
    ['a base 1.00 too high', () => swap(amount('TaxableAmount', '680.56', '681.56')), ['BR-S-08']],
    [
      'a third digit',
      () => swap(amount('LineExtensionAmount', '540.00', '540.001')),
      ['BR-DEC-23', 'UBL-DT-01'],
    ],
    ['no account', () => without(a, 'cac:PayeeFinancialAccount'), ['BR-61']],
    ['a unit in words', () => swap(['unitCode="HUR"', 'unitCode="HOURS"']), ['BR-CL-23']],
    [
      'a currency in words',
      () => swap(['currencyID="EUR"', 'currencyID="EURO"'], ['>EUR<', '>EURO<']),
      ['BR-CL-03', 'BR-CL-04'],
    ],
    ['a VAT number without its country', () => swap(['>IE0000000A<', '>0000000A<']), ['BR-CO-09']],
    [
      'the due day before the day of issue',
      () => {
        const [issue, due] = [
          '  <cbc:IssueDate>2026-03-02</cbc:IssueDate>\n',
          '  <cbc:DueDate>2026-03-16</cbc:DueDate>\n',
        ]
        return swap([issue + due, due + issue])
      },
      ['XSD'],
    ],
  ]

  it.each(mutants)('find %s', (_, xml, fires) => {
    expect(rulesOf(xml())).toEqual(fires)
  })

  it('of our own find what the published ones forgive', () => {
    const read = (...pairs: readonly (readonly [string, string])[]) => brokenExactly(readUbl(swap(...pairs)))
    expect(read(amount('TaxableAmount', '680.56', '680.57'))).toEqual(['base'])
    expect(read(amount('TaxAmount', '170.14', '170.15'))).toEqual(['tax'])
    expect(read(amount('LineExtensionAmount', '540.00', '540.01'))).toEqual(['base', 'line'])
  })
})

/** What each category demands, taken away: by the texts of EN 16931-1, from memory where not in the outside checks. */
describe('the families of rules', () => {
  const of = (category: TaxCategory) =>
    ublText(
      aSource({
        lines: [aLine({ priceMinor: 12_345, category, ratePpm: category === 'S' ? 200_000 : 0 })],
        adjustments: [anAdjustment({ amountMinor: 100, category, ratePpm: category === 'S' ? 200_000 : 0 })],
      }),
    )
  const buyers = (xml: string) =>
    xml.replace(/(<cac:AccountingCustomerParty>.*?)\s*<cac:PartyTaxScheme>.*?<\/cac:PartyTaxScheme>/su, '$1')
  const cases: readonly (readonly [what: string, xml: () => string, fires: readonly string[]])[] = [
    ['no number of the seller', () => without(of('S'), 'cac:PartyTaxScheme'), ['BR-S-02', 'BR-S-03']],
    [
      'no number of the seller, zero rate',
      () => without(of('Z'), 'cac:PartyTaxScheme'),
      ['BR-Z-02', 'BR-Z-03'],
    ],
    ['no number of the seller, exempt', () => without(of('E'), 'cac:PartyTaxScheme'), ['BR-E-02', 'BR-E-03']],
    ['no number of the seller, export', () => without(of('G'), 'cac:PartyTaxScheme'), ['BR-G-02', 'BR-G-03']],
    ['reverse charge to nobody', () => buyers(of('AE')), ['BR-AE-02', 'BR-AE-03']],
    ['a supply in the Union to nobody', () => buyers(of('K')), ['BR-IC-02', 'BR-IC-03']],
    [
      'a supply in the Union on no day',
      () => without(without(of('K'), 'cbc:ActualDeliveryDate'), 'cac:InvoicePeriod'),
      ['BR-IC-11'],
    ],
    ['a supply in the Union to nowhere', () => without(of('K'), 'cac:DeliveryLocation'), ['BR-IC-12']],
    ['an exemption without a reason', () => without(of('E'), 'cbc:TaxExemptionReason'), ['BR-E-10']],
    [
      'a reason beside a rate',
      () =>
        of('S').replace(
          /(<cac:TaxSubtotal>.*?<\/cbc:Percent>)/su,
          '$1<cbc:TaxExemptionReason>No</cbc:TaxExemptionReason>',
        ),
      ['BR-S-10'],
    ],
    [
      'a rate on what is exempt',
      () => of('E').replaceAll('>0</cbc:Percent>', '>5</cbc:Percent>'),
      ['BR-CO-17', 'BR-E-05', 'BR-E-06'],
    ],
    [
      'no rate on what bears it',
      () => of('S').replaceAll('>20</cbc:Percent>', '>0</cbc:Percent>'),
      ['BR-CO-17', 'BR-S-05', 'BR-S-06', 'BR-S-09'],
    ],
    ['no breakdown', () => without(of('S'), 'cac:TaxSubtotal'), ['BR-CO-14', 'BR-CO-18', 'BR-S-01']],
    ['an allowance without a reason', () => without(of('S'), 'cbc:AllowanceChargeReason'), ['BR-33']],
    ['no day to pay by', () => without(of('S'), 'cbc:DueDate'), ['BR-CO-25']],
    [
      'a seller nobody can tell apart',
      () => without(without(of('O'), 'cac:PartyLegalEntity'), 'cac:Contact'),
      ['BR-06', 'BR-07', 'BR-CO-26'],
    ],
    [
      'a VAT number outside the scope of tax',
      () =>
        of('O').replaceAll(
          '<cac:PartyLegalEntity>',
          '<cac:PartyTaxScheme><cbc:CompanyID>IE1</cbc:CompanyID><cac:TaxScheme><cbc:ID>VAT</cbc:ID></cac:TaxScheme></cac:PartyTaxScheme><cac:PartyLegalEntity>',
        ),
      ['BR-O-02', 'BR-O-03'],
    ],
    [
      'a unit, category and country of no list',
      () => of('S').replaceAll('>S<', '>X<').replaceAll('>IE<', '>QQ<'),
      ['BR-CL-14', 'BR-CL-17', 'BR-CL-18'],
    ],
  ]

  it.each(cases)('find %s', (_, xml, fires) => {
    expect(rulesOf(xml())).toEqual(fires)
  })
})

/** How a line may be taxed: each category without a rate, or the standard one at one of these. */
const taxed = fc.oneof(
  fc
    .constantFrom(5, 7, 7.7, 12, 19, 20, 21, 25)
    .map((rate) => ({ category: 'S' as TaxCategory, ratePpm: rate * 10_000 })),
  fc.constantFrom<TaxCategory>('Z', 'E', 'AE', 'G', 'K').map((category) => ({ category, ratePpm: 0 })),
)
const outside = fc.constant({ category: 'O' as TaxCategory, ratePpm: 0 })
const text = fc
  .string({ unit: 'grapheme', minLength: 1, maxLength: 40 })
  .filter((words) => words.trim() !== '' && !/[\p{Cc}\p{Cs}\uFFFE\uFFFF]/u.test(words))

function anySource(tax: typeof taxed | typeof outside): fc.Arbitrary<UblSource> {
  const favour = fc.oneof({ weight: 3, arbitrary: fc.constant(0) }, fc.nat(5000))
  const line = fc
    .record({
      text,
      tax,
      quantityMilli: fc.integer({ min: -50_000, max: 500_000 }),
      priceMinor: fc.nat(500_000),
      baseMilli: fc.constantFrom(1, 1000, 3000, 100_000),
      unit: fc.constantFrom('C62', 'HUR', 'DAY', 'LS'),
      allowanceMinor: favour,
      chargeMinor: favour,
    })
    .map(({ tax: how, ...of }) =>
      aLine({ ...of, ...how, allowanceReason: 'Favour', chargeReason: 'Extra wish' }),
    )
  const adjustment = fc
    .record({ tax, reason: text, amountMinor: fc.nat(50_000), kind: fc.constantFrom('allowance', 'charge') })
    .map(({ tax: how, ...of }) => anAdjustment({ ...of, ...how }))
  return fc
    .record({
      lines: fc.array(line, { minLength: 1, maxLength: 20 }),
      adjustments: fc.array(adjustment, { maxLength: 4 }),
      kind: fc.constantFrom('invoice', 'deposit', 'credit note'),
      currency: fc.constantFrom('EUR', 'USD', 'JPY', 'CHF', 'HUF'),
      note: fc.option(text),
      prepaid: fc.nat(100_000),
      rounding: fc.integer({ min: -50, max: 50 }),
    })
    .map((of) => aSource({ ...of, kind: of.kind as UblSource['kind'] }))
}

describe('any document', () => {
  it('breaks no rule, neither the published ones nor our own exact ones', () => {
    const seen = new Set<string>()
    fc.assert(
      fc.property(fc.oneof({ weight: 5, arbitrary: anySource(taxed) }, anySource(outside)), (source) => {
        const root = readUbl(ublText(source))
        for (const { category } of source.taxes) seen.add(category)
        expect(brokenRules(root)).toEqual([])
        expect(brokenExactly(root, minorDigits(source.currency))).toEqual([])
      }),
      { numRuns: 400 },
    )
    expect([...seen].sort()).toEqual(['AE', 'E', 'G', 'K', 'O', 'S', 'Z'])
  })

  it('reads back with every word as it was written', () => {
    fc.assert(
      fc.property(text, (words) => {
        const root = readUbl(ublText({ ...published.D, note: words }))
        expect(textAt(root, 'Note')).toBe(words.trim())
      }),
    )
  })
})

describe('what the standard cannot carry is refused in words', () => {
  const refusing = (source: Partial<UblSource>) => () => ublText({ ...published.B, ...source })

  it('a currency of three places', () => {
    expect(refusing({ currency: 'KWD' })).toThrow('KWD has 3. Send the PDF')
  })

  it('a sales tax of several names', () => {
    const named = [
      { name: 'State', ratePpm: 40_000 },
      { name: 'County', ratePpm: 25_000 },
    ]
    const lines = [aLine({ priceMinor: 100, ratePpm: 65_000, namedRates: named })]
    expect(() => ublText(aSource({ lines }))).toThrow('a sales tax of several names')
  })

  it('parties that are not known by the numbers it demands', () => {
    const { seller, buyer } = published.B
    expect(refusing({ seller: { ...seller, taxNumber: '12/345', companyNumber: null } })).toThrow(
      'number of the company',
    )
    expect(refusing({ seller: { ...seller, taxNumber: null } })).toThrow('without your tax number')
    const reverse = aSource({ lines: [aLine({ priceMinor: 100, category: 'AE', ratePpm: 0 })] })
    expect(() => ublText({ ...reverse, buyer: { ...buyer, taxNumber: '4711' } })).toThrow(
      'letters of a country',
    )
    const exported = aSource({ lines: [aLine({ priceMinor: 100, category: 'G', ratePpm: 0 })] })
    expect(() => ublText({ ...exported, seller: { ...seller, taxNumber: '12/345' } })).toThrow('is an export')
    const outsideTax = aSource({ lines: [aLine({ priceMinor: 100, category: 'O', ratePpm: 0 })] })
    expect(() => ublText({ ...outsideTax, seller: { ...seller, companyNumber: null } })).toThrow(
      'number of the company',
    )
  })

  it('characters that XML cannot hold', () => {
    // XML 1.0, production Char.
    for (const bad of ['\u0000', '\u0008', '\u001f', '\ud800', '\ufffe', '\uffff']) {
      expect(refusing({ note: `a${bad}b` })).toThrow('cannot carry')
    }
    expect(rulesOf(ublText({ ...published.B, note: 'tab\t, line\nfeed, \u{1F4F7}' }))).toEqual([])
  })
})
