import type { Answers, Asks } from '../../main/api/types.ts'
import { mmFromUm10, um10FromMm } from '../../main/trade/length.ts'
import {
  type QuoteBasis,
  type QuoteFigures,
  type QuoteInput,
  type QuoteLine,
  type QuoteLineKind,
  type SoldBy,
  workOutQuote,
} from '../../main/trade/quote.ts'
import { Refusal } from '../../main/trade/refusal.ts'
import { type TurnRow, twinRows, twinSentence } from '../../main/trade/turn/rows.ts'
import { freshKey, nextRow, type RowValue } from '../briefs/briefValue.ts'

export type JobQuotes = Answers['quotes']['ofJob']
export type QuoteOfJob = JobQuotes[number]
export type QuoteAnswer = Answers['quotes']['basis']
export type Way = QuoteOfJob['quote']['way']
type Save = Asks['quotes']['save']

/** A line as typed: a figure is null while its field is empty; `key` holds its place while others go. */
export interface TypedLine extends Omit<QuoteLine, 'quantityMilli' | 'priceMinor'> {
  readonly key: number
  readonly quantityMilli: number | null
  readonly priceMinor: number | null
}

/** A quote as typed. Lengths in tenths of a micrometre, money in minor units, shares in ppm. */
export interface TypedQuote {
  readonly rimUm10: number | null
  /** The step asked for; null where the frames were typed and the step follows from them. */
  readonly stepUm10: number | null
  readonly rows: readonly RowValue[]
  readonly people: QuoteInput['people']
  readonly soldBy: SoldBy
  /** Bench days to be sold, in tenths of a day; null while they follow from the bench time. */
  readonly dayTenths: number | null
  readonly discountPpm: number | null
  readonly isRush: boolean
  readonly depositPpm: number | null
  readonly taxRateId: number
  /** All lines while they are typed by hand; null while they are worked out. */
  readonly byHand: readonly TypedLine[] | null
  readonly fees: readonly TypedLine[]
  readonly dueDay: string
  readonly terms: string
  readonly assumptions: string
}

let lastKey = 0

/** Gives a line a key of its own. */
export function keyed(line: QuoteLine): TypedLine {
  lastKey += 1
  return { ...line, key: lastKey }
}

/** Gives a row a key of its own. */
export function keyedRow(row: TurnRow): RowValue {
  return { ...row, key: freshKey() }
}

/** So many rows: further ones follow the last, those too many go from the end. */
export function withRowCount(rows: readonly RowValue[], count: number): readonly RowValue[] {
  if (rows.length >= count) return rows.slice(0, count)
  return withRowCount([...rows, nextRow(rows, count - rows.length)], count)
}

/** A new line of its kind, to be typed. */
export function newLine(kind: QuoteLineKind, taxRateId: number): TypedLine {
  return {
    ...keyed({
      kind,
      text: '',
      quantityMilli: 1000,
      unit: kind === 'spins' ? 'C62' : 'LS',
      priceMinor: 0,
      baseMilli: 1000,
      taxRateId,
      shootIds: [],
      why: null,
    }),
    priceMinor: null,
  }
}

/** What the form starts with: a kept draft, or the start the studio proposes. */
export function typedFrom(draft: QuoteOfJob | undefined, answer: QuoteAnswer): TypedQuote {
  const input: QuoteInput = draft?.input ?? answer.start.input
  const words = draft?.quote ?? answer.start.words
  const { byHand, fees, rows, halfDays, ...rest } = input
  return {
    ...rest,
    rows: rows.map(keyedRow),
    dayTenths: halfDays === null ? null : halfDays * tenthsOfHalf,
    rimUm10: um10(words.rimMm),
    stepUm10: um10(words.stepMm),
    byHand: byHand?.map(keyed) ?? null,
    fees: fees.map(keyed),
    dueDay: words.dueDay ?? '',
    terms: words.terms ?? '',
    assumptions: words.assumptions ?? '',
  }
}

