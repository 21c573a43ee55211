/** One movement on the studio's account, as a bank statement tells it. */
export interface Movement {
  /** The studio's account: its IBAN, or what the person calls it. */
  readonly account: string
  /** The bank's own reference of the movement, the same whenever it is told again; null where the file has none. */
  readonly bankReference: string | null
  readonly day: string
  /** In minor units; more than 0 where money came in. */
  readonly amountMinor: number
  readonly currency: string
  /** True where the bank undoes an earlier movement: a transfer that came back. */
  readonly isReversal: boolean
  readonly payer: string | null
  readonly payerIban: string | null
  /** A structured reference that the payer gave, such as an ISO 11649 one. */
  readonly reference: string | null
  readonly text: string
}

/** What a file held: its movements, and what of it could not be read, with why. */
export interface ReadStatement {
  readonly format: 'csv' | 'camt.053'
  readonly movements: readonly Movement[]
  readonly unread: readonly { readonly line: number; readonly reason: string }[]
  /** Movements that the bank has announced and not booked yet; they are left out. */
  readonly pending: number
}

export const mostMovements = 20_000

/**
 * What tells each movement from every other, so that a statement taken in again adds nothing: the account with the
 * bank's reference, or with everything the line says and, among equal lines, how many came before it in the file. Two
 * equal lines of a day are two movements; statements hold whole days, so their count is the same in every file.
 */
export function identitiesOf(movements: readonly Movement[]): readonly string[] {
  const seen = new Map<string, number>()
  return movements.map((movement) => {
    const { account, bankReference, day, amountMinor, currency, payer, payerIban, reference, text } = movement
    const told =
      bankReference === null
        ? ['line', day, amountMinor, currency, payer, payerIban, reference, text]
        : ['reference', bankReference, amountMinor, currency]
    const identity = JSON.stringify([account, ...told])
    const before = seen.get(identity) ?? 0
    seen.set(identity, before + 1)
    return before === 0 ? identity : `${identity} ${before}`
  })
}
