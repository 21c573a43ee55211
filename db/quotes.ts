import type { QuotedLine, QuoteFigures, QuoteInput, QuoteLineKind, QuoteUnit } from '../main/trade/quote.ts'
import type { TurnRow } from '../main/trade/turn/rows.ts'
import { grouped } from './grouped.ts'
import type { Id } from './ids.ts'
import type { Db } from './open.ts'
import { newId, prepared } from './statement.ts'

export type QuoteState = 'draft' | 'sent' | 'accepted' | 'declined' | 'lapsed' | 'replaced'
export type QuoteWay = 'coarser' | 'as asked' | 'smoother'

/** What a person says of a quote beside its figures. */
export interface QuoteWords {
  readonly rimUm10: number | null
  readonly stepUm10: number | null
  readonly dueDay: string | null
  readonly terms: string | null
  readonly assumptions: string | null
}

/** A quote as it is kept. Money in minor units of `currency`; cost is the studio's own and never on the paper. */
export interface Quote extends QuoteWords, Omit<QuoteInput, 'byHand' | 'fees'> {
  readonly id: Id<'quote'>
  readonly jobId: Id<'job'>
  readonly number: string
  readonly version: number
  readonly way: QuoteWay
  readonly state: QuoteState
  readonly currency: string
  readonly linesByHand: boolean
  readonly stepMs: number
  readonly stepFromTakes: number
  /** The time of people at the bench, at the median: more than the bench's own where two work. */
  readonly workMedianMs: number
  readonly benchMeanMs: number
  readonly benchMedianMs: number
  readonly benchP80Ms: number
  readonly deskMs: number
  readonly costMedianMinor: number
  readonly costP80Minor: number
  readonly netMinor: number
  readonly taxMinor: number
  readonly totalMinor: number
  readonly validUntil: string | null
  readonly sentAt: string | null
  readonly decidedAt: string | null
  readonly decidedReason: string | null
  /** The price that a client who said no went with or would have paid, where it is known. */
  readonly decidedPriceMinor: number | null
}

const quoteColumns = `q.id, q.job_id AS jobId, q.number, q.version, q.way, q.state, q.currency, q.rim_um10 AS rimUm10,
  q.step_um10 AS stepUm10,
  q.step_ms AS stepMs, q.step_from_takes AS stepFromTakes, q.people, q.sold_by AS soldBy, q.half_days AS halfDays, q.work_median_ms AS workMedianMs, q.bench_mean_ms AS benchMeanMs,
  q.bench_median_ms AS benchMedianMs, q.bench_p80_ms AS benchP80Ms, q.desk_ms AS deskMs,
  q.cost_median_minor AS costMedianMinor, q.cost_p80_minor AS costP80Minor, q.discount_ppm AS discountPpm,
  q.is_rush AS isRush, q.lines_by_hand AS linesByHand, q.deposit_ppm AS depositPpm, q.tax_rate_id AS taxRateId,
  q.net_minor AS netMinor, q.tax_minor AS taxMinor, q.total_minor AS totalMinor, q.due_day AS dueDay,
  q.valid_until AS validUntil, q.terms, q.assumptions, q.sent_at AS sentAt, q.decided_at AS decidedAt,
  q.decided_reason AS decidedReason, q.decided_price_minor AS decidedPriceMinor`

type QuoteRow = Omit<Quote, 'isRush' | 'linesByHand' | 'rows'> & { isRush: 0 | 1; linesByHand: 0 | 1 }

const toQuote = (row: QuoteRow, rows: readonly TurnRow[]): Quote => ({
  ...row,
  rows,
  isRush: row.isRush === 1,
  linesByHand: row.linesByHand === 1,
})

export function findQuote(db: Db, quoteId: Id<'quote'>): Quote | undefined {
  const row = prepared<[number], QuoteRow>(db, `SELECT ${quoteColumns} FROM quote q WHERE q.id = ?`).get(
    quoteId,
  )
  return row && toQuote(row, rowsOfQuotes(db, [quoteId]).get(quoteId) ?? [])
}

