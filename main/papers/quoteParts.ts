import { briefById } from '../../db/briefs.ts'
import type { Id } from '../../db/ids.ts'
import type { Job } from '../../db/jobs.ts'
import type { Db } from '../../db/open.ts'
import { type Quote, quoteLinesOf, quoteName } from '../../db/quotes.ts'
import { prepared } from '../../db/statement.ts'
import type { Studio } from '../../db/studio.ts'
import { listTaxRates } from '../../db/taxRates.ts'
import { shareMinor } from '../trade/money.ts'
import type { PaperFigures } from '../trade/paperFigures.ts'
import { type QuotedLine, type QuoteFigures, type QuoteTax, quoteTotals } from '../trade/quote.ts'
import type { QuoteTexts, RightTexts } from '../trade/texts/shape.ts'
import { framesText } from '../trade/turn/rows.ts'
import { type RightOfUse, rightLines } from '../trade/usageRights.ts'
import { areFramesAlike, looksText, plays, rowsSentence, secondsText, turnsText } from './quoteRows.ts'
import type { Block, Glance, Signature, Table, Totals } from './sheet.ts'

/** How a quote's paper is written: in the client's language, and figures as its locale writes them. */
export interface QuoteWriter extends Omit<PaperFigures, 'money'> {
  readonly words: QuoteTexts
  readonly rights: RightTexts
  readonly money: (minor: number) => string
}

/** What one looks for first: how many spins, what they cost, and when they are there. */
export function glance(db: Db, ways: readonly Quote[], job: Job, { words, money, day }: QuoteWriter): Glance {
  const totals = ways.map(({ totalMinor }) => totalMinor)
  const [low, high] = [Math.min(...totals), Math.max(...totals)]
  const spins = spinCount(db, job.id)
  const dueDay = ways[0]?.dueDay ?? job.dueDay
  return {
    kind: 'glance',
    figures: [
      { label: job.title, value: words.spinCount(spins) },
      { label: words.totalWithTax, value: low === high ? money(low) : `${money(low)} – ${money(high)}` },
      ...(dueDay === null ? [] : [{ label: words.dueDay, value: day(dueDay) }]),
    ],
  }
}

/** Every deliverable with its frames, size, files and, for a loop, how long it plays. */
export function whatTheyGet(db: Db, ways: readonly Quote[], job: Job, writer: QuoteWriter): readonly Block[] {
  const { words } = writer
  const brief = briefById(db, job.briefId)
  const spins = spinCount(db, job.id)
  const texts = ways.map((way) => framesText(way.rows, words.and))
  const table = brief.deliverables.map((wanted) => [
    words.kinds[wanted.kind],
    // A loop's frames are the turn's, which may be what is chosen.
    wanted.frames !== null
      ? words.pictures(wanted.frames, ways[0]?.rows.length ?? 1)
      : texts.every((each) => each === texts[0])
        ? words.wholeTurn(texts[0] ?? '', areFramesAlike(ways[0]?.rows ?? []))
        : words.asChosen,
    `${wanted.widthPx} × ${wanted.heightPx} px`,
    wanted.fileType.toUpperCase(),
    wanted.kind === 'loop'
      ? plays(
          wanted,
          ways.flatMap((way) => way.rows),
          writer,
        )
      : '',
  ])
  return [
    { kind: 'heading', text: words.what, aside: spins > 0 ? words.spins(spins) : '', keepWith: 60 },
    {
      kind: 'table',
      columns: words.getColumns.map((label, index) => ({
        label,
        width: [22, 22, 20, 10, 30][index] ?? 10,
        align: 'left',
      })),
      rows: table,
    },
    ...turnSentence(ways, writer),
  ]
}

/** How the turn looks, where there is nothing to choose: said once, under the table. */
function turnSentence(ways: readonly Quote[], writer: QuoteWriter): readonly Block[] {
  const [only, another] = ways
  if (!only || another) return []
  return [{ kind: 'paragraph', text: rowsSentence(only.rows, writer) }]
}

/** The ways side by side, where there are several. */
export function choices(db: Db, ways: readonly Quote[], job: Job, writer: QuoteWriter): readonly Block[] {
  if (ways.length < 2) return []
  const { words, money, number } = writer
  const loop = briefById(db, job.briefId).deliverables.find(({ kind }) => kind === 'loop')
  const heads = loop ? words.choiceColumns : words.choiceColumns.toSpliced(3, 1)
  const table: Table = {
    kind: 'table',
    columns: heads.map((label, index) => ({
      label,
      width: index === 0 ? 26 : 18,
      align: index < 1 ? 'left' : 'right',
    })),
    rows: ways.map((way) => [
      words.ways[way.way],
      turnsText(way.rows, words),
      looksText(way.rows, words),
      ...(loop ? [secondsText(way.rows, loop, number)] : []),
      money(way.netMinor),
      money(way.totalMinor),
    ]),
  }
  return [{ kind: 'heading', text: words.choice, aside: words.choiceAside, keepWith: 80 }, table]
}

