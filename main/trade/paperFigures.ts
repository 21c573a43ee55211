import { formatDecimal } from './decimal.ts'
import { formatMoney } from './money.ts'
import type { PaperLanguage } from './texts/paperTexts.ts'

/** Whom a paper is written to: its language, and the country whose way of writing figures it follows. */
export interface PaperReader {
  readonly language: PaperLanguage
  /** ISO 3166-1, two letters. */
  readonly country: string
}

/** How figures are written on a paper, by the conventions of Unicode CLDR. */
export interface PaperFigures {
  readonly locale: string
  readonly money: (minor: number, currency: string) => string
  /** A day with its month in words, so that it cannot be read in two ways: '3 May 2026', '3. Mai 2026'. */
  readonly day: (day: string) => string
  /** A stretch of days, both within, what they share said once: '1 – 31 May 2026'. */
  readonly days: (from: string, to: string) => string
  readonly number: (value: number, places: number) => string
  /** A quantity of thousandths: 2500 is '2.5' or '2,5'. */
  readonly quantity: (milli: number) => string
  /** Parts per million as a percentage of up to four places: 77,000 is '7.7%' or '7,7 %'. */
  readonly percent: (ppm: number) => string
}

// Where a language is written in a country by no conventions of its own, those of a country that stands for it.
const standIns: Readonly<Record<PaperLanguage, string>> = { en: 'en-GB', de: 'de-DE' }

/**
 * The way of writing for a language in a country: 'de-AT', 'en-US'. For English in countries where CLDR writes money
 * with another decimal mark than quantities (as in Germany, '€1,234.50' beside '1,5') it is 'en-GB': on one paper a
 * mark must mean one thing.
 */
export function paperLocale({ language, country }: PaperReader): string {
  const locale = `${language}-${country}`
  const marks = new Set(tried.map((options) => decimalMark(locale, options)))
  return marks.size === 1 ? locale : standIns[language]
}

const tried: readonly Intl.NumberFormatOptions[] = [
  {},
  { style: 'percent', maximumFractionDigits: 1 },
  { style: 'currency', currency: 'EUR' },
  { style: 'currency', currency: 'CHF' },
]

function decimalMark(locale: string, options: Intl.NumberFormatOptions): string | undefined {
  const parts = new Intl.NumberFormat(locale, options).formatToParts(0.123)
  return parts.find(({ type }) => type === 'decimal')?.value
}

const known = new Map<string, PaperFigures>()

/** The figures of papers to a client; kept, because making formats is far dearer than using them. */
export function clientFigures(reader: PaperReader): PaperFigures {
  const key = `${reader.language}-${reader.country}`
  const figures = known.get(key) ?? figuresIn(paperLocale(reader))
  known.set(key, figures)
  return figures
}

function figuresIn(locale: string): PaperFigures {
  const days = new Intl.DateTimeFormat(locale, {
    day: 'numeric',
    month: 'long',
    year: 'numeric',
    timeZone: 'UTC',
  })
  const quantities = new Intl.NumberFormat(locale, { maximumFractionDigits: 3 })
  const percents = new Intl.NumberFormat(locale, { style: 'percent', maximumFractionDigits: 4 })
  return {
    locale,
    money: (minor, currency) => formatMoney(minor, currency, locale),
    day: (day) => days.format(new Date(day)),
    days: (from, to) => days.formatRange(new Date(from), new Date(to)),
    number: (value, places) => new Intl.NumberFormat(locale, { maximumFractionDigits: places }).format(value),
    quantity: (milli) => trueMinus(quantities.format(exact(milli, 3))),
    percent: (ppm) => trueMinus(percents.format(exact(ppm, 6))),
  }
}

/** The number as text, which `format` takes digit by digit; as a number it would pass through floating point. */
function exact(units: number, places: number): Intl.StringNumericLiteral {
  return formatDecimal(units, places).replaceAll(',', '').replace('−', '-') as Intl.StringNumericLiteral
}

function trueMinus(text: string): string {
  return text.replace('-', '−')
}
