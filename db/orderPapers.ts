import type { QuotedLine } from '../main/trade/quote.ts'
import { Refusal } from '../main/trade/refusal.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { type Quote, quotesOfJob } from './quotes.ts'
import { prepared } from './statement.ts'

/** The quote that a job's order rests on. Refuses a job of which none is accepted. */
export function acceptedQuote(db: Db, jobId: Id<'job'>): Quote {
  const quote = quotesOfJob(db, jobId).find(({ state }) => state === 'accepted')
  if (!quote) {
    throw new Refusal(
      'no-order',
      'No quote of this job is accepted, so there is no order to confirm. Have the quote accepted first.',
    )
  }
  return quote
}

/** An extra that the client agreed to, with its lines. */
export interface AgreedExtra {
  readonly id: number
  readonly number: number
  readonly title: string
  readonly newDueDay: string | null
  readonly decidedDay: string
  readonly lines: readonly QuotedLine[]
}

/** The agreed extras of a job in their order. */
export function agreedExtras(db: Db, jobId: Id<'job'>): readonly AgreedExtra[] {
  const extras = prepared<[number], Omit<AgreedExtra, 'lines'>>(
    db,
    `SELECT id, number, title, new_due_day AS newDueDay, decided_day AS decidedDay FROM extra
     WHERE job_id = ? AND state = 'agreed' ORDER BY number`,
  ).all(jobId)
  return extras.map((extra) => ({ ...extra, lines: extraLines(db, extra.id) }))
}

function extraLines(db: Db, extraId: number): readonly QuotedLine[] {
  return prepared<[number], Omit<QuotedLine, 'kind' | 'shootIds' | 'why'>>(
    db,
    `SELECT text, quantity_milli AS quantityMilli, unit, price_minor AS priceMinor, base_milli AS baseMilli,
       tax_rate_id AS taxRateId, net_minor AS netMinor FROM extra_line WHERE extra_id = ? ORDER BY position`,
  )
    .all(extraId)
    .map((line) => ({ ...line, kind: 'fee', shootIds: [], why: null }))
}
