import { daysText, halfDaysOf } from './dayLines.ts'
import type { QuoteBasis, QuoteInput } from './quote.ts'
import { casesWithoutPrice } from './quoteLines.ts'

/** What the person should know before a quote is sent, as sentences; empty when nothing is amiss. */
export function quoteNotices(basis: QuoteBasis, input: QuoteInput, benchP80Ms: number): readonly string[] {
  return [
    ...(basis.spins.length === 0 ? ['The job has no spins yet. Add its products under Spins.'] : []),
    ...(input.soldBy === 'days'
      ? dayNotices(basis, input, benchP80Ms)
      : [...(basis.priceListNotice === null ? [] : [basis.priceListNotice]), ...priceNotices(basis, input)]),
    ...takesNotice(basis),
    ...sizeNotice(basis),
    ...setNotice(basis, input),
  ]
}

function priceNotices(basis: QuoteBasis, input: QuoteInput): readonly string[] {
  if (input.byHand !== null) return []
  const missing = casesWithoutPrice(basis, input)
  if (missing.length === 0) return []
  const start = basis.priceList
    ? `The price list “${basis.priceList.name}” lacks ${missing.map(caseWords).join(' and ')}.`
    : `There is no price list in ${basis.currency}.`
  if (!basis.rates) {
    return [`${start} The studio’s hourly rates are in another currency, so type the prices by hand.`]
  }
  if (basis.rates.benchHourMinor === 0 && basis.rates.deskHourMinor === 0) {
    return [`${start} Enter hourly rates or a price list under Studio, or type the prices by hand.`]
  }
  return [
    `${start} Those prices are worked out from the 80 % time at the studio’s hourly rates: they cover the work and hold nothing more.`,
  ]
}

function dayNotices({ days, spins }: QuoteBasis, input: QuoteInput, benchP80Ms: number): readonly string[] {
  if (!days || input.byHand !== null || spins.length === 0) return []
  const asked = halfDaysOf(benchP80Ms, days.workingDayMs)
  const halfDays = input.halfDays ?? asked
  const lacking = [
    ...(halfDays > 1 && days.dayMinor === 0 ? ['a day'] : []),
    ...(halfDays % 2 === 1 && days.halfDayMinor === 0 ? ['half a day'] : []),
  ]
  return [
    ...(lacking.length === 0
      ? []
      : [`No price for ${lacking.join(' and ')} is set. Enter it under Studio, Money and terms.`]),
    ...(halfDays >= asked
      ? []
      : [`This sells ${daysText(halfDays)}; four times in five the bench needs up to ${daysText(asked)}.`]),
  ]
}

function caseWords({ kind, sizeClass, rows }: { kind: string; sizeClass: string; rows: number }): string {
  return `a ${kind} of a ${sizeClass} product with ${rows === 1 ? 'one row' : `${rows} rows`}`
}

function takesNotice({ spins, paceFrom }: QuoteBasis): readonly string[] {
  if (paceFrom.takes > 0 || spins.length === 0) return []
  return [
    'Bench time rests on the studio’s settings alone: no take has taught anything yet. Check them under Studio, Times.',
  ]
}

function sizeNotice(basis: QuoteBasis): readonly string[] {
  const unknown = basis.spins.filter(({ products }) =>
    products.some(({ isSizeKnown }) => !isSizeKnown),
  ).length
  if (unknown === 0) return []
  return [
    unknown === 1
      ? 'One spin holds a product of unknown size, counted as medium. Measure it, or ask the client.'
      : `${unknown} spins hold products of unknown size, counted as medium. Measure them, or ask the client.`,
  ]
}

function setNotice(basis: QuoteBasis, input: QuoteInput): readonly string[] {
  const largest = Math.max(
    0,
    ...basis.spins
      .filter(({ ownRows }) => ownRows === null)
      .flatMap(({ deliverables }) => deliverables.map(({ frames }) => frames ?? 0)),
  )
  const short = input.rows.findIndex(({ framesPerTurn }) => framesPerTurn < largest)
  if (short < 0) return []
  const which =
    new Set(input.rows.map(({ framesPerTurn }) => framesPerTurn)).size > 1 ? `row ${short + 1}` : 'a turn'
  return [
    `The brief asks for ${largest} frames of one turn, but ${which} has ${input.rows[short]?.framesPerTurn}. Shoot more frames, or agree a smaller set.`,
  ]
}
