import { formatDecimal } from './decimal.ts'
import { formatPercent } from './money.ts'
import type { DeliverableKind, SpinCase } from './price.ts'
import type { SizeClass } from './product.ts'

/** Languages a client's papers are written in. */
export type PaperLanguage = 'en' | 'de'

interface QuoteWords {
  readonly kinds: Readonly<Record<DeliverableKind, string>>
  readonly sizes: Readonly<Record<SizeClass, string>>
  readonly finish: (name: string) => string
  readonly rows: (count: number) => string
  readonly following: string
  readonly day: string
  readonly halfDay: string
  readonly finishing: (name: string) => string
  readonly volume: (spins: number) => string
  readonly rush: (percent: string) => string
  readonly discount: (percent: string) => string
  readonly minimum: string
}

const words: Record<PaperLanguage, QuoteWords> = {
  en: {
    kinds: { loop: 'Loop video', 'frame set': 'Frame set', stills: 'Stills' },
    sizes: { small: 'small product', medium: 'medium product', large: 'large product' },
    finish: (name) => `finish: ${name}`,
    rows: (count) => `${count} rows`,
    following: 'further product of a family',
    day: 'Bench day',
    halfDay: 'Half bench day',
    finishing: (name) => `Finishing of delivered pictures: ${name}`,
    volume: (spins) => `Volume break for ${spins} spins`,
    rush: (percent) => `Rush surcharge of ${percent}`,
    discount: (percent) => `Discount of ${percent}`,
    minimum: 'Filled up to the minimum order',
  },
  de: {
    kinds: { loop: 'Loop-Video', 'frame set': 'Bildsatz', stills: 'Standbilder' },
    sizes: { small: 'kleines Produkt', medium: 'mittelgroßes Produkt', large: 'großes Produkt' },
    finish: (name) => `Bearbeitung: ${name}`,
    rows: (count) => `${count} Reihen`,
    following: 'weiteres Produkt einer Familie',
    day: 'Aufnahmetag',
    halfDay: 'Halber Aufnahmetag',
    finishing: (name) => `Bearbeitung gelieferter Bilder: ${name}`,
    volume: (spins) => `Mengenstaffel für ${spins} Spins`,
    rush: (percent) => `Eilzuschlag ${percent}`,
    discount: (percent) => `Nachlass ${percent}`,
    minimum: 'Auffüllung zum Mindestauftrag',
  },
}

/** What a line of spins says on the client's paper: never frames or seconds, which are the studio's own. */
export function spinLineText(of: SpinCase, finishName: string | undefined, language: PaperLanguage): string {
  const w = words[language]
  return [
    w.kinds[of.kind],
    w.sizes[of.sizeClass],
    ...(finishName === undefined ? [] : [w.finish(finishName)]),
    ...(of.rows > 1 ? [w.rows(of.rows)] : []),
    ...(of.isFirstOfFamily ? [] : [w.following]),
  ].join(', ')
}

/** What a line of days at the bench says on the client's paper. */
export function dayLineText(isHalf: boolean, language: PaperLanguage): string {
  return isHalf ? words[language].halfDay : words[language].day
}

/** What a line of finishing by the delivered frame says on the client's paper. */
export function finishingLineText(finishName: string, language: PaperLanguage): string {
  return words[language].finishing(finishName)
}

/** What a line that raises or lowers the sum of the spins says on the client's paper. */
export function adjustmentText(
  kind: 'volume' | 'rush' | 'discount' | 'minimum',
  of: { readonly spins: number; readonly rushPpm: number; readonly discountPpm: number },
  language: PaperLanguage,
): string {
  const w = words[language]
  switch (kind) {
    case 'volume':
      return w.volume(of.spins)
    case 'rush':
      return w.rush(formatPercent(of.rushPpm))
    case 'discount':
      return w.discount(formatPercent(of.discountPpm))
    case 'minimum':
      return w.minimum
  }
}

/** A stretch of time as the studio says it: '8 h 48', '12 min'; whole minutes, rounded. */
export function hoursAndMinutes(ms: number): string {
  const minutes = Math.round(ms / 60_000)
  if (minutes < 60) return `${minutes} min`
  return `${Math.floor(minutes / 60)} h ${String(minutes % 60).padStart(2, '0')}`
}

/** Seconds per step without rounding: 5400 ms is '5.4 s'. */
export function stepSeconds(stepMs: number): string {
  return `${formatDecimal(stepMs, 3)} s`
}
