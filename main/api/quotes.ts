import * as z from 'zod'
import { keepFile } from '../../db/attachments.ts'
import { studioZone } from '../../db/calendar.ts'
import { readerOf } from '../../db/clients.ts'
import type { Id } from '../../db/ids.ts'
import { jobById } from '../../db/jobs.ts'
import type { Db } from '../../db/open.ts'
import { deliveredPicture, quoteBasis, startingInput, usualRimUm10 } from '../../db/quoteBasis.ts'
import {
  acceptQuote,
  declineQuote,
  discardDraft,
  freezeQuote,
  keepDraft,
  lapseQuote,
  theQuote,
  waysOf,
} from '../../db/quoteDecisions.ts'
import { quoteOutcomes } from '../../db/quoteOutcomes.ts'
import {
  inputOf,
  keepQuotePaper,
  listQuotes,
  type QuoteContent,
  type QuoteWords,
  quoteLinesOf,
  quoteName,
  quotePaper,
  quotesOfJob,
} from '../../db/quotes.ts'
import { inOneTransaction } from '../../db/statement.ts'
import { theStudio } from '../../db/studio.ts'
import { listTaxRates } from '../../db/taxRates.ts'
import { listTerms } from '../../db/terms.ts'
import { printOnLetterhead } from '../papers/letterhead.ts'
import { quoteSheet } from '../papers/quote.ts'
import { unprintable } from '../papers/sheet.ts'
import { addDays, dayOf, instantAt } from '../trade/calendar.ts'
import { minorDigits } from '../trade/currency.ts'
import { mmFromUm10, um10FromMm } from '../trade/length.ts'
import { clientFigures } from '../trade/paperFigures.ts'
import { priceBands } from '../trade/priceBands.ts'
import { type QuoteInput, quoteLineKinds, quoteTotals, workOutQuote } from '../trade/quote.ts'
import { Refusal } from '../trade/refusal.ts'
import { termsText } from '../trade/terms.ts'
import { paperTexts } from '../trade/texts/paperTexts.ts'
import { RowsInput } from './briefs.ts'
import { call, day, type InStudio, idOf, maybeText, page, router, text } from './kit.ts'
import { benchPeople } from './pace.ts'
import { pricedLine } from './pricedLine.ts'

const ppm = (what: string) =>
  z
    .int(`${what} is missing. Enter a percentage.`)
    .min(0, `${what} cannot be below 0 %.`)
    .max(1_000_000, `${what} is at most 100 %.`)

const LineInput = z.object({
  kind: z.enum(quoteLineKinds),
  ...pricedLine,
  shootIds: z.array(idOf('shoot')).max(5000).default([]),
  why: maybeText(500),
})

const InputInput = z.object({
  rows: RowsInput,
  people: benchPeople.default(1),
  soldBy: z.enum(['list', 'days']).default('list'),
  halfDays: z
    .int('Days at the bench are whole or half ones.')
    .min(1, 'At least half a day is sold.')
    .max(1000, 'At most 500 days are sold in one quote.')
    .nullable()
    .default(null),
  discountPpm: ppm('The discount'),
  isRush: z.boolean(),
  depositPpm: ppm('The deposit'),
  taxRateId: idOf('tax_rate'),
  byHand: z.array(LineInput).max(1000).nullable(),
  fees: z.array(LineInput).max(100).default([]),
})

const WordsInput = z
  .object({
    rimMm: z
      .number('The rim is not a number. Enter it in mm, such as 1220.')
      .min(100, 'A rim is at least 100 mm. Measure it with its own tape.')
      .max(10_000, 'A rim is at most 10,000 mm. Measure it with its own tape.')
      .nullable(),
    stepMm: z
      .number('The step is not a number. Enter it in mm, such as 5.')
      .min(0.1, 'A step is at least 0.1 mm.')
      .max(1000, 'A step is at most 1,000 mm.')
      .nullable(),
    dueDay: day.nullable(),
    terms: maybeText(4000),
    assumptions: maybeText(4000),
  })
  .refine(({ rimMm, stepMm }) => rimMm === null || stepMm === null || 2 * stepMm <= rimMm, {
    message: 'The step is over half of the rim. Enter a shorter step, or measure the rim again.',
    path: ['stepMm'],
  })

const jobId = idOf('job')
const quoteId = idOf('quote')
const way = z.enum(['coarser', 'as asked', 'smoother']).default('as asked')
const DraftInput = z.object({ jobId, way, input: InputInput, words: WordsInput })

