import type { Adjustment, Invoice, InvoiceLine, InvoiceTax, Party } from '../../../db/invoices.ts'

/** A document that was issued, as its frozen rows tell it: everything the electronic invoice is made of. */
export interface UblSource
  extends Pick<
    Invoice,
    | 'kind'
    | 'currency'
    | 'language'
    | 'serviceFrom'
    | 'serviceTo'
    | 'orderNumber'
    | 'buyerReference'
    | 'costCentre'
    | 'note'
    | 'linesMinor'
    | 'allowanceMinor'
    | 'chargeMinor'
    | 'netMinor'
    | 'taxMinor'
    | 'totalMinor'
    | 'prepaidMinor'
    | 'roundingMinor'
    | 'payableMinor'
    | 'paymentReference'
  > {
  readonly number: string
  readonly issueDay: string
  readonly dueDay: string
  readonly seller: Party
  readonly buyer: Party
  readonly lines: readonly Omit<InvoiceLine, 'id' | 'quoteLineId' | 'extraLineId' | 'correctsLineId'>[]
  readonly adjustments: readonly Adjustment[]
  readonly taxes: readonly InvoiceTax[]
  /** Deposits that are deducted, or the invoice that is corrected (BG-3). */
  readonly preceding: readonly { readonly number: string; readonly issueDay: string }[]
}