/** All quotes of a job, the newest version first. */
export function quotesOfJob(db: Db, jobId: Id<'job'>): readonly Quote[] {
  const quotes = prepared<[number], QuoteRow>(
    db,
    `SELECT ${quoteColumns} FROM quote q WHERE q.job_id = ? ORDER BY q.version DESC, q.way = 'as asked' DESC, q.way`,
  ).all(jobId)
  const rows = rowsOfQuotes(
    db,
    quotes.map(({ id }) => id),
  )
  return quotes.map((quote) => toQuote(quote, rows.get(quote.id) ?? []))
}

/** The rows of some quotes, each in their order. */
function rowsOfQuotes(
  db: Db,
  quoteIds: readonly Id<'quote'>[],
): ReadonlyMap<Id<'quote'>, readonly TurnRow[]> {
  const rows = prepared<[string], TurnRow & { quoteId: Id<'quote'> }>(
    db,
    `SELECT quote_id AS quoteId, view_angle_mdeg AS viewAngleMdeg, frames_per_turn AS framesPerTurn,
       overlap_frames AS overlapFrames
     FROM quote_row WHERE quote_id IN (SELECT value FROM json_each(?)) ORDER BY quote_id, row`,
  ).all(JSON.stringify(quoteIds))
  const byQuote = new Map<Id<'quote'>, TurnRow[]>()
  for (const { quoteId, ...row } of rows) {
    const before = byQuote.get(quoteId)
    if (before) before.push(row)
    else byQuote.set(quoteId, [row])
  }
  return byQuote
}

/** 'Q-2026-0001', and from the second version on 'Q-2026-0001 v2'. */
export function quoteName({ number, version }: Pick<Quote, 'number' | 'version'>): string {
  return version === 1 ? number : `${number} v${version}`
}

interface LineRow {
  readonly id: number
  readonly kind: QuoteLineKind
  readonly text: string
  readonly quantityMilli: number
  readonly unit: QuoteUnit
  readonly priceMinor: number
  readonly baseMilli: number
  readonly taxRateId: number
  readonly netMinor: number
  readonly why: string | null
}

/** The lines of a quote in their order, with the spins each one prices. */
export function quoteLinesOf(db: Db, quoteId: Id<'quote'>): readonly QuotedLine[] {
  const shoots = grouped(
    prepared<[number], { lineId: number; shootId: number }>(
      db,
      `SELECT x.quote_line_id AS lineId, x.shoot_id AS shootId FROM quote_line_shoot x
       JOIN quote_line l ON l.id = x.quote_line_id WHERE l.quote_id = ? ORDER BY x.quote_line_id, x.shoot_id`,
    ).all(quoteId),
    ({ lineId }) => lineId,
  )
  return prepared<[number], LineRow>(
    db,
    `SELECT id, kind, text, quantity_milli AS quantityMilli, unit, price_minor AS priceMinor, base_milli AS baseMilli,
       tax_rate_id AS taxRateId, net_minor AS netMinor, why FROM quote_line WHERE quote_id = ? ORDER BY position`,
  )
    .all(quoteId)
    .map(({ id, ...line }) => ({ ...line, shootIds: (shoots.get(id) ?? []).map(({ shootId }) => shootId) }))
}

/** What the person had set, read back so that figures can be worked out again. */
export function inputOf(quote: Quote, lines: readonly QuotedLine[]): QuoteInput {
  const plain = lines.map(({ netMinor: _, ...line }) => line)
  return {
    rows: quote.rows,
    people: quote.people,
    soldBy: quote.soldBy,
    halfDays: quote.halfDays,
    discountPpm: quote.discountPpm,
    isRush: quote.isRush,
    depositPpm: quote.depositPpm,
    taxRateId: quote.taxRateId,
    byHand: quote.linesByHand ? plain : null,
    fees: quote.linesByHand ? [] : plain.filter(({ kind }) => kind === 'fee' || kind === 'right'),
  }
}

/** What a draft is written from. */
export interface QuoteContent {
  readonly input: QuoteInput
  readonly words: QuoteWords
  readonly figures: QuoteFigures
  readonly stepMs: number
  readonly stepFromTakes: number
}