/** Quotes: worked out while one types, kept as drafts, sent and frozen, decided by the client. */
export const quoteCalls = router({
  /** All quotes of a job, the newest version first, each with its lines and tax. */
  ofJob: call.input(z.object({ jobId })).query(({ ctx, input }) => {
    const rates = listTaxRates(ctx.db)
    return quotesOfJob(ctx.db, input.jobId).map((quote) => {
      const lines = quoteLinesOf(ctx.db, quote.id)
      return {
        quote: inMm(quote),
        name: quoteName(quote),
        lines,
        taxes: quoteTotals(lines, rates).taxes,
        input: inputOf(quote, lines),
        paper: quotePaper(ctx.db, quote.id) ?? null,
      }
    })
  }),

  /** What a quote is worked out from, and where a first one starts: the page works the figures out as one types. */
  basis: call.input(z.object({ jobId })).query(({ ctx, input }) => {
    const studio = theStudio(ctx.db)
    return {
      basis: quoteBasis(ctx.db, input.jobId, today(ctx)),
      start: {
        input: startingInput(ctx.db, input.jobId),
        words: startingWords(ctx, quoteTerms(ctx.db, input.jobId, studio.terms)),
      },
      quoteValidDays: studio.quoteValidDays,
      picture: deliveredPicture(ctx.db, input.jobId),
    }
  }),

  /** The figures of a draft that is not kept yet; writes nothing. */
  preview: call.input(DraftInput.omit({ words: true })).query(({ ctx, input }) => {
    return workOutQuote(quoteBasis(ctx.db, input.jobId, today(ctx)), input.input)
  }),

  save: call.input(DraftInput).mutation(({ ctx, input }) => {
    const content = contentOf(ctx, input.jobId, input.input, keptWords(input.words))
    return { quoteId: keepDraft(ctx, input.jobId, input.way, content) }
  }),

  discard: call.input(z.object({ quoteId })).mutation(({ ctx, input }) => {
    discardDraft(ctx, input.quoteId)
  }),

  /** Letters of a draft's paper that its typeface lacks, to be said before it is sent. */
  lettersLacking: call.input(z.object({ quoteId })).query(({ ctx, input }) => {
    return unprintable(quoteSheet(ctx.db, waysOf(ctx.db, theQuote(ctx.db, input.quoteId)), ctx.now))
  }),

  /** Writes the paper of a draft as it would be sent, marked as a draft, to be looked at. */
  draftPaper: call.input(z.object({ quoteId })).mutation(({ ctx, input }) => draftPaper(ctx, input.quoteId)),

  /** Freezes the draft with its other ways and keeps their paper: all or nothing. */
  send: call
    .input(z.object({ quoteId, validUntil: day.nullable().default(null) }))
    .mutation(({ ctx, input }) =>
      inOneTransaction(ctx.db, () => sendQuote(ctx, input.quoteId, input.validUntil)),
    ),

  accept: call
    .input(
      z.object({
        quoteId,
        orderNumber: maybeText(100),
        day,
        by: text('Who said yes', 120),
        afterValidity: z.boolean().default(false),
      }),
    )
    .mutation(({ ctx, input: { quoteId, ...acceptance } }) => acceptQuote(ctx, quoteId, acceptance)),

  decline: call
    .input(
      z.object({
        quoteId,
        reason: text('The reason', 400),
        priceMinor: z.int().min(0, 'A price cannot be below 0.').nullable().default(null),
        isLost: z.boolean().default(false),
      }),
    )
    .mutation(({ ctx, input: { quoteId, ...declining } }) => declineQuote(ctx, quoteId, declining)),

  lapse: call.input(z.object({ quoteId })).mutation(({ ctx, input }) => lapseQuote(ctx, input.quoteId)),

  /** Begins the next version from a quote that was sent, all its ways, with today's figures and its own words. */
  revise: call.input(z.object({ quoteId })).mutation(({ ctx, input }) =>
    inOneTransaction(ctx.db, () => {
      const quote = theQuote(ctx.db, input.quoteId)
      if (quote.state === 'draft')
        throw new Refusal('quote-state', 'This quote is still a draft. Change it as it is.')
      const begun = waysOf(ctx.db, quote).map((each) => {
        const content = contentOf(ctx, each.jobId, inputOf(each, quoteLinesOf(ctx.db, each.id)), each)
        return { way: each.way, quoteId: keepDraft(ctx, each.jobId, each.way, content) }
      })
      return { quoteId: begun.find(({ way }) => way === quote.way)?.quoteId ?? quote.id }
    }),
  ),

  list: call
    .input(
      z.object({
        filter: z.enum(['open', 'drafts', 'lost', 'all']).default('open'),
        order: z.enum(['callBack', 'validUntil', 'newest', 'total']).default('callBack'),
        page,
      }),
    )
    .query(({ ctx, input }) => ({
      ...listQuotes(ctx.db, input.filter, input.order, input.page),
      today: today(ctx),
    })),

  /** How often a quote was taken, by its price a spin, over two years in the studio's currency. */
  outcomes: call.query(({ ctx }) => {
    const { currency } = theStudio(ctx.db)
    const sinceDay = addDays(today(ctx), -outcomeDays)
    const outcomes = quoteOutcomes(ctx.db, currency, sinceDay)
    return { currency, sinceDay, bands: priceBands(outcomes, 10 ** minorDigits(currency)) }
  }),
})

