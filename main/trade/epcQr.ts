import { plainMoney } from './money.ts'
import { isSepaIban } from './payment.ts'

/** Who is paid and how much, as a bank's program is to fill in a transfer. */
export interface TransferToPay {
  readonly name: string
  readonly iban: string | null
  readonly bic: string | null
  readonly currency: string
  /** In minor units. */
  readonly amountMinor: number
  /** A creditor reference (ISO 11649). */
  readonly reference: string | null
}

/** The largest amount of a SEPA credit transfer, 999,999,999.99 euro. */
const mostMinor = 99_999_999_999
/** What the name's field holds, in characters. */
const nameLength = 70
/** What the code may hold in all, in octets. */
const mostOctets = 331

/**
 * The text of the QR code by which a SEPA credit transfer is started (European Payments Council, EPC069-12 version
 * 002, UTF-8, elements ended by line feeds; from memory): at error correction level M it fits version 13. Null where
 * there can be none: another currency, no account in the single euro payments area, nothing to pay or too much.
 */
export function epcPayload(pay: TransferToPay): string | null {
  const { iban, amountMinor } = pay
  if (pay.currency !== 'EUR' || iban === null || !isSepaIban(iban)) return null
  if (amountMinor <= 0 || amountMinor > mostMinor) return null
  const letters = Array.from(pay.name.replaceAll(/\s+/gu, ' ').trim()).slice(0, nameLength)
  let payload = payloadOf(pay, iban, letters)
  while (new TextEncoder().encode(payload).length > mostOctets) {
    letters.pop()
    payload = payloadOf(pay, iban, letters)
  }
  return payload
}

function payloadOf(pay: TransferToPay, iban: string, letters: readonly string[]): string {
  const amount = `EUR${plainMoney(pay.amountMinor, 'EUR')}`
  const bic = pay.bic ?? ''
  return ['BCD', '002', '1', 'SCT', bic, letters.join(''), iban, amount, '', pay.reference ?? '']
    .join('\n')
    .trimEnd()
}
