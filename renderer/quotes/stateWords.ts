import type { QuoteOfJob, Way } from './quoteValue.ts'

/** What a quote's state is called on screen. */
export const stateWords: Readonly<Record<QuoteOfJob['quote']['state'], string>> = {
  draft: 'Draft',
  sent: 'Sent',
  accepted: 'Accepted',
  declined: 'Declined',
  lapsed: 'Lapsed',
  replaced: 'Replaced',
}

/** What a way of doing a job is called on screen. */
export const wayWords: Readonly<Record<Way, string>> = {
  coarser: 'Coarser',
  'as asked': 'As asked',
  smoother: 'Smoother',
}
