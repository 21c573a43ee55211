import { formatDecimal } from './decimal.ts'
import { clientFigures, type PaperReader } from './paperFigures.ts'
import type { SpinCase } from './price.ts'
import { type PaperLanguage, paperTexts } from './texts/paperTexts.ts'

/** What a line of spins says on the client's paper: never frames or seconds, which are the studio's own. */
export function spinLineText(of: SpinCase, finishName: string | undefined, language: PaperLanguage): string {
  const w = paperTexts[language].lines
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
  return isHalf ? paperTexts[language].lines.halfDay : paperTexts[language].lines.day
}

/** What a line of finishing by the delivered frame says on the client's paper. */
export function finishingLineText(finishName: string, language: PaperLanguage): string {
  return paperTexts[language].lines.finishing(finishName)
}

/** What a line that raises or lowers the sum of the spins says on the client's paper. */
export function adjustmentText(
  kind: 'volume' | 'rush' | 'discount' | 'minimum',
  of: { readonly spins: number; readonly rushPpm: number; readonly discountPpm: number },
  reader: PaperReader,
): string {
  const w = paperTexts[reader.language].lines
  const { percent } = clientFigures(reader)
  switch (kind) {
    case 'volume':
      return w.volume(of.spins)
    case 'rush':
      return w.rush(percent(of.rushPpm))
    case 'discount':
      return w.discount(percent(of.discountPpm))
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
