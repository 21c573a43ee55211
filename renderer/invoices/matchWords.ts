import type { Answers } from '../../main/api/types.ts'
import { moneyText } from '../parts/format.ts'

export type BankLine = Answers['bank']['lines']['lines'][number]
export type Match = BankLine['matches'][number]

const reasonWords: Readonly<Record<Match['why'], string>> = {
  reference: 'its payment reference',
  number: 'the invoice number in its text',
  'amount and payer': 'the payer and the amount',
  'all open of payer': 'the payer, and the sum of all that is open',
  'amount alone': 'the amount alone: no other open invoice has it',
  payer: 'the payer',
}

/** What a match would do, in a sentence: which invoices, what is left, what is missing. */
export function matchText(match: Match, currency: string): string {
  const { shares, restMinor, missingMinor, mayBeFee, clientName } = match
  const numbers = shares.map(({ number }) => number).join(', ')
  const rest = restMinor > 0 ? `, ${moneyText(restMinor, currency)} left over` : ''
  const missing = missingMinor > 0 ? `, ${moneyText(missingMinor, currency)} stays open` : ''
  const fee = mayBeFee ? ' (perhaps a bank’s fee)' : ''
  return `${numbers === '' ? 'Credit' : numbers} of ${clientName}${rest}${missing}${fee}`
}

/** By what it was found. */
export function reasonText({ why }: Match): string {
  return `Found by ${reasonWords[why]}.`
}
