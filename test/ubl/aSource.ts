import type { UblSource } from '../../main/papers/ubl/document.ts'
import { type BillDraft, billTotals } from '../../main/trade/bill.ts'

type Line = UblSource['lines'][number]
type Adjustment = UblSource['adjustments'][number]

export const aLine = (of: Partial<Line>): Line => ({
  text: 'Spins, medium',
  quantityMilli: 1000,
  unit: 'C62',
  priceMinor: 0,
  baseMilli: 1000,
  netMinor: 0,
  category: 'S',
  ratePpm: 200_000,
  namedRates: [],
  exemptionReason: null,
  allowanceMinor: 0,
  allowanceReason: null,
  chargeMinor: 0,
  chargeReason: null,
  jobId: null,
  jobCostId: null,
  ...of,
})

export const anAdjustment = (of: Partial<Adjustment>): Adjustment => ({
  kind: 'allowance',
  reason: 'Volume',
  amountMinor: 0,
  category: 'S',
  ratePpm: 200_000,
  namedRates: [],
  exemptionReason: null,
  ...of,
})

const address = { street: 'Kiln Row 12', postalCode: 'D02', city: 'Dublin', region: null }

/** A document with its sums worked out by main/trade/bill, as the store keeps it. Invented parties. */
export function aSource(
  of: Partial<UblSource> & {
    readonly lines: readonly Line[]
    readonly rounding?: number
    readonly prepaid?: number
  },
): UblSource {
  const { rounding = 0, prepaid = 0, adjustments = [], ...rest } = of
  const draft: BillDraft = {
    lines: of.lines,
    allowances: adjustments.filter(({ kind }) => kind === 'allowance'),
    charges: adjustments.filter(({ kind }) => kind === 'charge'),
    prepaidMinor: prepaid,
    roundingMinor: rounding,
  }
  const totals = billTotals(draft)
  const reasonOf = (category: string) =>
    category === 'S' || category === 'Z' ? null : `No tax is due: ${category}.`
  return {
    kind: 'invoice',
    number: 'I-2026-0042',
    issueDay: '2026-03-02',
    dueDay: '2026-03-16',
    currency: 'EUR',
    language: 'en',
    serviceFrom: '2026-02-16',
    serviceTo: '2026-02-27',
    orderNumber: 'PO-77',
    buyerReference: 'Tove Arlund',
    costCentre: 'KS-4',
    note: null,
    seller: {
      ...address,
      name: 'Lindenhof Spin Studio',
      country: 'IE',
      taxNumber: 'IE0000000A',
      companyNumber: '000000',
      email: 'desk@lindenhof.example',
      iban: 'IE29AIBK93115212345678',
      bic: 'AIBKIE2D',
    },
    buyer: {
      ...address,
      name: 'Brackwell & Söhne <Ceramics>',
      country: 'NL',
      taxNumber: 'NL000000000B00',
      companyNumber: null,
      email: null,
      iban: null,
      bic: null,
    },
    paymentReference: 'RF8820260042',
    preceding: [],
    ...rest,
    lines: of.lines.map((line, index) => ({ ...line, netMinor: totals.lineNets[index] ?? 0 })),
    adjustments,
    taxes: totals.taxes.map((tax) => ({ ...tax, exemptionReason: reasonOf(tax.category) })),
    linesMinor: totals.netMinor,
    allowanceMinor: totals.allowanceMinor,
    chargeMinor: totals.chargeMinor,
    netMinor: totals.taxExclusiveMinor,
    taxMinor: totals.taxTotalMinor,
    totalMinor: totals.taxInclusiveMinor,
    prepaidMinor: totals.prepaidMinor,
    roundingMinor: totals.roundingMinor,
    payableMinor: totals.payableMinor,
  }
}

const at = (percent: number) => ({ ratePpm: percent * 10_000 })

/** Four invoices worked by decimal arithmetic; written as UBL they passed the official validation, v1.3.16. */
export const published = {
  A: aSource({
    lines: [
      aLine({ quantityMilli: 3000, priceMinor: 18_000, ...at(25) }),
      aLine({ quantityMilli: 2500, priceMinor: 6550, unit: 'HUR', ...at(25) }),
      aLine({ quantityMilli: 7000, priceMinor: 1999, ...at(12) }),
    ],
    adjustments: [
      anAdjustment({ amountMinor: 3519, reason: 'Volume, 5 %', ...at(25) }),
      anAdjustment({ kind: 'charge', amountMinor: 1200, reason: 'Carrier', ...at(25) }),
    ],
    prepaid: 20_000,
  }),
  B: aSource({ lines: Array.from({ length: 7 }, () => aLine({ priceMinor: 999, ...at(21) })) }),
  C: aSource({
    lines: [
      aLine({ quantityMilli: 82_000, priceMinor: 3333, baseMilli: 100_000 }),
      aLine({ quantityMilli: 1250, priceMinor: 4790, unit: 'HUR' }),
      aLine({ quantityMilli: 244_000, priceMinor: 1250, baseMilli: 100_000 }),
    ],
    rounding: 2,
  }),
  D: aSource({
    lines: [
      aLine({ priceMinor: 1005, baseMilli: 10_000 }),
      aLine({ quantityMilli: 3000, priceMinor: 335, baseMilli: 10_000 }),
    ],
  }),
} as const
