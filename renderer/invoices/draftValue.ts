import type { Asks } from '../../main/api/types.ts'
import { type BillTotals, billTotals, type NamedRate, type TaxCategory } from '../../main/trade/bill.ts'
import { cashRoundingMinor } from '../../main/trade/money.ts'
import { Refusal } from '../../main/trade/refusal.ts'
import type { InvoiceLine, InvoicePageData } from './invoiceWords.ts'
import type { TypedFigures } from './lineRow.tsx'

/** How a line is taxed, as one choice of a list. */
export interface Tax {
  readonly category: TaxCategory
  readonly ratePpm: number
  readonly namedRates: readonly NamedRate[]
  readonly exemptionReason: string | null
}

/** A line as typed. */
export interface TypedLine
  extends Pick<InvoiceLine, 'quoteLineId' | 'extraLineId' | 'jobCostId' | 'correctsLineId' | 'jobId'>,
    Tax,
    TypedFigures {
  /** Holds the line's place while others are taken away. */
  readonly key: number
  /** What is taken off and put on this line alone, with why. */
  readonly allowanceMinor: number | null
  readonly allowanceReason: string | null
  readonly chargeMinor: number | null
  readonly chargeReason: string | null
}

export interface TypedAdjustment extends Tax {
  readonly key: number
  readonly kind: 'allowance' | 'charge'
  readonly reason: string
  readonly amountMinor: number | null
}

export interface TypedDraft {
  readonly lines: readonly TypedLine[]
  readonly adjustments: readonly TypedAdjustment[]
  readonly note: string
  readonly orderNumber: string
  readonly buyerReference: string
  readonly costCentre: string
  readonly serviceFrom: string
  readonly serviceTo: string
}

let lastKey = 0

export function freshKey(): number {
  lastKey += 1
  return lastKey
}

export function typedDraft({ invoice, lines, adjustments }: InvoicePageData): TypedDraft {
  return {
    lines: lines.map(({ id: _, netMinor: __, ...line }) => ({ ...line, key: freshKey() })),
    adjustments: adjustments.map((one) => ({ ...one, key: freshKey() })),
    note: invoice.note ?? '',
    orderNumber: invoice.orderNumber ?? '',
    buyerReference: invoice.buyerReference ?? '',
    costCentre: invoice.costCentre ?? '',
    serviceFrom: invoice.serviceFrom ?? '',
    serviceTo: invoice.serviceTo ?? '',
  }
}

/** A figure left empty goes as null: the studio answers with the sentence for its field. */
export function sentDraft(invoiceId: number, draft: TypedDraft): Asks['invoices']['changeDraft'] {
  return {
    ...draft,
    invoiceId,
    lines: draft.lines.map(({ key: _, ...line }) => line),
    adjustments: draft.adjustments.map(({ key: _, ...one }) => one),
    serviceFrom: draft.serviceFrom || null,
    serviceTo: draft.serviceTo || null,
  } as Asks['invoices']['changeDraft']
}

/** The sums of what is typed so far, or the sentence that says why there are none. */
export function typedTotals(
  draft: TypedDraft,
  prepaidMinor: number,
  cashStepMinor: number | null,
): BillTotals | string {
  const isWhole =
    draft.lines.every(
      (line) =>
        line.quantityMilli !== null &&
        line.priceMinor !== null &&
        line.baseMilli !== null &&
        line.allowanceMinor !== null &&
        line.chargeMinor !== null,
    ) && draft.adjustments.every(({ amountMinor }) => amountMinor !== null)
  if (!isWhole) return 'The sums follow when every quantity, price and amount is filled in.'
  const adjustments = draft.adjustments.map((one) => ({ ...one, amountMinor: one.amountMinor ?? 0 }))
  try {
    const typed = {
      lines: draft.lines.map((line) => ({
        ...line,
        quantityMilli: line.quantityMilli ?? 0,
        priceMinor: line.priceMinor ?? 0,
        baseMilli: line.baseMilli ?? 0,
        allowanceMinor: line.allowanceMinor ?? 0,
        chargeMinor: line.chargeMinor ?? 0,
      })),
      allowances: adjustments.filter(({ kind }) => kind === 'allowance'),
      charges: adjustments.filter(({ kind }) => kind === 'charge'),
      prepaidMinor,
    }
    const due = billTotals(typed).payableMinor
    return billTotals({ ...typed, roundingMinor: cashRoundingMinor(due, cashStepMinor) })
  } catch (error) {
    if (error instanceof Refusal) return error.message
    throw error
  }
}