/** Prices that are older say little about what a client takes today. */
const outcomeDays = 730

function today(ctx: InStudio): string {
  return dayOf(ctx.now, studioZone(ctx.db))
}

function startingWords(ctx: InStudio, terms: string | null) {
  return inMm({ rimUm10: usualRimUm10(ctx.db), stepUm10: null, dueDay: null, terms, assumptions: null })
}

/** The studio's own terms, and what it charges for cancelling, moving late and an idle bench, in the client's language. */
function quoteTerms(db: Db, ofJob: Id<'job'>, terms: string | null): string | null {
  const reader = readerOf(db, jobById(db, ofJob).clientId)
  const charged = termsText(listTerms(db), paperTexts[reader.language].terms, clientFigures(reader).percent)
  return [terms, charged].filter(Boolean).join('\n') || null
}

/** Rim and step in mm, as the API speaks of lengths. */
function inMm<T extends Pick<QuoteWords, 'rimUm10' | 'stepUm10'>>({ rimUm10, stepUm10, ...rest }: T) {
  return {
    ...rest,
    rimMm: rimUm10 === null ? null : mmFromUm10(rimUm10),
    stepMm: stepUm10 === null ? null : mmFromUm10(stepUm10),
  }
}

function keptWords({ rimMm, stepMm, ...rest }: z.output<typeof WordsInput>): QuoteWords {
  return {
    ...rest,
    rimUm10: rimMm === null ? null : um10FromMm(rimMm, 'The rim'),
    stepUm10: stepMm === null ? null : um10FromMm(stepMm, 'The step'),
  }
}

function contentOf(ctx: InStudio, jobId: Id<'job'>, typed: QuoteInput, words: QuoteWords): QuoteContent {
  const basis = quoteBasis(ctx.db, jobId, today(ctx))
  const own = new Set(basis.spins.map(({ shootId }) => shootId))
  // A spin that was cancelled meanwhile, or is of another job, is not priced by a line of this one.
  const input = {
    ...typed,
    byHand:
      typed.byHand?.map((line) => ({ ...line, shootIds: line.shootIds.filter((id) => own.has(id)) })) ?? null,
  }
  return {
    input,
    words,
    figures: workOutQuote(basis, input),
    stepMs: basis.pace.stepMs,
    stepFromTakes: basis.paceFrom.takes,
  }
}

function sendQuote(ctx: InStudio, quoteId: Id<'quote'>, validUntil: string | null) {
  const ways = freezeQuote(ctx, quoteId, validUntil)
  const name = quoteName(theQuote(ctx.db, quoteId))
  const paper = printOnLetterhead(ctx, quoteSheet(ctx.db, ways, ctx.now))
  const attachmentId = keepFile(ctx, ctx.folder, paper, `${name}.pdf`, 'application/pdf')
  for (const way of ways) keepQuotePaper(ctx.db, way.id, attachmentId)
  return { name, paper: quotePaper(ctx.db, quoteId) }
}

/** A draft's paper is kept as a file alone, never as the paper of its quote; unchanged, it is the same file all day. */
function draftPaper(ctx: InStudio, quoteId: Id<'quote'>) {
  const quote = theQuote(ctx.db, quoteId)
  if (quote.state !== 'draft') {
    throw new Refusal('quote-state', 'This quote was sent. Open its paper instead of a draft of it.')
  }
  const noon = instantAt(today(ctx), 12 * 60, studioZone(ctx.db)).toISOString()
  const paper = printOnLetterhead(ctx, quoteSheet(ctx.db, waysOf(ctx.db, quote), noon))
  const name = `${quoteName(quote)} draft.pdf`
  return { paperId: keepFile(ctx, ctx.folder, paper, name, 'application/pdf') }
}
