import { minorDigits } from './currency.ts'
import { type QuoteBasis, type QuoteInput, type QuoteLine, workOutQuote } from './quote.ts'
import { paperTexts } from './texts/paperTexts.ts'
import { framesText, mostFramesPerTurn, type TurnRow } from './turn/rows.ts'

export type OtherWay = 'coarser' | 'smoother'

const fewestFrames = 12

/**
 * The rows that another way of a job starts with: each with half or twice its frames, or as near to that as a turn
 * has them, so that no row overtakes another; null where no row can have half or twice. Half of an odd number is
 * rounded up; a frame set that was asked for is never cut. Overlap as a part of the turn stays that part; a few
 * closing frames stay as they are.
 */
export function otherWayRows(
  way: OtherWay,
  rows: readonly TurnRow[],
  largestSet: number,
): readonly TurnRow[] | null {
  const fewest = Math.max(fewestFrames, largestSet)
  const wish = (frames: number) => (way === 'coarser' ? Math.ceil(frames / 2) : frames * 2)
  const within = (frames: number) =>
    way === 'coarser'
      ? Math.min(frames, Math.max(fewest, wish(frames)))
      : Math.min(mostFramesPerTurn, wish(frames))
  if (rows.every(({ framesPerTurn }) => within(framesPerTurn) !== wish(framesPerTurn))) return null
  return rows.map((row) => turnedIn(row, within(row.framesPerTurn)))
}

function turnedIn(row: TurnRow, framesPerTurn: number): TurnRow {
  const { overlapFrames } = row
  const part = Math.round((overlapFrames * framesPerTurn) / row.framesPerTurn)
  return {
    ...row,
    framesPerTurn,
    overlapFrames: overlapFrames <= 3 ? overlapFrames : Math.min(mostFramesPerTurn, part),
  }
}

/**
 * The input of another way of the same quote: everything as asked, but the rows. A price list knows no frames,
 * so what the way costs less or more at the 80 % time is put on a line of its own, in whole units of the currency
 * and never to the studio's loss; the person may change it. No line where the cost is not known.
 */
export function otherWay(
  basis: QuoteBasis,
  asked: QuoteInput,
  way: OtherWay,
  rows: readonly TurnRow[],
): QuoteInput {
  const turned = { ...asked, rows }
  // Days follow from the bench time by themselves.
  if (asked.soldBy === 'days' && asked.byHand === null) return { ...turned, halfDays: null }
  const before = workOutQuote(basis, asked).cost?.p80Minor ?? 0
  const after = workOutQuote(basis, turned).cost?.p80Minor ?? 0
  const unit = 10 ** minorDigits(basis.currency)
  const units = way === 'coarser' ? Math.floor((before - after) / unit) : Math.ceil((after - before) / unit)
  if (units <= 0) return turned
  const line: QuoteLine = {
    kind: 'fee',
    text: paperTexts[basis.language].lines.ways[way],
    quantityMilli: way === 'coarser' ? -1000 : 1000,
    unit: 'LS',
    priceMinor: units * unit,
    baseMilli: 1000,
    taxRateId: asked.taxRateId,
    shootIds: [],
    why: `what ${framesText(rows)} instead of ${framesText(asked.rows)} frames a turn ${way === 'coarser' ? 'save' : 'cost'} at the 80 % time`,
  }
  return asked.byHand === null
    ? { ...turned, fees: [...asked.fees, line] }
    : { ...turned, byHand: [...asked.byHand, line] }
}
