import { addDays, dayOf, instantAt } from '../main/trade/calendar.ts'
import { Refusal } from '../main/trade/refusal.ts'
import { briefById } from './briefs.ts'
import { studioZone } from './calendar.ts'
import { type Writing, writeEvent } from './events.ts'
import type { Id } from './ids.ts'
import { loseJob } from './jobActs.ts'
import { rewriteJobBrief } from './jobBriefs.ts'
import { jobById } from './jobs.ts'
import { takeNumber } from './numbers.ts'
import type { Db } from './open.ts'
import {
  deleteDraft,
  findQuote,
  insertDraft,
  type Quote,
  type QuoteContent,
  type QuoteState,
  type QuoteWay,
  quoteName,
  quotesOfJob,
  rewriteDraft,
} from './quotes.ts'
import { agreeQuotedRights, keepQuoteRights } from './rightsOnPapers.ts'
import { refreshStanding } from './standing.ts'
import { inOneTransaction, prepared } from './statement.ts'
import { theStudio } from './studio.ts'

/** The quote, or a sentence where the studio has none of this id. */
export function theQuote(db: Db, quoteId: Id<'quote'>): Quote {
  const quote = findQuote(db, quoteId)
  if (!quote) throw new Refusal('no-quote', 'This quote is not in the studio.')
  return quote
}

/**
 * Keeps the draft of a job and way: writes over the one there is, or begins the next version under the number
 * the job's quotes already have. Refuses a closed job, and one whose quote was accepted: what changes then is
 * billed by a line of its own.
 */
export function keepDraft(
  writing: Writing,
  jobId: Id<'job'>,
  way: QuoteWay,
  content: QuoteContent,
): Id<'quote'> {
  const { db } = writing
  return inOneTransaction(db, () => {
    refuseUnquotable(db, jobId)
    const quotes = quotesOfJob(db, jobId)
    const draft = quotes.find((quote) => quote.state === 'draft' && quote.way === way)
    const quoteId = draft?.id ?? beginDraft(writing, jobId, way, content, quotes)
    if (draft) rewriteDraft(db, draft.id, content)
    tell(writing, theQuote(db, quoteId), draft ? 'quote changed' : 'quote begun')
    return quoteId
  })
}

function beginDraft(
  writing: Writing,
  jobId: Id<'job'>,
  way: QuoteWay,
  content: QuoteContent,
  quotes: readonly Quote[],
): Id<'quote'> {
  const { db, now } = writing
  const lastSent = Math.max(
    0,
    ...quotes.filter(({ state }) => state !== 'draft').map(({ version }) => version),
  )
  const year = Number(dayOf(now, studioZone(db)).slice(0, 4))
  const of = {
    jobId,
    way,
    number: quotes[0]?.number ?? takeNumber(writing, 'quote', year),
    version: lastSent + 1,
    currency: jobById(db, jobId).currency,
  }
  return insertDraft(db, of, content, now)
}

/** Throws a draft away; a quote that was sent stays. */
export function discardDraft(writing: Writing, quoteId: Id<'quote'>): void {
  inOneTransaction(writing.db, () => {
    const quote = theQuote(writing.db, quoteId)
    refuseUnless(quote, ['draft'], 'thrown away')
    deleteDraft(writing.db, quoteId)
    tell(writing, quote, 'quote draft thrown away')
  })
}

/**
 * Freezes a draft and the drafts of its other ways together, and writes them down as sent: from here on nothing
 * of them changes. Earlier versions that wait for an answer are replaced. Keep their paper in the same transaction.
 * @param validUntil  the last day on which it can be accepted; null for the studio's usual validity
 * @returns           every way that was sent, the one asked for first
 */
export function freezeQuote(
  writing: Writing,
  quoteId: Id<'quote'>,
  validUntil: string | null,
): readonly Quote[] {
  const { db, now } = writing
  return inOneTransaction(db, () => {
    const quote = theQuote(db, quoteId)
    refuseUnless(quote, ['draft'], 'sent')
    refuseUnquotable(db, quote.jobId)
    const today = dayOf(now, studioZone(db))
    const until = validUntil ?? addDays(today, theStudio(db).quoteValidDays)
    const ways = waysOf(db, quote).filter(({ state }) => state === 'draft')
    for (const way of ways) refuseUnsendable(db, way, until, today)
    for (const earlier of quotesOfJob(db, quote.jobId)) {
      if (earlier.state === 'sent' && earlier.version < quote.version) {
        decide(writing, earlier, 'replaced', `version ${quote.version} was sent`, now)
      }
    }
    for (const way of ways) {
      keepQuoteRights(db, way.jobId, way.id)
      prepared<unknown[]>(
        db,
        `UPDATE quote SET state = 'sent', sent_at = ?, valid_until = ? WHERE id = ?`,
      ).run(now, until, way.id)
    }
    tell(writing, quote, 'quote sent', { until, ...(ways.length > 1 ? { ways: ways.length } : {}) })
    return ways.map(({ id }) => theQuote(db, id))
  })
}

