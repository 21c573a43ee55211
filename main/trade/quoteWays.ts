import { minorDigits } from './currency.ts'
import { type QuoteBasis, type QuoteInput, type QuoteLine, workOutQuote } from './quote.ts'
import type { PaperLanguage } from './quoteWords.ts'

export type OtherWay = 'coarser' | 'smoother'

const text: Readonly<Record<PaperLanguage, Readonly<Record<OtherWay, string>>>> = {
  en: { coarser: 'Fewer frames a turn', smoother: 'More frames a turn' },
  de: { coarser: 'Weniger Bilder je Umdrehung', smoother: 'Mehr Bilder je Umdrehung' },
}

const fewestFrames = 12
const mostFrames = 1440

/**
 * Where another way of a job starts: half or twice the frames, or null where a turn has none so few or so many.
 * Half of an odd number is rounded up; a frame set that was asked for is never cut.
 */
export function otherWayFrames(way: OtherWay, framesPerTurn: number, largestSet: number): number | null {
  const frames = way === 'coarser' ? Math.ceil(framesPerTurn / 2) : framesPerTurn * 2
  return frames < Math.max(fewestFrames, largestSet) || frames > mostFrames ? null : frames
}

/**
 * The input of another way of the same quote: everything as asked, but the frames. A price list knows no frames,
 * so what the way costs less or more at the 80 % time is put on a line of its own, in whole units of the currency
 * and never to the studio's loss; the person may change it. No line where the cost is not known.
 */
export function otherWay(
  basis: QuoteBasis,
  asked: QuoteInput,
  way: OtherWay,
  framesPerTurn: number,
): QuoteInput {
  const turned = {
    ...asked,
    framesPerTurn,
    // Overlap as a part of the turn stays that part; a few closing frames stay as they are.
    overlapFrames:
      asked.overlapFrames <= 3
        ? asked.overlapFrames
        : Math.round((asked.overlapFrames * framesPerTurn) / asked.framesPerTurn),
  }
  const before = workOutQuote(basis, asked).cost?.p80Minor ?? 0
  const after = workOutQuote(basis, turned).cost?.p80Minor ?? 0
  const unit = 10 ** minorDigits(basis.currency)
  const units = way === 'coarser' ? Math.floor((before - after) / unit) : Math.ceil((after - before) / unit)
  if (units <= 0) return turned
  const line: QuoteLine = {
    kind: 'fee',
    text: text[basis.language][way],
    quantityMilli: way === 'coarser' ? -1000 : 1000,
    unit: 'LS',
    priceMinor: units * unit,
    baseMilli: 1000,
    taxRateId: asked.taxRateId,
    shootIds: [],
    why: `what ${framesPerTurn} instead of ${asked.framesPerTurn} frames a turn ${way === 'coarser' ? 'save' : 'cost'} at the 80 % time`,
  }
  return asked.byHand === null
    ? { ...turned, fees: [...asked.fees, line] }
    : { ...turned, byHand: [...asked.byHand, line] }
}
