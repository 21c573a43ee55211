import type { QuoteOfJob } from './quoteValue.ts'

/** What a quote's state is called on screen. */
export const stateWords: Readonly<Record<QuoteOfJob['quote']['state'], string>> = {
  draft: 'Draft',
  sent: 'Sent',
  accepted: 'Accepted',
  declined: 'Declined',
  lapsed: 'Lapsed',
  replaced: 'Replaced',
}