/** The ways of the same version, which the client chooses between: as asked first, then coarser and smoother. */
export function waysOf(db: Db, quote: Pick<Quote, 'jobId' | 'version'>): readonly Quote[] {
  return quotesOfJob(db, quote.jobId).filter(({ version }) => version === quote.version)
}

function refuseUnsendable(db: Db, quote: Quote, until: string, today: string): void {
  const count = prepared<[number], { n: number }>(
    db,
    'SELECT count(*) AS n FROM quote_line WHERE quote_id = ?',
  ).get(quote.id)
  // Said of a way only where there are several, or the person would look for something that is not there.
  const what = waysOf(db, quote).length > 1 ? `the way “${quote.way}” of this quote` : 'this quote'
  if (!count?.n) {
    throw new Refusal(
      'empty-quote',
      `There are no lines in ${what}. Add the job’s products under Spins, or a line by hand.`,
    )
  }
  if (until < today) {
    throw new Refusal('valid-in-the-past', `${until} is past. Choose today or a later day.`, {
      field: 'validUntil',
    })
  }
  refuseUnpriced(quote, what)
  if (quote.netMinor < 0) {
    throw new Refusal(
      'below-zero',
      `The lines of ${what} add up to less than 0. Correct a discount or a quantity.`,
    )
  }
}

/** Work for nothing is a decision: lines that were worked out and come to nothing are a price list with a gap. */
function refuseUnpriced(quote: Quote, what: string): void {
  if (quote.netMinor === 0 && !quote.linesByHand) {
    throw new Refusal(
      'no-price',
      `The lines of ${what} come to nothing, since no price and no hourly rate is set. Set them under Studio, or type the lines by hand if it is meant to be free.`,
    )
  }
}

export interface Acceptance {
  /** The client's order number, where it came with the yes. */
  readonly orderNumber: string | null
  readonly day: string
  /** Who said yes, in words. */
  readonly by: string
  /** Goes on although the quote was no longer valid on that day. */
  readonly afterValidity: boolean
}

/**
 * Writes down that the client accepted. The job's spins get the rows and the bench time that were quoted (those
 * already turned keep theirs); other versions and ways that waited are replaced.
 */
export function acceptQuote(writing: Writing, quoteId: Id<'quote'>, acceptance: Acceptance): void {
  const { db } = writing
  inOneTransaction(db, () => {
    const quote = theQuote(db, quoteId)
    refuseUnless(quote, ['sent', 'lapsed', 'declined'], 'accepted')
    refuseUnquotable(db, quote.jobId)
    const decidedAt = instantOf(writing, quote, acceptance.day)
    if (!acceptance.afterValidity && quote.validUntil !== null && acceptance.day > quote.validUntil) {
      throw new Refusal(
        'no-longer-valid',
        `This quote was valid until ${quote.validUntil}. Send a new version, or accept it all the same.`,
        { field: 'day', canOverrule: true },
      )
    }
    for (const other of quotesOfJob(db, quote.jobId)) {
      if (other.id !== quote.id && other.state === 'sent') {
        decide(writing, other, 'replaced', `${quoteName(quote)} (${quote.way}) was accepted`, writing.now)
      }
      if (other.state === 'draft') deleteDraft(db, other.id)
    }
    if (acceptance.orderNumber !== null) {
      prepared<[string, number]>(db, 'UPDATE job SET order_number = ? WHERE id = ?').run(
        acceptance.orderNumber,
        quote.jobId,
      )
    }
    decide(writing, quote, 'accepted', acceptance.by, decidedAt)
    agreeQuotedRights(writing, quote)
    giveQuotedRows(writing, quote)
    tell(writing, quote, 'quote accepted', { by: acceptance.by, orderNumber: acceptance.orderNumber })
  })
}

/** The rows that were sold become the rows of the brief. */
function giveQuotedRows(writing: Writing, quote: Quote): void {
  const { briefId } = jobById(writing.db, quote.jobId)
  rewriteJobBrief(writing, quote.jobId, { ...briefById(writing.db, briefId), rows: quote.rows })
}