const contentColumns = `rim_um10, step_um10, step_ms, step_from_takes, people, sold_by, half_days, work_median_ms, bench_mean_ms,
  bench_median_ms, bench_p80_ms, desk_ms, cost_median_minor, cost_p80_minor, discount_ppm, is_rush, lines_by_hand,
  deposit_ppm, tax_rate_id, net_minor, tax_minor, total_minor, due_day, terms, assumptions`

function contentValues({ input, words, figures, stepMs, stepFromTakes }: QuoteContent): readonly unknown[] {
  return [
    words.rimUm10,
    words.stepUm10,
    stepMs,
    stepFromTakes,
    input.people,
    input.soldBy,
    input.halfDays,
    figures.work.medianMs,
    figures.bench.meanMs,
    figures.bench.medianMs,
    figures.bench.p80Ms,
    figures.desk.totalMs,
    figures.cost?.medianMinor ?? 0,
    figures.cost?.p80Minor ?? 0,
    input.discountPpm,
    input.isRush ? 1 : 0,
    input.byHand === null ? 0 : 1,
    input.depositPpm,
    input.taxRateId,
    figures.netMinor,
    figures.taxMinor,
    figures.totalMinor,
    words.dueDay,
    words.terms,
    words.assumptions,
  ]
}

/** Writes a new draft with its rows and lines. Call inside the caller's transaction. */
export function insertDraft(
  db: Db,
  of: Pick<Quote, 'jobId' | 'number' | 'version' | 'way' | 'currency'>,
  content: QuoteContent,
  now: string,
): Id<'quote'> {
  const values = contentValues(content)
  const quoteId = newId<Id<'quote'>>(
    prepared<unknown[]>(
      db,
      `INSERT INTO quote (job_id, number, version, way, currency, created_at, ${contentColumns})
       VALUES (?, ?, ?, ?, ?, ?, ${values.map(() => '?').join(', ')})`,
    ).run(of.jobId, of.number, of.version, of.way, of.currency, now, ...values),
  )
  insertRows(db, quoteId, content.input.rows)
  insertLines(db, quoteId, content.figures.lines)
  return quoteId
}

/** Rewrites a draft with its rows and lines. SQLite refuses it for a quote that was sent. */
export function rewriteDraft(db: Db, quoteId: Id<'quote'>, content: QuoteContent): void {
  prepared<[number]>(db, 'DELETE FROM quote_line WHERE quote_id = ?').run(quoteId)
  prepared<[number]>(db, 'DELETE FROM quote_row WHERE quote_id = ?').run(quoteId)
  const columns = contentColumns.split(',').map((column) => `${column.trim()} = ?`)
  prepared<unknown[]>(db, `UPDATE quote SET ${columns.join(', ')} WHERE id = ?`).run(
    ...contentValues(content),
    quoteId,
  )
  insertRows(db, quoteId, content.input.rows)
  insertLines(db, quoteId, content.figures.lines)
}

function insertRows(db: Db, quoteId: Id<'quote'>, rows: readonly TurnRow[]): void {
  rows.forEach(({ viewAngleMdeg, framesPerTurn, overlapFrames }, index) => {
    prepared<unknown[]>(db, 'INSERT INTO quote_row VALUES (?, ?, ?, ?, ?)').run(
      quoteId,
      index + 1,
      viewAngleMdeg,
      framesPerTurn,
      overlapFrames,
    )
  })
}

