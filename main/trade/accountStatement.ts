import type { Ageing } from './ageing.ts'

/** What moves a client's balance, as its statement of account lists it. */
export type AccountEntryKind =
  | 'invoice'
  | 'deposit'
  | 'credit note'
  | 'payment'
  | 'payment taken back'
  | 'paid back'
  | 'write-off'
  | 'write-off taken back'

/** One line of a statement of account. Money in minor units; more than 0 where the client owes more by it. */
export interface AccountEntry {
  readonly day: string
  readonly kind: AccountEntryKind
  /** The document it is about; null for a payment as a whole. */
  readonly invoiceId: number | null
  /** The document's number, or what the payment or write-off says of itself. */
  readonly text: string
  readonly dueDay: string | null
  readonly amountMinor: number
}

/** An entry with the balance after it. */
export interface StatementLine extends AccountEntry {
  readonly balanceMinor: number
}

/**
 * A client's statement of account in one currency over days that are both within. What is open, its ages and the
 * credit are those of the day it is drawn up.
 */
export interface StatementOfAccount {
  readonly clientId: number
  readonly currency: string
  readonly fromDay: string
  readonly toDay: string
  readonly openingMinor: number
  readonly lines: readonly StatementLine[]
  readonly closingMinor: number
  readonly drawnUpDay: string
  readonly openMinor: number
  readonly ageing: Ageing
  readonly creditMinor: number
}

/** Entries in order with the balance after each, from an opening balance. */
export function withBalances(
  openingMinor: number,
  entries: readonly AccountEntry[],
): readonly StatementLine[] {
  let balanceMinor = openingMinor
  return entries.map((entry) => {
    balanceMinor += entry.amountMinor
    return { ...entry, balanceMinor }
  })
}