export interface Declining {
  readonly reason: string
  /** The price of the whole job that the client went with elsewhere or would have paid, in minor units, where it is known. */
  readonly priceMinor: number | null
  /** The job is lost with it; otherwise another version can follow. */
  readonly isLost: boolean
}

/** Writes down the client's no, to all ways of the quote at once: a yes to one of them is `acceptQuote`. */
export function declineQuote(writing: Writing, quoteId: Id<'quote'>, declining: Declining): void {
  inOneTransaction(writing.db, () => {
    const quote = theQuote(writing.db, quoteId)
    refuseUnless(quote, ['sent'], 'declined')
    for (const way of waitingWays(writing.db, quote)) {
      decide(writing, way, 'declined', declining.reason, writing.now, declining.priceMinor)
    }
    tell(writing, quote, 'quote declined', {
      reason: declining.reason,
      priceMinor: declining.priceMinor,
    })
    if (declining.isLost) loseJob(writing, quote.jobId, declining.reason, declining.priceMinor)
  })
}

function waitingWays(db: Db, quote: Quote): readonly Quote[] {
  return waysOf(db, quote).filter(({ state }) => state === 'sent')
}

/** Lets a quote lapse with all its ways, once its last day is over. */
export function lapseQuote(writing: Writing, quoteId: Id<'quote'>): void {
  inOneTransaction(writing.db, () => {
    const quote = theQuote(writing.db, quoteId)
    refuseUnless(quote, ['sent'], 'let lapse')
    const today = dayOf(writing.now, studioZone(writing.db))
    if (quote.validUntil !== null && quote.validUntil >= today) {
      throw new Refusal(
        'still-valid',
        `This quote is valid until ${quote.validUntil}. Let it lapse after that day, or write down that it was declined.`,
      )
    }
    for (const way of waitingWays(writing.db, quote)) decide(writing, way, 'lapsed', null, writing.now)
    tell(writing, quote, 'quote lapsed')
  })
}

function decide(
  { db }: Writing,
  quote: Quote,
  state: Exclude<QuoteState, 'draft' | 'sent'>,
  reason: string | null,
  decidedAt: string,
  priceMinor: number | null = null,
): void {
  prepared<unknown[]>(
    db,
    'UPDATE quote SET state = ?, decided_reason = ?, decided_price_minor = ?, decided_at = ? WHERE id = ?',
  ).run(state, reason, priceMinor, decidedAt, quote.id)
}

/** The instant of a day in the past at noon, so that it is that day in the studio's zone; now for today. */
function instantOf({ db, now }: Writing, quote: Quote, day: string): string {
  const zone = studioZone(db)
  const today = dayOf(now, zone)
  if (day > today) {
    throw new Refusal('day-to-come', `${day} is still to come. Enter the day on which the client said yes.`, {
      field: 'day',
    })
  }
  if (quote.sentAt !== null && day < dayOf(quote.sentAt, zone)) {
    throw new Refusal(
      'before-sent',
      `This quote was sent on ${dayOf(quote.sentAt, zone)}. Enter that day or a later one.`,
      { field: 'day' },
    )
  }
  return day === today ? now : instantAt(day, 12 * 60, zone).toISOString()
}

function refuseUnless(quote: Quote, states: readonly QuoteState[], act: string): void {
  if (states.includes(quote.state)) return
  const instead = quote.state === 'draft' ? 'Send it first.' : 'Begin a new version instead.'
  const is = quote.state === 'draft' ? 'not sent yet' : quote.state
  throw new Refusal('quote-state', `Quote ${quoteName(quote)} is ${is}, so it cannot be ${act}. ${instead}`)
}

function refuseUnquotable(db: Db, jobId: Id<'job'>): void {
  const job = jobById(db, jobId)
  if (job.lostAt !== null || job.cancelledAt !== null) {
    throw new Refusal('job-closed', `Job ${job.number} is closed. Take it up again first.`)
  }
  const accepted = quotesOfJob(db, jobId).find(({ state }) => state === 'accepted')
  if (accepted) {
    throw new Refusal(
      'quote-accepted',
      `Quote ${quoteName(accepted)} was accepted and stays as it is. Write what changed since down as a line of the invoice’s draft.`,
    )
  }
}

function tell(
  writing: Writing,
  quote: Quote,
  what: string,
  detail: Readonly<Record<string, unknown>> = {},
): void {
  writeEvent(writing, {
    subject: 'quote',
    subjectId: quote.id,
    jobId: quote.jobId,
    what,
    detail: { number: quoteName(quote), ...detail },
  })
  refreshStanding(writing, quote.jobId)
}
