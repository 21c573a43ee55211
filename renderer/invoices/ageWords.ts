import type { Age } from '../../main/trade/ageing.ts'

/** How long something has been due, as a person says it. */
export const ageWords: Readonly<Record<Age, string>> = {
  'not due': 'Not due yet',
  'to 30': 'Up to 30 days',
  '31 to 60': '31 to 60 days',
  '61 to 90': '61 to 90 days',
  'over 90': 'Over 90 days',
}