const tenthsOfHalf = 5

/** Half days of the days typed; one that is no half is no whole number, and refused where figures are worked out. */
function halfDaysOf({ dayTenths }: Pick<TypedQuote, 'dayTenths'>): number | null {
  return dayTenths === null ? null : dayTenths / tenthsOfHalf
}

const um10 = (lengthMm: number | null) => (lengthMm === null ? null : um10FromMm(lengthMm, 'The length'))
const mm = (lengthUm10: number | null) => (lengthUm10 === null ? null : mmFromUm10(lengthUm10))

/** The figures' input, once every field that decides them can be read. */
export function inputOf(typed: TypedQuote): QuoteInput | undefined {
  const { people, soldBy, discountPpm, depositPpm, isRush, taxRateId } = typed
  const halfDays = halfDaysOf(typed)
  const rows = readRows(typed.rows)
  if (rows === undefined || discountPpm === null || depositPpm === null) return undefined
  const byHand = typed.byHand && readLines(typed.byHand)
  const fees = readLines(typed.fees)
  if (byHand === undefined || fees === undefined) return undefined
  return { rows, people, soldBy, halfDays, discountPpm, isRush, depositPpm, taxRateId, byHand, fees }
}

/** Rows as typed, once every figure of them can be read. */
export function readRows(rows: readonly RowValue[]): readonly TurnRow[] | undefined {
  const read: TurnRow[] = []
  for (const { viewAngleMdeg, framesPerTurn, overlapFrames } of rows) {
    if (viewAngleMdeg === null || framesPerTurn === null || overlapFrames === null) return undefined
    read.push({ viewAngleMdeg, framesPerTurn, overlapFrames })
  }
  return read
}

function readLines(lines: readonly TypedLine[]): readonly QuoteLine[] | undefined {
  const read: QuoteLine[] = []
  for (const { key: _, quantityMilli, priceMinor, ...line } of lines) {
    if (quantityMilli === null || priceMinor === null) return undefined
    read.push({ ...line, quantityMilli, priceMinor })
  }
  return read
}

/** What is sent to be kept. Empty figures go as they are, so that the studio names the field. */
export function saveOf(jobId: number, way: Save['way'], typed: TypedQuote): Save {
  const { byHand, fees, rows, dayTenths, rimUm10, stepUm10, dueDay, terms, assumptions, ...input } = typed
  const plain = (lines: readonly TypedLine[]) => lines.map(({ key: _, ...line }) => line)
  return {
    jobId,
    way,
    input: {
      ...input,
      halfDays: halfDaysOf({ dayTenths }),
      rows: rows.map(({ key: _, ...row }) => row),
      byHand: byHand && plain(byHand),
      fees: byHand ? [] : plain(fees),
    },
    words: {
      rimMm: mm(rimUm10),
      stepMm: mm(stepUm10),
      dueDay: dueDay || null,
      terms: terms || null,
      assumptions: assumptions || null,
    },
  } as Save
}

/** Another way, to be kept: its own input, with the words on the paper as they are typed. */
export function saveInput(jobId: number, way: Save['way'], input: QuoteInput, typed: TypedQuote): Save {
  const { words } = saveOf(jobId, way, { ...typed, stepUm10: null })
  return { jobId, way, input, words } as Save
}

/** The figures of what is typed, or the sentence why there are none. */
export function figuresOf(
  basis: QuoteBasis,
  typed: TypedQuote,
): { readonly figures?: QuoteFigures; readonly sentence?: string } {
  const input = inputOf(typed)
  if (!input) return {}
  const twins = twinRows(input.rows)
  if (twins) return { sentence: twinSentence(twins) }
  try {
    return { figures: workOutQuote(basis, input) }
  } catch (error) {
    if (error instanceof Refusal) return { sentence: error.message }
    throw error
  }
}