function insertLines(db: Db, quoteId: Id<'quote'>, lines: readonly QuotedLine[]): void {
  lines.forEach((line, index) => {
    const lineId = newId(
      prepared<unknown[]>(
        db,
        `INSERT INTO quote_line (quote_id, position, text, quantity_milli, unit, price_minor, base_milli, net_minor,
           tax_rate_id, kind, spins, why) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
      ).run(
        quoteId,
        index + 1,
        line.text,
        line.quantityMilli,
        line.unit,
        line.priceMinor,
        line.baseMilli,
        line.netMinor,
        line.taxRateId,
        line.kind,
        line.shootIds.length,
        line.why,
      ),
    )
    for (const shootId of new Set(line.shootIds)) {
      prepared<[number, number]>(db, 'INSERT INTO quote_line_shoot VALUES (?, ?)').run(lineId, shootId)
    }
  })
}

export function deleteDraft(db: Db, quoteId: Id<'quote'>): void {
  prepared<[number]>(db, `DELETE FROM quote WHERE id = ? AND state = 'draft'`).run(quoteId)
}

/** The paper of a sent quote. */
export interface QuotePaper {
  readonly id: Id<'attachment'>
  readonly sha256: string
  readonly name: string
}

export function quotePaper(db: Db, quoteId: Id<'quote'>): QuotePaper | undefined {
  return prepared<[number], QuotePaper>(
    db,
    `SELECT a.id, a.sha256, a.name FROM quote_paper p JOIN attachment a ON a.id = p.attachment_id WHERE p.quote_id = ?`,
  ).get(quoteId)
}

export function keepQuotePaper(db: Db, quoteId: Id<'quote'>, attachmentId: Id<'attachment'>): void {
  prepared<[number, number]>(db, 'INSERT INTO quote_paper VALUES (?, ?)').run(quoteId, attachmentId)
}

/** A line of the list of quotes that wait for somebody. */
export interface QuoteListLine {
  readonly id: Id<'quote'>
  readonly jobId: Id<'job'>
  readonly jobNumber: string
  readonly jobTitle: string
  readonly client: string
  readonly number: string
  readonly version: number
  readonly way: QuoteWay
  readonly state: QuoteState
  readonly currency: string
  readonly netMinor: number
  readonly totalMinor: number
  readonly sentAt: string | null
  readonly validUntil: string | null
  readonly callBackDay: string | null
  /** Why the client said no or the job was lost, and the price that was wanted or that won, where it is known. */
  readonly lostReason: string | null
  readonly lostPriceMinor: number | null
}

/**
 * Which quotes: those that wait for a client's answer, those not sent yet, those that
 * were not taken, or all that ever were.
 */
export const quoteFilters = {
  open: `q.state = 'sent' AND job.lost_at IS NULL AND job.cancelled_at IS NULL`,
  drafts: `q.state = 'draft'`,
  lost: `(q.state IN ('declined', 'lapsed') OR (q.state = 'sent' AND job.lost_at IS NOT NULL))`,
  all: '1',
} as const
export type QuoteFilter = keyof typeof quoteFilters

/** Orders a list can be read in; a fixed text per name, so that no name from outside reaches the SQL. */
export const quoteOrders = {
  callBack: 'job.call_back_day IS NULL, job.call_back_day, q.valid_until, q.id',
  validUntil: 'q.valid_until IS NULL, q.valid_until, q.id',
  newest: 'q.id DESC',
  total: 'q.total_minor DESC, q.id',
} as const
export type QuoteOrder = keyof typeof quoteOrders

export function listQuotes(
  db: Db,
  filter: QuoteFilter,
  order: QuoteOrder,
  page: { readonly offset: number; readonly limit: number },
): { readonly lines: readonly QuoteListLine[]; readonly total: number } {
  const where = `WHERE ${quoteFilters[filter]}`
  const lines = prepared<[number, number], QuoteListLine>(
    db,
    `SELECT q.id, q.job_id AS jobId, job.number AS jobNumber, job.title AS jobTitle, client.name AS client, q.number,
       q.version, q.way, q.state, q.currency, q.net_minor AS netMinor, q.total_minor AS totalMinor, q.sent_at AS sentAt,
       q.valid_until AS validUntil, job.call_back_day AS callBackDay, ifnull(q.decided_reason, job.lost_reason) AS lostReason,
       ifnull(q.decided_price_minor, job.lost_price_minor) AS lostPriceMinor
     FROM quote q JOIN job ON job.id = q.job_id JOIN client ON client.id = job.client_id
     ${where} ORDER BY ${quoteOrders[order]} LIMIT ? OFFSET ?`,
  ).all(page.limit, page.offset)
  const total =
    prepared<[], { n: number }>(
      db,
      `SELECT count(*) AS n FROM quote q JOIN job ON job.id = q.job_id ${where}`,
    ).get()?.n ?? 0
  return { lines, total }
}
