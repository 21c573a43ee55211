import { epcPayload, type TransferToPay } from '../trade/epcQr.ts'
import type { PaperFigures } from '../trade/paperFigures.ts'
import { formatIban } from '../trade/payment.ts'
import { type PaperLanguage, paperTexts } from '../trade/texts/paperTexts.ts'
import type { Payment } from './sheet.ts'

/** How to pay, in words and, for a transfer in euro, as the code that banking programs read. */
export function paymentBlock(
  pay: TransferToPay,
  text: string,
  language: PaperLanguage,
  { money }: PaperFigures,
): Payment {
  const words = paperTexts[language].payment
  const rows: readonly (readonly [string, string | null])[] = [
    [words.payee, pay.iban === null ? null : pay.name],
    [words.iban, pay.iban === null ? null : formatIban(pay.iban)],
    [words.bic, pay.iban === null ? null : pay.bic],
    [words.amount, money(pay.amountMinor, pay.currency)],
    [words.reference, pay.reference],
  ]
  const code = epcPayload(pay)
  return {
    kind: 'payment',
    text,
    rows: rows.flatMap(([label, value]) => (value === null ? [] : [{ label, value }])),
    code,
    codeText: code === null ? null : words.code,
  }
}
