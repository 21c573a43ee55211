import { costMinor } from './cost.ts'
import { minorDigits } from './currency.ts'
import { lineNetMinor } from './money.ts'
import { adjustedSum } from './price.ts'
import type { QuoteBasis, QuoteFinish, QuoteInput, QuoteLine } from './quote.ts'
import { finishedFrames, type QuoteTime } from './quoteTime.ts'
import { adjustmentText, dayLineText, finishingLineText, hoursAndMinutes } from './quoteWords.ts'
import { Refusal } from './refusal.ts'

/** What half a day and a day at the bench are sold for, and how much of a day can be worked there. */
export interface DayPrices {
  readonly halfDayMinor: number
  readonly dayMinor: number
  readonly workingDayMs: number
}

/** Half days that a bench time fills: begun ones count, and the shortest job is half a day. */
export function halfDaysOf(benchMs: number, workingDayMs: number): number {
  return Math.max(1, Math.ceil((2 * benchMs) / workingDayMs))
}

/** What a quote comes to before tax if it is sold by the day, and for how many half days; null where it cannot be. */
export interface ByDays {
  readonly halfDays: number
  readonly netMinor: number
}

/** Half days as one says them: '3½ days', 'half a day', '1 day'. */
export function daysText(halfDays: number): string {
  if (halfDays === 1) return 'half a day'
  const days = `${Math.floor(halfDays / 2)}${halfDays % 2 === 1 ? '½' : ''}`
  return halfDays === 2 ? '1 day' : `${days} days`
}

/**
 * The lines of a quote that is sold by the day: bench days and a half one for its 80 % bench time, or as many as the
 * person set; finishing by the delivered frame; rush and discount on both; the fees; and the minimum. Volume breaks
 * are of the price list and not counted. Bought-in finishing is sold for what it costs, our own at the desk's hourly
 * rate: what it is to earn is a fee or a line by hand.
 * Refuses a job in another currency than the studio's day prices, and days that are no halves.
 */
export function dayLines(basis: QuoteBasis, input: QuoteInput, time: QuoteTime): readonly QuoteLine[] {
  if (basis.spins.length === 0) return input.fees
  const days = dayPricesOf(basis)
  const sold = [...benchDays(basis, days, input, time.bench.p80Ms), ...finishing(basis, input)]
  const rushPpm = input.isRush ? basis.rushPpm : 0
  const { beforeFees, minimum } = adjustedSum(netOf(sold), netOf(input.fees), {
    rushPpm,
    discountPpm: input.discountPpm,
    minimumMinor: basis.minimumMinor,
  })
  const adjustment = ({ kind, quantityMilli, priceMinor }: Adjustment): QuoteLine => ({
    kind,
    text: adjustmentText(kind, { spins: basis.spins.length, rushPpm, discountPpm: input.discountPpm }, basis),
    quantityMilli,
    unit: 'LS',
    priceMinor,
    baseMilli: 1000,
    taxRateId: input.taxRateId,
    shootIds: [],
    why: null,
  })
  return [...sold, ...beforeFees.map(adjustment), ...input.fees, ...minimum.map(adjustment)]
}

type Adjustment = ReturnType<typeof adjustedSum>['beforeFees' | 'minimum'][number]

function dayPricesOf({ days, currency }: QuoteBasis): DayPrices {
  if (days) return days
  throw new Refusal(
    'no-day-prices',
    `The studio’s day prices are in another currency than this job, ${currency}. Sell it by the price list, or type the lines by hand.`,
    { field: 'soldBy' },
  )
}

function netOf(lines: readonly QuoteLine[]): number {
  return lines.reduce(
    (sum, line) => sum + lineNetMinor(line.quantityMilli, line.priceMinor, line.baseMilli),
    0,
  )
}

/** Whole days, and the half one that is left. */
function benchDays(
  basis: QuoteBasis,
  days: DayPrices,
  input: QuoteInput,
  benchP80Ms: number,
): readonly QuoteLine[] {
  const asked = halfDaysOf(benchP80Ms, days.workingDayMs)
  const halfDays = input.halfDays ?? asked
  if (!Number.isSafeInteger(halfDays) || halfDays < 1) {
    throw new Refusal(
      'bad-days',
      'Days at the bench are whole or half ones, and at least half a day. Enter such as 2.5, or leave the field empty.',
      { field: 'halfDays' },
    )
  }
  const need = `80 % of the time under ${hoursAndMinutes(benchP80Ms)}, at ${hoursAndMinutes(days.workingDayMs)} a day: ${daysText(asked)}`
  const why = input.halfDays === null ? need : `set by hand; ${need}`
  const line = (count: number, isHalf: boolean): QuoteLine => ({
    kind: 'days',
    text: dayLineText(isHalf, basis.language),
    quantityMilli: count * 1000,
    // Half a day is a piece of its own: its price is not half of a day's.
    unit: isHalf ? 'C62' : 'DAY',
    priceMinor: isHalf ? days.halfDayMinor : days.dayMinor,
    baseMilli: 1000,
    taxRateId: input.taxRateId,
    shootIds: basis.spins.map(({ shootId }) => shootId),
    why,
  })
  const whole = Math.floor(halfDays / 2)
  return [...(whole > 0 ? [line(whole, false)] : []), ...(halfDays % 2 === 1 ? [line(1, true)] : [])]
}

const perFrames = 100

/** A line for each finish class, and for each number of frames a spin, so that a delivered spin is billed exactly. */
function finishing(basis: QuoteBasis, input: QuoteInput): readonly QuoteLine[] {
  const framesOf = finishedFrames(basis, input)
  const groups = new Map<string, { finish: QuoteFinish; frames: number; shootIds: number[] }>()
  for (const spin of basis.spins) {
    const finish = basis.finishClasses.find(({ id }) => id === spin.finishClassId)
    const frames = framesOf(spin)
    if (!finish || frames === 0 || per100Minor(finish, basis) === 0) continue
    const key = `${finish.id} ${frames}`
    const group = groups.get(key) ?? { finish, frames, shootIds: [] }
    group.shootIds.push(spin.shootId)
    groups.set(key, group)
  }
  return [...groups.values()].map(({ finish, frames, shootIds }) => ({
    kind: 'finishing',
    text: finishingLineText(finish.name, basis.language),
    quantityMilli: shootIds.length * frames * 1000,
    unit: 'C62',
    priceMinor: per100Minor(finish, basis),
    baseMilli: perFrames * 1000,
    taxRateId: input.taxRateId,
    shootIds,
    why: `${shootIds.length} ${shootIds.length === 1 ? 'spin' : 'spins'} × ${frames} delivered frames, ${finish.inHouse ? 'at the desk’s hourly rate' : 'at what they cost'}`,
  }))
}

/** What a hundred frames are sold for; our own rounded up to whole units of the currency, never under the desk's rate. */
function per100Minor(finish: QuoteFinish, { rates, currency }: QuoteBasis): number {
  if (!finish.inHouse) return finish.frameMinorPer100
  if (!rates) return 0
  const unit = 10 ** minorDigits(currency)
  return Math.ceil(costMinor(0, finish.frameMs * perFrames, rates, 0) / unit) * unit
}