/** The lines of one way and what they come to. */
export function pricesOf(db: Db, quote: Quote, isChoice: boolean, writer: QuoteWriter): readonly Block[] {
  const { words } = writer
  const table = lineTable(quoteLinesOf(db, quote.id), writer)
  const sums = totals(db, quote, writer)
  // A short price stays on one page with its sums; a long one begins where it is.
  const height = 30 + table.rows.length * 20 + sums.rows.length * 20
  return [
    {
      kind: 'heading',
      text: isChoice ? `${words.price}: ${words.ways[quote.way]}` : words.price,
      keepWith: height < 320 ? height : 60,
    },
    table,
    sums,
  ]
}

type PricedLine = Pick<QuotedLine, 'text' | 'quantityMilli' | 'priceMinor' | 'baseMilli' | 'netMinor'>

/** Lines with what each comes to. */
export function lineTable(lines: readonly PricedLine[], { words, money, quantity }: QuoteWriter): Table {
  return {
    kind: 'table',
    columns: words.columns.map((label, index) => ({
      label,
      width: [58, 12, 16, 18][index] ?? 10,
      align: index === 0 ? 'left' : 'right',
    })),
    rows: lines.map((line) => [
      line.text,
      quantity(line.quantityMilli),
      line.baseMilli === 1000
        ? money(line.priceMinor)
        : `${money(line.priceMinor)} / ${quantity(line.baseMilli)}`,
      money(line.netMinor),
    ]),
  }
}

function totals(db: Db, quote: Quote, writer: QuoteWriter): Totals {
  const { words, money, percent } = writer
  const { rows } = sumsOf(quoteTotals(quoteLinesOf(db, quote.id), listTaxRates(db)), writer)
  const deposit =
    quote.depositPpm === 0
      ? []
      : [
          {
            label: words.deposit(percent(quote.depositPpm)),
            value: money(shareMinor(quote.totalMinor, quote.depositPpm)),
          },
        ]
  return { kind: 'totals', rows: [...rows, ...deposit] }
}

/** What lines come to: before tax, tax by rate, and in all. */
export function sumsOf(
  of: Pick<QuoteFigures, 'netMinor' | 'taxes' | 'totalMinor'>,
  { words, money, percent }: QuoteWriter,
): Totals {
  const nameOf = ({ name, category, ratePpm, isNamedPart }: QuoteTax) => {
    if (isNamedPart) return `${name} ${percent(ratePpm)}`
    // A rate says itself; a category without one is named by its code of EN 16931-1 as well.
    return category === 'S' ? name : `${name} (${category})`
  }
  return {
    kind: 'totals',
    rows: [
      { label: words.net, value: money(of.netMinor) },
      ...of.taxes.map((tax) => ({
        label: words.tax(nameOf(tax), money(tax.baseMinor)),
        value: money(tax.taxMinor),
      })),
      { label: words.total, value: money(of.totalMinor), strong: true },
    ],
  }
}

/** Rights of use, assumptions, what is included, terms. */
export function closing(
  db: Db,
  quote: Quote,
  ofUse: readonly RightOfUse[],
  job: Job,
  studio: Studio,
  { words, rights, day }: QuoteWriter,
): readonly Block[] {
  const lines = quoteLinesOf(db, quote.id)
  const reasons = listTaxRates(db)
    .filter(({ id }) => lines.some(({ taxRateId }) => taxRateId === id))
    .flatMap(({ exemptionReason }) => (exemptionReason === null ? [] : [exemptionReason]))
  const included = [words.rounds(job.roundsIncluded), ...reasons]
  return [
    ...worded(rights.heading, rightLines(ofUse, rights, day).join('\n')),
    ...worded(words.assumptions, quote.assumptions),
    ...worded(words.terms, [...included, quote.terms ?? studio.terms ?? ''].filter(Boolean).join('\n')),
  ]
}

function worded(heading: string, text: string | null): readonly Block[] {
  return text ? [{ kind: 'paragraph', heading, text }] : []
}

/** Where the client says yes, by hand or in words. */
export function signature(
  ways: readonly Quote[],
  studio: Studio,
  { words, money, day }: QuoteWriter,
): Signature {
  const [quote] = ways
  if (!quote) throw new Error('A quote has at least one way.')
  const until = quote.validUntil === null ? [] : [words.validity(day(quote.validUntil))]
  return {
    kind: 'signature',
    heading: words.accept,
    text: [...until, words.howToAccept(quoteName(quote), studio.email)].join(' '),
    boxes:
      ways.length < 2
        ? []
        : ways.map(
            (way) =>
              `${words.ways[way.way]}, ${words.frames(framesText(way.rows, words.and))}: ${money(way.totalMinor)}`,
          ),
    lines: words.signLines,
  }
}

export function spinCount(db: Db, jobId: Id<'job'>): number {
  const row = prepared<[number], { n: number }>(
    db,
    'SELECT count(*) AS n FROM shoot WHERE job_id = ? AND cancelled_at IS NULL',
  ).get(jobId)
  return row?.n ?? 0
}
