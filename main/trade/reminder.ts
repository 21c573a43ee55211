import { addDays } from './calendar.ts'

/** When a reminder of a level may go out, and what it proposes besides. */
export interface ReminderLevel {
  readonly level: number
  readonly daysAfterDue: number
  /** Days that must have gone by since the reminder before. */
  readonly daysBetween: number
  readonly withInterest: boolean
  readonly withLumpSum: boolean
}

/**
 * The level at which an open invoice could be reminded of today: the one after the last that was sent, once its days
 * after the due day and since the reminder before have gone by. Undefined where it is too early or no level is left.
 */
export function levelToday(
  invoice: { readonly dueDay: string; readonly lastLevel: number; readonly lastDay: string | null },
  levels: readonly ReminderLevel[],
  today: string,
): ReminderLevel | undefined {
  const next = levels.find(({ level }) => level > invoice.lastLevel)
  if (!next || addDays(invoice.dueDay, next.daysAfterDue) > today) return undefined
  if (invoice.lastDay !== null && addDays(invoice.lastDay, next.daysBetween) > today) return undefined
  return next
}

/** One open invoice on a reminder. Money in minor units. */
export interface RemindedInvoice {
  readonly invoiceId: number
  readonly number: string
  readonly issueDay: string
  readonly dueDay: string
  readonly paymentReference: string | null
  readonly level: number
  readonly openMinor: number
  readonly interestMinor: number
}

/** Everything that stands on a reminder, for its paper. The tone follows the highest level among its invoices. */
export interface ReminderContent {
  readonly clientId: number
  readonly currency: string
  readonly day: string
  readonly level: number
  readonly invoices: readonly RemindedInvoice[]
  readonly openMinor: number
  readonly interestMinor: number
  readonly lumpSumMinor: number
  /** Open amounts, interest and lump sum together. */
  readonly totalMinor: number
}
